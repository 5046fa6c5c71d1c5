"""A choice of words that names the nearest when none of them is given."""

from __future__ import annotations

from typing import Any

import click


class OneOf(click.Choice[str]):
    """One word out of several."""

    def get_invalid_choice_message(self, value: Any, ctx: click.Context | None) -> str:
        """Return what is wrong, with the nearest word."""
        from eggfold.nearest import nearest  # noqa: PLC0415

        near = nearest(str(value), self.choices)
        hint = f" Did you mean {near}?" if near else ""
        return f"{super().get_invalid_choice_message(value, ctx)}{hint}"
