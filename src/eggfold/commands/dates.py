"""Which day it is: the one place that looks at the clock."""

from __future__ import annotations

import click

_YEAR_3000_S = 32_503_680_000
"""Seconds from 1970 to the first day that no file may name."""


def read_date(context: click.Context, option: click.Parameter, value: str | None) -> str:
    """Return the day of an option, else of SOURCE_DATE_EPOCH, else today, as YYYY-MM-DD."""
    return today() if value is None else _day(context, option, value)


def read_day(context: click.Context, option: click.Parameter, value: str | None) -> str | None:
    """Return the day of an option that may be left out, as YYYY-MM-DD."""
    return None if value is None else _day(context, option, value)


def _day(context: click.Context, option: click.Parameter, value: str) -> str:
    from eggfold.amounts import AmountError  # noqa: PLC0415
    from eggfold.files.dates import parse_date  # noqa: PLC0415

    try:
        return parse_date(value)
    except AmountError as error:
        text = f"{error.message}; try: {error.hint}"
        raise click.BadParameter(text, context, option) from error


def today() -> str:
    """Return the day that SOURCE_DATE_EPOCH names in universal time, else the clock's."""
    return _pinned() or _clock()


def past_day(day: str) -> str:
    """Return the day of something that has happened; a day that has not come yet is refused."""
    last = last_past_day()
    if day > last:
        raise click.UsageError(f"--date: {day} is in the future; try: {last} or a day before it")
    return day


def last_past_day() -> str:
    """Return the last day that can have happened, by the clock or as it is pinned."""
    return max(_clock(), _pinned() or "")


def _clock() -> str:
    import time  # noqa: PLC0415

    return time.strftime("%Y-%m-%d")


def _pinned() -> str | None:
    import os  # noqa: PLC0415
    import time  # noqa: PLC0415

    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not epoch:
        return None
    if not (epoch.isascii() and epoch.isdecimal() and len(epoch) <= 11):
        raise click.UsageError("SOURCE_DATE_EPOCH is not a whole number of seconds")
    if int(epoch) >= _YEAR_3000_S:
        raise click.UsageError("SOURCE_DATE_EPOCH is after the year 2999")
    return time.strftime("%Y-%m-%d", time.gmtime(int(epoch)))
