"""Kinds of option values: words of a list with the nearest one named, and dates."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

import click


class Words(click.ParamType):
    """One word of a list that is loaded when it is needed."""

    def __init__(self, name: str, known: Callable[[], Iterable[str]]) -> None:
        self.name = name
        self.known = known

    def get_metavar(self, param: click.Parameter, ctx: click.Context) -> str:  # noqa: ARG002
        """Return the list as help shows it."""
        return f"[{'|'.join(self.known())}]"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Return the word; an unknown one fails with the nearest."""
        from eggfold.nearest import did_you_mean, one_of  # noqa: PLC0415

        known = list(self.known())
        if value.lower() in known:
            return value.lower()
        hint = did_you_mean(value, known) or f"it is one of {one_of(known)}"
        return self.fail(f"'{value[:40]}' is no {self.name}; {hint}", param, ctx)


def format_names() -> Iterable[str]:
    """Return the formats of pages."""
    from eggfold.formats.registry import FORMATS  # noqa: PLC0415

    return FORMATS


def paper_names() -> Iterable[str]:
    """Return the papers."""
    from eggfold.reference.papers import PAPERS  # noqa: PLC0415

    return PAPERS


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
