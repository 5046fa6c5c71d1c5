"""A choice of words that names the nearest when none of them is given."""

from __future__ import annotations

from typing import Any

import click


class OneOf(click.Choice[str]):
    """One word out of several."""

    def get_invalid_choice_message(self, value: Any, ctx: click.Context | None) -> str:
        """Return what is wrong, with the nearest word."""
        from eggfold.nearest import did_you_mean  # noqa: PLC0415

        hint = did_you_mean(str(value), self.choices)
        message = super().get_invalid_choice_message(value, ctx)
        return f"{message} {hint[0].upper()}{hint[1:]}" if hint else message
