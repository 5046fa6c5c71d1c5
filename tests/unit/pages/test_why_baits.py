"""The sums of how many baits a batch gives."""

from __future__ import annotations

from typing import TYPE_CHECKING

from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path


def test_a_count_that_rounds_up_to_the_next_whole_bait_is_just_under_it(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    command = ["batch", "recipes/osierfen-millet.yaml", "--as", "freebie", "--eggs", "11", "--why"]
    text = " ".join(run_eggfold(command, tmp_path).stdout.split())
    assert "= 555, just under, so 554 whole" in text
    assert "= 463.24, so 463 whole" in text
