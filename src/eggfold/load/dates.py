"""A day as a user writes it: year-month-day, kept as that text, which sorts as days do."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta, tzinfo
from typing import Annotated
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from eggfold.amounts import AmountError
from eggfold.load.fields import Reads
from eggfold.nearest import did_you_mean

_DAY = re.compile(r"([0-9]{4})([-/.])([0-9]{1,2})\2([0-9]{1,2})")
_OTHER_WAY = re.compile(r"(?:([0-9]{1,2})[./-] ?)?([0-9]{1,2})[./-] ?([0-9]{4})")
FIRST_YEAR, LAST_YEAR = 1900, 2999
"""Years that a day may lie in: weeks before and years after it are in the calendar too."""
_MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def parse_date(text: str) -> str:
    """Read ``2026-03-01``; AmountError otherwise."""
    text = text.strip()
    match = _DAY.fullmatch(text)
    if match is None:
        hint = f"year first: {_turned(text) or '2026-03-01'}"
        raise AmountError("not-a-date", f"'{text[:40]}' is not a date", hint)
    year, month, day = (int(part) for part in match.group(1, 3, 4))
    if not (1 <= month <= 12 and 1 <= day <= _days_in(year, month)):
        raise AmountError("not-a-date", f"there is no {text}", "a day that the calendar has")
    if not FIRST_YEAR <= year <= LAST_YEAR:
        hint = f"a year from {FIRST_YEAR} to {LAST_YEAR}"
        raise AmountError("not-a-date", f"{text} is too far away to plan or to remember", hint)
    return f"{year:04}-{month:02}-{day:02}"


def _turned(text: str) -> str | None:
    """Return a day whose year stands last with the year first; both days where it may be either."""
    found = _OTHER_WAY.fullmatch(text)
    if found is None:
        return None
    year = int(found[3])
    if not found[1]:
        return f"{year}-MM-DD"
    one, two = int(found[1]), int(found[2])
    days = [
        f"{year}-{month:02}-{day:02}"
        for day, month in dict.fromkeys([(one, two), (two, one)])
        if 1 <= month <= 12 and 1 <= day <= _days_in(year, month)
    ]
    return " or ".join(days) or f"{year}-MM-DD"


def _days_in(year: int, month: int) -> int:
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    return 29 if month == 2 and leap else _MONTH_DAYS[month - 1]


Date = Annotated[str, Reads(parse_date, type="string", format="date", examples=["2026-03-01"])]


_TIME = re.compile(r"([0-9]{1,2}):([0-9]{2})")


def parse_time(text: str) -> str:
    """Read ``9:30`` as ``09:30``; AmountError otherwise."""
    text = text.strip()
    match = _TIME.fullmatch(text)
    if match is None:
        raise AmountError(
            "not-a-time", f"'{text[:40]}' is not a time of day", "hours:minutes, as 14:20"
        )
    hour, minute = int(match[1]), int(match[2])
    if hour > 23 or minute > 59:
        raise AmountError("not-a-time", f"there is no {text}", "00:00 to 23:59")
    return f"{hour:02}:{minute:02}"


def parse_moment(text: str) -> str:
    """Read ``2026-03-14 9:00`` as ``2026-03-14 09:00``; AmountError otherwise."""
    day, _, time = text.strip().replace("T", " ", 1).partition(" ")
    if time:
        return f"{parse_date(day)} {parse_time(time)}"
    hint = f"{parse_date(day)} 09:00"
    raise AmountError("not-a-time", f"'{text[:40]}' has no time of day", hint)


def parse_zone(text: str) -> str:
    """Read a name of the IANA time zone database; AmountError otherwise."""
    name = text.strip()
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        known = available_timezones()
        near = did_you_mean(name, known) or "Europe/London"
        if not known:
            near = "this system has no time zones: python -m pip install tzdata"
        raise AmountError("unknown-zone", f"'{name[:40]}' is not a time zone", near) from error
    return name


TimeOfDay = Annotated[str, Reads(parse_time, type="string", examples=["14:20"])]
Moment = Annotated[str, Reads(parse_moment, type="string", examples=["2026-03-14 09:00"])]
Zone = Annotated[str, Reads(parse_zone, type="string", examples=["Europe/London"])]


def zone_of(name: str | None) -> tzinfo:
    """Return a plan's zone; without one every day has 24 hours."""
    return ZoneInfo(name) if name else UTC


def moment_of(day: str, time: str, zone: tzinfo) -> datetime:
    """Return a moment on the clock of a zone."""
    return datetime.fromisoformat(f"{day}T{time}").replace(tzinfo=zone)


def exists(moment: datetime) -> bool:
    """Tell whether the clock shows a moment at all: an hour is left out in spring."""
    return moment.astimezone(UTC).astimezone(moment.tzinfo).replace(tzinfo=None) == moment.replace(
        tzinfo=None
    )


def days_after(day: str, count: int) -> str:
    """Return the day so many days later."""
    return (datetime.fromisoformat(day) + timedelta(days=count)).date().isoformat()
