"""What the plan commands say at their edges: nothing left, numbers and endings that are not known."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from running import FIXED, copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

WEEKEND = ("rolling", "recipes/weekend.yaml")


def test_when_all_bowls_are_done_nothing_is_left(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    outcome = run_eggfold((*WEEKEND, "--done", "9"), tmp_path)
    assert outcome.exit == 0
    assert "LEFT  nothing to roll\n" in outcome.stdout
    too_late = run_eggfold((*WEEKEND, "--done", "3", "--now", "2027-03-30 08:00"), tmp_path)
    assert too_late.exit == 3
    assert "LEFT  all of it: nothing fits\n" in too_late.stdout


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


TRIPS = """\
hours: 6 h
people: 2
start_at: "23:00"
trips:
  - {leave: 2027-02-06, freebies: {recipe: osierfen-millet, bait: 5 kg}}
  - {leave: 2027-02-14, name: Reed arm, freebies: {recipe: osierfen-millet, bait: 3 kg}}
"""


def test_a_rolling_day_that_ends_after_midnight_names_the_day(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    (tmp_path / "recipes" / "trips.yaml").write_text(TRIPS, "utf-8")
    season = ("campaign", "recipes/trips.yaml", "--date", "2027-01-04", "--full")
    rows = run_eggfold(season, tmp_path).stdout.splitlines()
    found = [r for r in rows if r.startswith("Sun 31 Jan")]
    assert any(re.search(r"  Mon 1 Feb 0[0-9]:[0-9]{2}  Wed 3 Feb", row) for row in found)


def test_a_trip_without_a_name_goes_by_its_day(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    (tmp_path / "recipes" / "trips.yaml").write_text(TRIPS, "utf-8")
    season = ("campaign", "recipes/trips.yaml", "--date", "2027-01-04", "--full")
    lines = [line.strip() for line in run_eggfold(season, tmp_path).stdout.splitlines()]
    assert {"A = Sat 6 Feb", "B = Reed arm"} <= set(lines)
    html = run_eggfold((*season, "--format", "html"), tmp_path).stdout
    assert ">Sat 6 Feb</text>" in html


@pytest.mark.parametrize(
    "args",
    [
        ["labels", "recipes/osierfen-caraway.yaml", "--as", "freebie", "--date", "9999-08-01"],
        ["campaign", "recipes/season.yaml", "--date", "9999-08-01"],
    ],
)
def test_a_day_at_the_end_of_the_calendar_is_refused(args: list[str], tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    outcome = run_eggfold(args, tmp_path)
    assert outcome.exit == 2
    assert "9999-08-01 is too far away to plan or to remember" in outcome.stderr
    assert "a year from 1900 to 2999" in outcome.stderr


@pytest.mark.parametrize("day", ["2999-12-31", "1900-01-01"])
def test_a_rolling_is_planned_at_both_ends_of_the_calendar(day: str, tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    plan = f"start: {day} 09:00\nhours: 8 h\nzone: Asia/Tokyo\nbowls: {{recipe: osierfen-millet, eggs: 6}}\n"
    (tmp_path / "recipes" / "last.yaml").write_text(plan, "utf-8")
    outcome = run_eggfold(["rolling", "recipes/last.yaml"], tmp_path)
    assert outcome.exit == 0, outcome.stderr


def test_the_day_that_the_environment_pins_lies_in_the_calendar(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(FIXED, "SOURCE_DATE_EPOCH", "32503680000")
    outcome = run_eggfold(["shelf"], tmp_path)
    assert outcome.exit == 2
    assert "SOURCE_DATE_EPOCH is after the year 2999" in outcome.stderr


def test_days_that_are_past_make_nothing_fit(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    for now in ("2027-03-29 20:00", "2030-01-01 10:00"):
        outcome = run_eggfold((*WEEKEND, "--now", now), tmp_path)
        assert outcome.exit == 3
        assert "the days of the plan are over. What makes it fit: " in outcome.stderr
        assert "more days from now on" in outcome.stderr
    late = run_eggfold((*WEEKEND, "--now", "2027-03-29 17:00"), tmp_path).stderr
    early = run_eggfold((*WEEKEND, "--now", "2027-03-29 08:00"), tmp_path).stderr
    assert "3 more days" in late
    assert "2 more days" in early


def test_figures_of_what_fits_and_of_all_are_told_apart(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    page = run_eggfold((*WEEKEND, "--now", "2027-03-28 15:00", "--full"), tmp_path).stdout
    assert "What fits " in page
    assert "In all " not in page
    assert " ".join(page.split()).count("also what does not fit") == 2
    over = run_eggfold((*WEEKEND, "--now", "2027-03-29 20:00"), tmp_path).stdout
    assert "Trays      0 m²" not in over
