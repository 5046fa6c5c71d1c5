"""The table of ``eggfold boil``, as asked."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from running import run_eggfold

SIZES = ["--diameter", "14mm", "--diameter", "20 mm", "--diameter", "1.4cm"]


@pytest.mark.parametrize("more", [[], ["--core", "10mm"], ["--for", "80s"], ["--until", "set"]])
@pytest.mark.parametrize("form", ["text", "json"])
def test_a_size_given_twice_is_one_row(more: list[str], form: str, tmp_path: Path) -> None:
    twice = run_eggfold(["boil", *SIZES, *more, "--format", form], tmp_path)
    once = run_eggfold(["boil", *SIZES[:4], *more, "--format", form], tmp_path)
    assert twice == once
    assert once.exit == 0


def test_the_clock_takes_a_size_once(tmp_path: Path) -> None:
    outcome = run_eggfold(["boil", "--clock", *SIZES, "--format", "json"], tmp_path)
    loads = json.loads(outcome.stdout)["loads"]
    assert [load["diameter_mm"] for load in loads] == [14, 20]
