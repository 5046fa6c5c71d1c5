"""What option values mean: words of a list with the nearest one named, and dates."""

from __future__ import annotations

import re
from collections.abc import Iterable

import click


def read_format(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the format of an option."""
    from eggfold.formats.registry import FORMATS  # noqa: PLC0415

    return _one_of(FORMATS, "format", value, ctx, param)


def read_paper(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the paper of an option."""
    from eggfold.reference.papers import PAPERS  # noqa: PLC0415

    return _one_of(PAPERS, "paper", value, ctx, param)


def _one_of(
    known: Iterable[str], noun: str, value: str | None, ctx: click.Context, param: click.Parameter
) -> str | None:
    """Return the word in small letters; an unknown one fails with the nearest."""
    known = list(known)
    if value is None or value.lower() in known:
        return value and value.lower()
    from eggfold.nearest import did_you_mean, one_of  # noqa: PLC0415

    hint = did_you_mean(value, known) or f"it is one of {one_of(known)}"
    raise click.BadParameter(f"'{value[:40]}' is no {noun}; {hint}", ctx, param)


def read_date(ctx: click.Context, param: click.Parameter, value: str | None) -> str:
    """Return the date of an option, else of SOURCE_DATE_EPOCH, else today's, as YYYY-MM-DD."""
    if value is None:
        return today()
    from datetime import date  # noqa: PLC0415

    if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
        try:
            return date.fromisoformat(value).isoformat()
        except ValueError:
            pass
    raise click.BadParameter(f"'{value[:40]}' is no date; write it as 2026-01-31", ctx, param)


def today() -> str:
    """Return the date that SOURCE_DATE_EPOCH states, else the clock's, as YYYY-MM-DD."""
    import os  # noqa: PLC0415
    import time  # noqa: PLC0415

    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not epoch:
        return time.strftime("%Y-%m-%d")
    if not re.fullmatch(r"[0-9]{1,11}", epoch):
        raise click.UsageError("SOURCE_DATE_EPOCH is not a whole number of seconds")
    return time.strftime("%Y-%m-%d", time.gmtime(int(epoch)))
