"""The bowls of a batch that one bowl does not hold, by their headings."""

from __future__ import annotations

from pathlib import Path

import pytest

from running import copy_recipes, run_eggfold


@pytest.mark.parametrize(
    ("eggs", "headings"),
    [
        (
            "41",
            [
                "THE FIRST BOWL  21 eggs, bowl 1 of 2",
                "THE LAST BOWL  20 eggs, bowl 2 of 2",
            ],
        ),
        (
            "62",
            [
                "EACH OF 2 BOWLS  21 eggs, bowls 1 to 2 of 3",
                "THE LAST BOWL  20 eggs, bowl 3 of 3",
            ],
        ),
    ],
)
def test_each_size_of_bowl_says_which_it_is(eggs: str, headings: list[str], tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    args = ["batch", "recipes/osierfen-caraway.yaml", "--as", "freebie", "--eggs", eggs]
    lines = run_eggfold(args, tmp_path).stdout.splitlines()
    assert [line for line in lines if " BOWL" in line and ", bowl" in line] == headings


def test_the_top_of_a_split_batch_measures_nothing_at_once(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    args = ["batch", "recipes/osierfen-caraway.yaml", "--as", "freebie", "--eggs", "40", "--why"]
    shown = run_eggfold(args, tmp_path).stdout
    top, _, rest = shown.partition("EACH OF 2 BOWLS")
    words = " ".join(top.split())
    assert "at once" not in words
    assert "scale" not in words
    assert "this batch" in top
    assert "this bowl" not in top
    assert rest.count("Used in these 2 bowls") == 2
    assert "WRITE DOWN  of all 2 bowls together, for: eggfold note rolled" in rest
