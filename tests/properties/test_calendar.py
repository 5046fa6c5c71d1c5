"""A calendar says what the plan says, read back by a parser that did not write it."""

from __future__ import annotations

import sys
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import vobject

from eggfold.errors import UsageProblemError
from eggfold.formats.ics import write_calendar
from eggfold.pages.agenda import AgendaEntry, campaign_entries, rolling_entries
from eggfold.pages.figures import METRIC
from eggfold.plan.campaign import build_season
from eggfold.plan.rolling import build_rolling
from plan_files import campaign_plan, rolling_plan

WEEKEND = """\
start: 2027-03-27 09:00
hours: 10 h
days: 2
people: [Aster, "Rowan, the younger; of Osierfen"]
tables: 2
zone: Europe/London
bowls:
  - {recipe: osierfen-caraway, bait: 24 kg}
"""
SEASON = """\
hours: 10 h
people: 2
tables: 2
zone: Europe/London
trips:
  - {leave: 2027-04-02, back: 2027-04-04, name: Weir pool, freebies: {recipe: osierfen-caraway, bait: 8 kg}}
  - {leave: 2027-04-09, freebies: {recipe: osierfen-caraway, bait: 3 kg}}
"""


def read_back(text: str) -> list[Any]:
    (calendar,) = vobject.readComponents(text)
    assert calendar.version.value == "2.0"
    events: list[Any] = calendar.vevent_list
    return events


def to_minute(moment: datetime) -> datetime:
    return (moment.astimezone(UTC) + timedelta(seconds=30)).replace(second=0, microsecond=0)


def check(entries: list[AgendaEntry], text: str) -> None:
    events = read_back(text)
    assert [e.summary.value for e in events] == [e.title for e in entries]
    assert len({e.uid.value for e in events}) == len(events)
    for entry, event in zip(entries, events, strict=True):
        if isinstance(entry.start, datetime) and isinstance(entry.end, datetime):
            assert event.dtstart.value == to_minute(entry.start)
            assert event.dtend.value == to_minute(entry.end)
        else:
            assert event.dtstart.value == entry.start
            assert event.dtend.value == entry.end + timedelta(days=1)
        assert (event.description.value if entry.text else "") == entry.text


def test_a_weekend_is_read_back(folder: Path) -> None:
    rolling = build_rolling(rolling_plan(folder, WEEKEND))
    entries = list(rolling_entries(rolling, METRIC))
    assert {e.what for e in entries} == {"roll", "turn", "bag"}
    assert len([e for e in entries if e.what == "roll"]) == 2
    text = write_calendar(rolling.name, entries, floating=False)
    check(entries, text)
    assert text == write_calendar(rolling.name, entries, floating=False)


def test_a_season_is_read_back(folder: Path) -> None:
    season = build_season(campaign_plan(folder, SEASON, "2027-02-01"), "2027-02-01")
    entries = list(campaign_entries(season, METRIC))
    assert {e.what for e in entries} == {"buy", "roll", "turn", "bag", "thaw", "trip"}
    check(entries, write_calendar(season.name, entries, floating=False))
    trip = next(e for e in entries if e.title == "Weir pool")
    assert (trip.start, trip.end) == (date(2027, 4, 2), date(2027, 4, 4))


def test_a_plan_without_a_zone_floats(folder: Path) -> None:
    plain = WEEKEND.replace("zone: Europe/London\n", "")
    rolling = build_rolling(rolling_plan(folder, plain))
    first = read_back(write_calendar("x", rolling_entries(rolling, METRIC), floating=True))[0]
    assert first.dtstart.value == datetime(2027, 3, 27, 9, 0)  # noqa: DTZ001 - it has no zone


def test_lines_are_no_longer_than_the_standard_allows(folder: Path) -> None:
    rolling = build_rolling(rolling_plan(folder, WEEKEND))
    text = write_calendar(rolling.name, rolling_entries(rolling, METRIC), floating=False)
    lines = text.split("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert max(len(line.encode()) for line in lines) <= 75


def test_a_missing_library_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "icalendar", None)
    with pytest.raises(UsageProblemError, match="calendar") as caught:
        write_calendar("x", [], floating=True)
    assert "pip install 'eggfold[calendar]'" in str(caught.value)
