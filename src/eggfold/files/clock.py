"""Times of day, moments and zones as a user writes them."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta, tzinfo
from typing import Annotated
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from eggfold.amounts import AmountError
from eggfold.files.dates import parse_date
from eggfold.load.fields import Reads
from eggfold.nearest import did_you_mean

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
        near = did_you_mean(name, available_timezones()) or "Europe/London"
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
