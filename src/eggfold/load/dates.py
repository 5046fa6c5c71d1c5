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
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_IN_WORDS = (
    rf"(?i)([0-9]{{1,2}})(?:st|nd|rd|th|\.)? ?({'|'.join(_MONTHS)})[a-z]*\.?,? ?([0-9]{{4}})"
    rf"|({'|'.join(_MONTHS)})[a-z]*\.? ([0-9]{{1,2}})(?:st|nd|rd|th)?,? ([0-9]{{4}})"
)
_OTHER_WAY = r"(?:([0-9]{1,2})[./-] ?)?([0-9]{1,2})[./-] ?([0-9]{4})"
FIRST_YEAR, LAST_YEAR = 1900, 2999
"""Years that a day may lie in: weeks before and years after it are in the calendar too."""
_MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def parse_date(text: str) -> str:
    """Read ``2026-03-01``; AmountError otherwise."""
    text = text.strip()
    match = _DAY.fullmatch(text)
    if match is None:
        turned = _turned(text)
        hint = f"year first: {turned}" if turned else "year first, as in 2026-03-01"
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
    if words := re.fullmatch(_IN_WORDS, text):
        month = _MONTHS.index((words[2] or words[4]).casefold()) + 1
        return f"{words[3] or words[6]}-{month:02}-{int(words[1] or words[5]):02}"
    found = re.fullmatch(_OTHER_WAY, text)
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


Date = Annotated[str, Reads(parse_date, ("date",), examples=["2026-03-01"])]


TIME = r"[0-9]{1,2}(?:(?:[:.]| ?h)[0-9]{2} ?(?:[ap]\.?m\.?)?| ?[ap]\.?m\.?)"
"""How a time of day is written: ``9:00``, ``9.00``, ``9h00``, ``9 am``."""
_TIME = re.compile(r"([0-9]{1,2})(?:(?:[:.]| ?h)([0-9]{2}))? ?(?:([ap])\.?m\.?)?", re.IGNORECASE)


def parse_time(text: str) -> str:
    """Read ``9:30`` and ``9.30 am`` as ``09:30``; AmountError otherwise."""
    text = text.strip()
    match = _TIME.fullmatch(text)
    if match is None or not (match[2] or match[3]):
        hint = f"{match[1]}:00" if match and int(match[1]) < 24 else "hours:minutes, as 14:20"
        raise AmountError("not-a-time", f"'{text[:40]}' is not a time of day", hint)
    hour, minute = int(match[1]), int(match[2] or 0)
    if match[3]:
        hour = hour % 12 + 12 * (match[3] in "pP") if 1 <= hour <= 12 else 24
    if hour > 23 or minute > 59:
        raise AmountError("not-a-time", f"there is no {text}", "00:00 to 23:59")
    return f"{hour:02}:{minute:02}"


def parse_moment(text: str) -> str:
    """Read ``2026-03-14 9:00`` as ``2026-03-14 09:00``; AmountError otherwise."""
    text = text.strip()
    if found := _MOMENT.fullmatch(text):
        day, time = parse_date(found[1]), found[2]
        if time:
            return f"{day} {parse_time(time)}"
        raise AmountError("not-a-time", f"'{text[:40]}' has no time of day", f"{day} 09:00")
    timed = re.fullmatch(rf"(.+?),? +(?:at )?({TIME})", text, re.IGNORECASE)
    day, time = timed.groups() if timed else (text, "09:00")
    turned = _turned(day)
    days = [f"{one} {time}" for one in turned.split(" or ")] if turned else []
    hint = f"year first: {' or '.join(days)}" if days else "year first, as in 2026-03-14 09:00"
    raise AmountError("not-a-date", f"'{day[:40]}' is not a date", hint)


_MOMENT = re.compile(r"([0-9]{4}[-/.][0-9]{1,2}[-/.][0-9]{1,2})(?:(?:[Tt]|,? +(?:at )?)(.*))?")


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


TimeOfDay = Annotated[str, Reads(parse_time, ("time of day",), examples=["14:20"])]
Moment = Annotated[str, Reads(parse_moment, ("moment",), examples=["2026-03-14 09:00"])]
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
