"""What makes a plan fit, and what is left of a day: worked out by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.engine.day_plan import MadeDay, plan_day
from eggfold.engine.dispatch import DaySetting
from eggfold.engine.season import Limits, RollDay, Stretch
from eggfold.engine.workplace import BowlWork, PanLoad, Workplace
from eggfold.plan import session
from eggfold.plan.remedies import Remedy, Rescue, dried, explain_shortfall
from eggfold.plan.rolling import build_rolling
from plan_files import lay_out, rolling_plan

if TYPE_CHECKING:
    from pathlib import Path

TIGHT = "start: 2027-03-27 09:00\nhours: 5 h\nbowls: {recipe: osierfen-caraway, bait: 6 kg}\n"
ROOMY = TIGHT.replace("5 h", "14 h")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    lay_out(tmp_path)
    return tmp_path


def test_each_change_says_what_it_changes_and_nothing_else(folder: Path) -> None:
    rolling = build_rolling(rolling_plan(folder, TIGHT))
    assert rolling.left_out
    changes = {change.what: change for change in rolling.changes}
    assert changes["days"] == Remedy("days", 0.0, 0.0, 0, 1)
    assert changes["hours"] == Remedy("hours", changes["hours"].seconds, 0.0, 0, 0)
    whole = build_rolling(rolling_plan(folder, ROOMY))
    [day] = whole.days
    assert day.run
    assert changes["hours"].seconds == pytest.approx(day.run.clean_s - 5 * 3600, abs=3600)


def test_the_fewest_more_trays_are_so_many_of_the_users_own(folder: Path) -> None:
    """A tray is 0.24 m²; all that is wanted lies at once at the end."""
    bench = "trays: {count: 1, length: 60 cm, width: 40 cm}\n"
    rolling = build_rolling(rolling_plan(folder, ROOMY, bench))
    need_m2 = sum(b.area_m2 for b in build_rolling(rolling_plan(folder, ROOMY)).made)
    [trays] = [change for change in rolling.changes if change.what == "trays"]
    assert trays == Remedy("trays", 0.0, trays.area_m2, trays.trays, 0)
    assert trays.area_m2 == pytest.approx(0.24 * trays.trays)
    assert need_m2 - 0.24 <= 0.24 * (1 + trays.trays) < need_m2 + 0.24


def test_a_load_dries_from_the_pan_or_from_the_table() -> None:
    """Boiled bait is laid out when its boil ends, other bait when it is rolled."""
    boiled = PanLoad("boiled", 500.0, 1200.0, 120.0, 60.0, 0.05, 36_000.0)
    raw = PanLoad("raw", 500.0, 1200.0, 0.0, 0.0, 0.05, 36_000.0)
    works = [BowlWork(600.0, (boiled, raw))]
    run = plan_day(works, DaySetting(Workplace(1)))
    assert run
    ends = {(s.what, s.load): (s.start_s, s.end_s) for s in run.steps if s.load is not None}
    found = dried(works, MadeDay((0,), run))
    (pan_s, out_s), (table_s, rolled_s) = ends["boil", 0], ends["roll", 1]
    assert sorted(found) == sorted([(0, pan_s, out_s + 36_000), (0, table_s, rolled_s + 36_000)])


def test_a_plan_of_as_many_bowls_as_there_may_be_is_made(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(session, "MOST_BOWLS", 3)
    want = "  - {recipe: osierfen-caraway, eggs: 2}\n"
    plan = f"start: 2027-03-27 09:00\nhours: 9 h\nbowls:\n{want * 3}"
    assert len(build_rolling(rolling_plan(folder, plan)).made) == 3


def test_the_eggs_that_are_left_are_rolled_and_no_more(folder: Path) -> None:
    """Three bowls of 6, the first is made: 8 eggs are one of 6 and one of 2."""
    bowls = "".join(f"  - {{recipe: osierfen-caraway, eggs: {n}}}\n" for n in (6, 6, 6))
    opened = rolling_plan(folder, f"start: 2027-03-27 09:00\nhours: 9 h\nbowls:\n{bowls}")
    found = build_rolling(opened, Rescue(done=1, eggs_left=8))
    assert [bowl.batch.eggs for bowl in found.made] == [6, 2]
    assert found.eggs_short == 4
    assert not found.fits
    enough = build_rolling(opened, Rescue(done=1, eggs_left=12))
    assert [bowl.batch.eggs for bowl in enough.made] == [6, 6]
    assert enough.eggs_short == 0
    none = build_rolling(opened, Rescue(done=2, eggs_left=0))
    assert (none.made, none.eggs_short) == ((), 6)


DAYS = [RollDay(0.0, 10.0), RollDay(100.0, 110.0)]


def test_a_freezer_is_asked_for_that_holds_what_waits_for_its_trip() -> None:
    """Two days of 20 eggs make the 30 of a trip: they wait in 30 l, a litre an egg."""
    trip = Stretch(30, 1 / 20, 0.0, 1.0, 900.0, 1000.0)
    text = explain_shortfall(DAYS, [trip], Limits(litres=10.0), ["2027-03-06"], ["Reed Bed"])
    assert text == (
        "not everything can be made in time; what makes it fit: a freezer of 30 l instead of 10 l"
    )


def test_more_is_asked_of_a_day_where_the_hours_are_what_lacks() -> None:
    """40 eggs in two days of 15 are 20 a day: a third more."""
    trip = Stretch(40, 1 / 15, 0.0, 0.0, 900.0, 1000.0)
    text = explain_shortfall(DAYS, [trip], Limits(), ["2027-03-06"], ["Reed Bed"])
    assert text.endswith("what makes it fit: 34 % more rolled in a day (hours, people or tables)")


def test_a_trip_before_the_first_bait_is_dry_is_named() -> None:
    trips = [Stretch(4, 1 / 16, 0.0, 0.0, 0.0, leave) for leave in (9.0, 900.0)]
    text = explain_shortfall(DAYS, trips, Limits(), ["2027-03-06"], ["Reed Bed", "Weir"])
    assert text.startswith("no rolling day is early enough for Reed Bed: the first is 2027-03-06;")


def test_trays_are_asked_for_that_hold_what_one_day_rolls() -> None:
    """30 eggs at 0.1 m² each."""
    trip = Stretch(30, 1 / 100, 0.1, 0.0, 900.0, 1000.0)
    text = explain_shortfall(DAYS[:1], [trip], Limits(area_m2=1.0), ["2027-03-06"], ["Reed Bed"])
    assert text.endswith("what makes it fit: trays of 3 m² instead of 1.00 m²")


def test_a_freezer_and_trays_are_asked_for_where_neither_alone_is_enough() -> None:
    trip = Stretch(30, 1 / 100, 0.1, 1.0, 900.0, 1000.0)
    limits = Limits(area_m2=1.0, litres=10.0)
    text = explain_shortfall(DAYS[:1], [trip], limits, ["2027-03-06"], ["Reed Bed"])
    assert text.endswith(
        "what makes it fit: a freezer of 30 l instead of 10 l together with trays of 3 m² instead of "
        "1.00 m²"
    )


def test_bait_is_asked_to_keep_until_its_trip() -> None:
    """Bagged on the second day and taken out at noon of day 149: 147.5 days, so 148."""
    day_s = 86_400.0
    trip = Stretch(10, 1 / 100, 0.0, 1.0, 149.5 * day_s, 150 * day_s)
    text = explain_shortfall(
        [RollDay(0.0, 2 * day_s)], [trip], Limits(life_s=100 * day_s), ["2027-03-06"], ["Reed Bed"]
    )
    assert text.endswith("what makes it fit: bait that keeps 148 days frozen")


def test_what_is_left_begins_so_much_after_the_bowl_that_is_done(folder: Path) -> None:
    bowls = "  - {recipe: osierfen-caraway, eggs: 6}\n" * 3
    opened = rolling_plan(folder, f"start: 2027-03-27 09:00\nhours: 9 h\nbowls:\n{bowls}")
    [planned] = build_rolling(opened).days
    assert planned.run
    first = planned.run.bowls[0].bowl
    done_s = max(step.end_s for step in planned.run.steps if step.bowl == first)
    [late] = build_rolling(opened, Rescue(done=1, late_s=1800.0)).days
    assert late.run
    assert late.run.steps[0].start_s == pytest.approx(done_s + 1800)
    [begun] = build_rolling(opened, Rescue(late_s=1800.0)).days
    assert begun.run
    assert begun.run.steps[0].start_s == pytest.approx(1800)
