"""What day it is: the one place that looks at the clock."""

from __future__ import annotations

import click

date_option = click.option(
    "--date", metavar="DAY", help="The day, as in 2026-03-01 (today if left out)."
)


def day_of(given: str | None) -> str:
    """Return the day that is given, else today; SOURCE_DATE_EPOCH stands in for the clock."""
    if given is None:
        return pinned_day() or clock_day()
    from eggfold.amounts import AmountError  # noqa: PLC0415
    from eggfold.files.dates import parse_date  # noqa: PLC0415

    try:
        return parse_date(given)
    except AmountError as error:
        raise click.UsageError(f"--date: {error.message}; try: {error.hint}") from error


def past_day_of(given: str | None) -> str:
    """Return the day of something that has happened: a day that has not come yet is refused."""
    day = day_of(given)
    last = last_past_day()
    if day > last:
        raise click.UsageError(f"--date: {day} is in the future; try: {last} or a day before it")
    return day


def last_past_day() -> str:
    """Return the last day that can have happened, whichever of clock and pinned day is later."""
    return max(clock_day(), pinned_day() or "")


def clock_day() -> str:
    """Return the day by the clock, where the user is."""
    import datetime as dt  # noqa: PLC0415

    return dt.datetime.now().astimezone().date().isoformat()


def pinned_day() -> str | None:
    """Return the day that SOURCE_DATE_EPOCH names, in universal time."""
    import datetime as dt  # noqa: PLC0415
    import os  # noqa: PLC0415

    seconds = os.environ.get("SOURCE_DATE_EPOCH")
    if not seconds:
        return None
    try:
        return dt.datetime.fromtimestamp(int(seconds), dt.UTC).date().isoformat()
    except (ValueError, OverflowError, OSError) as error:
        text = f"SOURCE_DATE_EPOCH: '{seconds[:40]}' is not a number of seconds"
        raise click.UsageError(text) from error
