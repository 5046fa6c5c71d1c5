"""``eggfold shelf``: what is there, and what runs out first."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_recipes
from eggfold.commands.options import (
    additives_option,
    command,
    date_option,
    display_options,
    format_option,
    shelf_option,
    why_option,
)


@command()
@click.argument("recipes", nargs=-1, metavar="[RECIPE|FOLDER]...", shell_complete=complete_recipes)
@shelf_option
@additives_option
@date_option
@format_option
@why_option
@display_options
def shelf(**given: Any) -> int:
    """Show what is there, what is past its date, and what runs out first.

    Without a recipe, those beside the shelf count.

    \b
    eggfold shelf recipes
    eggfold shelf --shelf recipes/shelf.yaml --date 2026-05-02
    """
    from eggfold.tasks.shelf import run_shelf

    return run_shelf(given)
