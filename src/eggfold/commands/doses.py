"""``eggfold doses``: which dose belongs in which batch."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_recipes
from eggfold.commands.options import (
    OneOf,
    additives_option,
    bench_option,
    command,
    delivery_options,
    display_options,
    notes_options,
    why_option,
)


@command()
@click.argument("recipes", nargs=-1, metavar="[RECIPE...]", shell_complete=complete_recipes)
@click.option("--eggs", metavar="N", help="Eggs of the freebie bowl; a full bowl if not given.")
@click.option(
    "--columns",
    metavar="LIST",
    help="Own columns instead, as in 1,2,4,6,12 or 1h,6f,1kg.",
)
@click.option(
    "--by",
    type=OneOf(["recipe", "name"]),
    default="recipe",
    show_default=True,
    help="Recipe by recipe as given, or by the additive's name.",
)
@additives_option
@bench_option
@notes_options
@delivery_options
@why_option
@display_options
def doses(**given: Any) -> int:
    """Show every additive's dose for its trial, a full bowl and a kilo of dry mix.

    In --columns a number is eggs: one egg shows the hookbait dose, more show the freebie dose. h or
    f behind it asks for the other (1f, 6h), kg means dry mix (1kg, 2.5kg, 1kgh).

    \b
    eggfold doses --additives recipes/additives.yaml
    eggfold doses recipes/osierfen-caraway.yaml --eggs 12
    eggfold doses recipes --columns 1,2,4,6,12 --by name
    """
    from eggfold.tasks.doses import run_doses

    return run_doses(given)
