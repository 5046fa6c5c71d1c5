"""The entries of a calendar: what is done at which time, for how long, and with what."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from eggfold.pages.agenda import AgendaEntry, campaign_entries, rolling_entries
from eggfold.pages.figures import METRIC
from eggfold.plan.campaign import build_season
from eggfold.plan.rolling import build_rolling
from plan_files import campaign_plan, rolling_plan

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

SOAKED = """\
name: Reed Soaked
base_mix: {name: Reed mix, amount: 132 g}
soak: [{name: Malt syrup, form: liquid, density: 1.35 g/ml, soak: 40 g per kg bait}]
baits: {freebie: 18 mm}
"""
ROLLING = "start: 2027-03-27 09:00\nhours: 9 h\nbowls: {recipe: reed, eggs: 6}\n"
SEASON = """\
roll_on: saturday
hours: 9 h
trips: {leave: 2027-04-02, name: Weir pool, freebies: {recipe: reed, bait: 2 kg}}
"""
TODAY = "2027-03-01"


def written(entries: Iterable[AgendaEntry]) -> list[tuple[str, str, object]]:
    """Return what begins when, and how long it lasts."""
    return [(one.what, one.start.isoformat()[:16], one.end - one.start) for one in entries]


def test_a_rolling_is_turned_soaked_and_bagged(tmp_path: Path) -> None:
    """Rolled on Saturday it is dry on Monday evening and has taken up its soak a day later."""
    (tmp_path / "reed.yaml").write_text(SOAKED, "utf-8")
    entries = list(rolling_entries(build_rolling(rolling_plan(tmp_path, ROLLING)), METRIC))
    quarter, half = timedelta(minutes=15), timedelta(minutes=30)
    found = written(entries)
    assert found[0][:2] == ("roll", "2027-03-27T09:00")
    assert found[1:] == [
        ("turn", "2027-03-27T20:00", quarter),
        ("turn", "2027-03-28T08:00", quarter),
        ("turn", "2027-03-28T20:00", quarter),
        ("turn", "2027-03-29T08:00", quarter),
        ("soak", "2027-03-29T20:00", half),
        ("bag", "2027-03-30T20:00", half),
    ]
    assert entries[-2].title == "Into the soak: bowl 1"


def test_a_season_buys_rolls_bags_and_thaws(tmp_path: Path) -> None:
    """Bought the day before; out of the freezer ten hours before the trip leaves at six."""
    (tmp_path / "reed.yaml").write_text(SOAKED, "utf-8")
    season = build_season(campaign_plan(tmp_path, SEASON, TODAY), TODAY)
    entries = list(campaign_entries(season, METRIC))
    found = [one for one in written(entries) if one[0] != "turn"]
    quarter, half, none = timedelta(minutes=15), timedelta(minutes=30), timedelta(0)
    assert found[0] == ("buy", "2027-03-26", none)
    assert found[1][:2] == ("roll", "2027-03-27T09:00")
    assert found[2:] == [
        ("soak", "2027-03-29T20:00", half),
        ("bag", "2027-03-30T20:00", half),
        ("thaw", "2027-04-01T20:00", quarter),
        ("trip", "2027-04-02", none),
    ]
    assert entries[0].start == date(2027, 3, 26)
    assert entries[0].title == "Buy for rolling up to 2027-03-27"
    assert entries[-2].title == "Out of the freezer for Weir pool"
