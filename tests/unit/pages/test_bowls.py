"""The bowls of a batch that one bowl does not hold, by their headings."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path
from typing import Any

import pytest

from running import copy_recipes, run_eggfold


@pytest.mark.parametrize(
    ("eggs", "headings"),
    [
        (
            "41",
            [
                "BOWL 1 OF 2  21 eggs",
                "BOWL 2 OF 2  20 eggs",
            ],
        ),
        (
            "62",
            [
                "BOWLS 1 and 2 OF 3  each 21 eggs",
                "BOWL 3 OF 3  20 eggs",
            ],
        ),
    ],
)
def test_each_size_of_bowl_says_which_it_is(eggs: str, headings: list[str], tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    args = ["batch", "recipes/osierfen-caraway.yaml", "--as", "freebie", "--eggs", eggs]
    lines = run_eggfold(args, tmp_path).stdout.splitlines()
    assert [line.partition("   ")[0] for line in lines if line.startswith("BOWL")] == headings


def test_bowls_of_one_size_stand_once_and_are_written_down_together(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    args = ["batch", "recipes/osierfen-caraway.yaml", "--as", "freebie", "--eggs", "40", "--full"]
    shown = run_eggfold(args, tmp_path).stdout
    assert shown.count("\nBOWL") == 1
    assert "BOWLS 1 and 2 OF 2  each 20 eggs" in shown
    assert shown.count("Used in these 2 bowls") == 1
    assert "WRITE DOWN  of all 2 bowls together, for the notebook" in shown


def test_scoops_fill_the_tub_in_whole_steps(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    args = ["batch", "recipes/osierfen-caraway.yaml", "--as", "freebie", "--eggs", "6"]
    shown = run_eggfold(args, tmp_path).stdout
    scoops = [
        [int(scoop) for scoop in re.findall(r"\[ \] \+(\d+) g", line)]
        for line in shown.splitlines()
        if "[ ] +" in line
    ]
    powder = batch_of(args, tmp_path)["powder"]
    at_once = int(powder["base_mix_low_g"] // 10 * 10)
    assert f"[ ] {at_once} g  at once" in shown
    # what goes in at once, and the scoops, reach what is expected and the high end, each to 10 g
    assert at_once + sum(scoops[0]) == pytest.approx(powder["base_mix_g"], abs=5)
    whole = at_once + sum(map(sum, scoops))
    assert 0 <= whole - powder["base_mix_high_g"] < 10
    assert [len(row) for row in scoops] == [3, 3]


def batch_of(args: list[str], folder: Path) -> dict[str, Any]:
    (batch,) = json.loads(run_eggfold([*args, "--format", "json"], folder).stdout)["batches"]
    found: dict[str, Any] = batch
    return found


def test_the_last_line_of_a_card_notes_its_bowl(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    args = ["batch", "recipes/osierfen-caraway.yaml", "--as", "freebie", "--eggs", "4"]
    _, command, *_ = run_eggfold(args, tmp_path).stdout.partition("AFTERWARDS")[2].splitlines()
    _, *words = shlex.split(command.replace("?", "90g"))
    noted = run_eggfold(words, tmp_path)
    assert noted.exit == 0, noted.stderr
    notebook = (tmp_path / "recipes" / "notebook.yaml").read_text("utf-8")
    tub = re.search(r"--tub (\S+)", command)
    assert tub
    before = re.search(r"before: (\S+) (k?g)", notebook)
    assert before
    assert f"{before[1]}{before[2]}" == tub[1]
    assert "after: 90 g" in notebook
