"""``eggfold boil``: seconds in the pan, and the clock beside it."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.options import (
    OneOf,
    additives_option,
    altitude_option,
    bench_option,
    command,
    delivery_options,
    display_options,
    notes_options,
    pan_option,
    recipe_option,
    several,
    strength_option,
    why_option,
)

kitchen_options = several(
    click.option("--start", metavar="TEMPERATURE", help="Paste before the boil, as in 20degC."),
    altitude_option,
    pan_option,
)
clock_options = several(
    click.option("--clock", "live", is_flag=True, help="Count each load down at the stove."),
    click.option("--loads", metavar="N", help="Loads of each size for the clock."),
    click.option("--eggs", metavar="N", help="Eggs of the recipe's batch for the clock (1)."),
)


@command()
@click.argument("sizes", nargs=-1, metavar="[SIZE]...")
@click.option(
    "--diameter", "diameters", metavar="SIZE", multiple=True, help="A size, the same as SIZE."
)
@recipe_option
@strength_option
@click.option("--until", type=OneOf(["just-set", "set", "cooked"]), help="One target only.")
@click.option("--for", "time", metavar="TIME", help="What this time does to the centre, as in 80s.")
@kitchen_options
@clock_options
@additives_option
@bench_option
@notes_options
@delivery_options
@why_option
@display_options
def boil(**given: Any) -> int:
    """Show how long each size boils, or what a given time reaches.

    \b
    eggfold boil
    eggfold boil 14mm 20mm
    eggfold boil 15mm --altitude 800m
    eggfold boil 16mm --clock --loads 3
    eggfold boil --clock --recipe recipes/osierfen-reedmace.yaml
    """
    from eggfold.tasks.boil import run_boil

    return run_boil(given)
