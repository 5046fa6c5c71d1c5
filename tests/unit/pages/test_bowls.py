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
