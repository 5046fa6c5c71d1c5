"""What the plan commands say at their edges: nothing left, numbers and endings that are not known."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

WEEKEND = ("rolling", "recipes/weekend.yaml")


def test_when_all_bowls_are_done_nothing_is_left(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    outcome = run_eggfold((*WEEKEND, "--done", "7"), tmp_path)
    assert outcome.exit == 0
    assert "In all       nothing is left to roll\n" in outcome.stdout
    too_late = run_eggfold((*WEEKEND, "--done", "3", "--now", "2027-03-30 08:00"), tmp_path)
    assert too_late.exit == 3
    assert "In all       nothing fits\n" in too_late.stdout


def test_none_done_and_no_eggs_are_numbers_too(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    assert "from 0 to 10000" in run_eggfold((*WEEKEND, "--done", "-1"), tmp_path).stderr
    assert "from 0 to 100000" in run_eggfold((*WEEKEND, "--eggs-left", "x"), tmp_path).stderr


def test_an_ending_near_that_of_a_calendar_is_asked_about(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    outcome = run_eggfold((*WEEKEND, "--output", "weekend.icl"), tmp_path)
    assert outcome.exit == 2
    assert "did you mean .ics?" in outcome.stderr
    assert not (tmp_path / "weekend.icl").exists()


def test_a_range_is_written_as_amounts_are(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    plan = tmp_path / "recipes" / "weekend.yaml"
    plan.write_text(plan.read_text("utf-8").replace("16 kg", "1600 kg"), "utf-8")
    outcome = run_eggfold(WEEKEND, tmp_path)
    assert outcome.exit == 1
    assert "try: 1 to 1000000 g" in outcome.stderr


def test_where_only_two_changes_help_both_are_named(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    bench = tmp_path / "recipes" / "bench.yaml"
    bench.write_text("trays: {count: 1, length: 40 cm, width: 30 cm}\nfreezer: 5 l\n", "utf-8")
    season = ("campaign", "recipes/season.yaml", "--date", "2027-03-01")
    outcome = run_eggfold(season, tmp_path)
    assert outcome.exit == 3
    found = re.search(
        r"a freezer of (\d+) l .* together with trays of ([0-9.]+) m²", outcome.stderr
    )
    assert found
    litres, area_m2 = int(found[1]), float(found[2])
    width = round(area_m2 * 100)  # one tray, a metre long
    bench.write_text(
        f"trays: {{count: 1, length: 100 cm, width: {width} cm}}\nfreezer: {litres} l\n", "utf-8"
    )
    assert run_eggfold(season, tmp_path).exit == 0
