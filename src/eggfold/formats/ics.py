"""A calendar after RFC 5545, through the icalendar library; it is an extra."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256
from typing import TYPE_CHECKING

from eggfold.errors import MissingExtraError
from eggfold.formats.characters import clean

if TYPE_CHECKING:
    from eggfold.pages.agenda import AgendaEntry


def write_calendar(name: str, entries: Iterable[AgendaEntry], *, floating: bool) -> str:
    """Return entries as one calendar, the same for the same entries.

    Moments are written in universal time, which every calendar shows in its own zone; ``floating``
    ones as they stand on the clock, for a plan that names no zone.
    """
    try:
        from icalendar import Calendar, Event  # noqa: PLC0415 - an extra
    except ImportError as error:
        raise MissingExtraError("a calendar", "calendar") from error

    def stamped(moment: datetime | date) -> datetime | date:
        if not isinstance(moment, datetime):
            return moment
        rounded = (moment + timedelta(seconds=30)).replace(second=0, microsecond=0)
        return rounded.replace(tzinfo=None) if floating else rounded.astimezone(UTC)

    listed = list(entries)
    calendar = Calendar()
    calendar.add("prodid", "-//eggfold//plans//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", clean(name))
    for number, entry in enumerate(listed):
        event = Event()
        mark = f"{name}\n{entry.what}\n{entry.start}\n{number}"
        event.add("uid", f"{sha256(mark.encode('utf-8', 'replace')).hexdigest()[:32]}@eggfold")
        event.add("dtstamp", _made(listed))
        event.add("dtstart", stamped(entry.start))
        event.add("dtend", stamped(_end(entry.end)))
        event.add("summary", clean(entry.title))
        event.add("categories", [entry.what])
        if entry.text:
            event.add("description", "\n".join(map(clean, entry.text.split("\n"))))
        calendar.add_component(event)
    return str(calendar.to_ical().decode("utf-8"))


def _end(end: datetime | date) -> datetime | date:
    """Return where an entry ends: the day after its last one, as the standard counts days."""
    return end if isinstance(end, datetime) else end + timedelta(days=1)


def _made(entries: list[AgendaEntry]) -> datetime:
    """Return a stamp that stays the same from run to run: the first moment of the plan."""
    moments = [e.start for e in entries if isinstance(e.start, datetime)]
    return min(moments).astimezone(UTC).replace(microsecond=0)
