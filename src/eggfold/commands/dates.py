"""Which day a page is made on."""

from __future__ import annotations

import re

import click


def read_date(context: click.Context, option: click.Parameter, value: str | None) -> str:
    """Return the day of an option, else of SOURCE_DATE_EPOCH, else today, as YYYY-MM-DD."""
    return _today() if value is None else _day(context, option, value)


def read_day(context: click.Context, option: click.Parameter, value: str | None) -> str | None:
    """Return the day of an option that may be left out, as YYYY-MM-DD."""
    return None if value is None else _day(context, option, value)


def _day(context: click.Context, option: click.Parameter, value: str) -> str:
    from datetime import date  # noqa: PLC0415

    if re.fullmatch(r"(?:19|2[0-9])[0-9]{2}-[0-9]{2}-[0-9]{2}", value):
        try:
            return date.fromisoformat(value).isoformat()
        except ValueError:
            pass
    text = f"'{value[:40]}' is no day; write it as 2026-01-31"
    raise click.BadParameter(text, context, option)


def _today() -> str:
    import os  # noqa: PLC0415
    import time  # noqa: PLC0415

    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not epoch:
        return time.strftime("%Y-%m-%d")
    if not re.fullmatch(r"[0-9]{1,11}", epoch):
        raise click.UsageError("SOURCE_DATE_EPOCH is not a whole number of seconds")
    return time.strftime("%Y-%m-%d", time.gmtime(int(epoch)))
