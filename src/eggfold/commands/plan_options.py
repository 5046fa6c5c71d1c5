"""Options that the two plans share."""

from __future__ import annotations

import click

from eggfold.commands.options import several

plan_format_options = several(
    click.option(
        "--format",
        "form",
        type=click.Choice(["text", "json", "ics"]),
        default="text",
        show_default=True,
        help="How the answer is written; ics is a calendar.",
    ),
    click.option("--why", is_flag=True, help="Show how each figure came about."),
)
