"""Which day a page is made on."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from datetime import date


def date_of(name: str, text: str) -> date:
    """Read a day given on the command line as YYYY-MM-DD."""
    from datetime import date  # noqa: PLC0415

    try:
        if len(text) == 10 and text.isascii():
            return _within_reason(date.fromisoformat(text))
    except ValueError:
        pass
    raise click.UsageError(f"--{name}: '{text[:40]}' is not a day; write it as 2026-01-31")


def today(text: str | None) -> date:
    """Return the day of --date, else of SOURCE_DATE_EPOCH, else of the clock."""
    from datetime import UTC, datetime  # noqa: PLC0415

    if text is not None:
        return date_of("date", text)
    epoch = os.environ.get("SOURCE_DATE_EPOCH")
    if not epoch:
        return datetime.now(UTC).astimezone().date()
    try:
        return _within_reason(datetime.fromtimestamp(int(epoch), UTC).date())
    except (ValueError, OverflowError, OSError) as error:
        raise click.UsageError(
            f"SOURCE_DATE_EPOCH is '{epoch[:40]}'; it counts seconds, as 1767225600 does"
        ) from error


def _within_reason(day: date) -> date:
    if 1900 <= day.year <= 2999:
        return day
    raise ValueError(day)
