"""``eggfold powder``: what a powder and its paste are made of."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_recipes
from eggfold.commands.options import (
    additives_option,
    bench_option,
    command,
    delivery_options,
    display_options,
    notes_options,
    shelf_option,
    strength_option,
    why_option,
)


@command()
@click.argument("recipe", metavar="RECIPE", shell_complete=complete_recipes)
@strength_option
@click.option(
    "--swap",
    "swaps",
    multiple=True,
    metavar="OLD=NEW",
    help="One powder for another; again for more.",
)
@additives_option
@bench_option
@notes_options
@shelf_option
@delivery_options
@why_option
@display_options
def powder(**given: Any) -> int:
    """Show what is in the powder and the paste, and what one egg takes.

    \b
    eggfold powder recipes/osierfen-millet.yaml
    eggfold powder recipes/osierfen-caraway.yaml --as freebie --format json
    eggfold powder recipes/osierfen-millet.yaml --swap "Semolina=Oats"
    """
    from eggfold.tasks.powder import run_powder

    return run_powder(given)
