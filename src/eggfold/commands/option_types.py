"""Options whose value is checked as it is read: one word of a list, mostly."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import click

CALENDAR = "ics"


def read_format(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the format of an option."""
    from eggfold.formats.registry import FORMATS  # noqa: PLC0415

    return _one_of(FORMATS, "format", value, ctx, param)


def read_plan_format(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the format of a plan, which can be a calendar too."""
    from eggfold.formats.registry import FORMATS  # noqa: PLC0415

    return _one_of([*FORMATS, CALENDAR], "format", value, ctx, param)


def read_paper(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the paper of an option."""
    from eggfold.reference.papers import PAPERS  # noqa: PLC0415

    return _one_of(PAPERS, "paper", value, ctx, param)


def read_output(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
    """Return the path of an option; an empty one would mean the working folder."""
    if value == "":
        raise click.BadParameter("the path is empty; the working folder is .", ctx, param)
    return value


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


class OneOf(click.Choice[str]):
    """One word out of several."""

    def get_invalid_choice_message(self, value: Any, ctx: click.Context | None) -> str:
        """Return what is wrong, with the nearest word."""
        from eggfold.nearest import did_you_mean  # noqa: PLC0415

        hint = did_you_mean(str(value), self.choices)
        message = super().get_invalid_choice_message(value, ctx)
        return f"{message} {hint[0].upper()}{hint[1:]}" if hint else message
