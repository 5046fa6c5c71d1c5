"""Days that can have happened: notes are of the past."""

from __future__ import annotations

import click

from eggfold.commands.options import today_of


def past_day_of(given: str | None) -> str:
    """Return the day of something that has happened, today if none is given."""
    day, last = today_of(given).isoformat(), last_past_day()
    if day > last:
        raise click.UsageError(f"--date: {day} is in the future; try: {last} or a day before it")
    return day


def last_past_day() -> str:
    """Return the last day that can have happened: by the clock, or as SOURCE_DATE_EPOCH pins it."""
    from datetime import date  # noqa: PLC0415

    clock = date.today()  # noqa: DTZ011 - the kitchen's own calendar
    return max(clock, today_of(None)).isoformat()
