"""Clock times, days and durations as a page shows them, in English whatever the locale."""

from __future__ import annotations

from datetime import date, datetime, timedelta

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def time_text(moment: datetime) -> str:
    """Return the time of day to the minute."""
    shown = _to_minute(moment)
    return f"{shown.hour:02}:{shown.minute:02}"


def day_text(day: date) -> str:
    """Return a day without its year, a moment's as its time is shown."""
    day = _day_shown(day)
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def weekday_text(day: date) -> str:
    """Return the short name of a day of the week."""
    return _DAYS[_day_shown(day).weekday()]


def quarter_before(moment: datetime) -> datetime:
    """Return the last full quarter of an hour up to a moment."""
    return moment.replace(minute=moment.minute // 15 * 15, second=0, microsecond=0)


def full_day_text(day: date) -> str:
    """Return a day with its year."""
    return f"{day_text(day)} {_day_shown(day).year}"


def _to_minute(moment: datetime) -> datetime:
    return moment + timedelta(seconds=30)


def _day_shown(day: date) -> date:
    """Return the day of a moment that is shown to the minute, half a minute to midnight the next."""
    return _to_minute(day).date() if isinstance(day, datetime) else day


def moment_text(moment: datetime) -> str:
    """Return day and time."""
    return f"{day_text(moment)} {time_text(moment)}"


def time_on_text(moment: datetime, day: date) -> str:
    """Return the time of day of a moment, with its own day where that is another."""
    return time_text(moment) if _day_shown(moment) == day else moment_text(moment)


def duration_text(seconds: float) -> str:
    """Return a duration in hours and minutes."""
    minutes = round(seconds / 60)
    hours, minutes = divmod(minutes, 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def up_to_quarter_text(seconds: float) -> str:
    """Return a duration rounded up to the quarter of an hour: what to add so that it is enough."""
    return duration_text(-(-seconds // 900) * 900)
