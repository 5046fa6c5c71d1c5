"""The table of ``eggfold boil``, as asked."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from running import run_eggfold

SIZES = ["--diameter", "14mm", "--diameter", "20 mm", "--diameter", "1.4cm"]


@pytest.mark.parametrize("more", [[], ["--for", "80s"], ["--until", "set"]])
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


def test_a_target_that_is_out_of_reach_makes_no_wait_longer(tmp_path: Path) -> None:
    (tmp_path / "bench.yaml").write_text("burner: 3 kW\n", "utf-8")
    high = ["boil", "--altitude", "4500m", "--diameter", "16mm", "--why"]
    pages = [
        run_eggfold([*high, *until], tmp_path).stdout for until in ([], ["--until", "just-set"])
    ]
    assert "not here" in pages[0]
    for pattern in (r"wait for the boil, \d+ s", r"Wait between loads of .*?which\s+makes\s+\S+ s"):
        both, alone = (re.findall(pattern, page, re.DOTALL) for page in pages)
        assert both == alone != []


def test_a_time_and_a_target_are_not_asked_together(tmp_path: Path) -> None:
    outcome = run_eggfold(["boil", "--for", "80s", "--until", "set"], tmp_path)
    assert (outcome.exit, outcome.stdout) == (2, "")
    assert "--for says how long and --until how hot" in outcome.stderr
