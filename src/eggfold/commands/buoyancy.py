"""``eggfold buoyancy``: what a bait on a cork ball lifts."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.options import (
    additives_option,
    bench_option,
    command,
    delivery_options,
    display_options,
    notes_options,
    recipe_option,
    strength_option,
    why_option,
)


@command()
@click.option("--core", metavar="SIZE", required=True, help="The cork ball, as in 12mm.")
@click.option("--skin", metavar="SIZE", help="Paste on each side of it: shows the lift.")
@click.option("--lift", metavar="MASS", help="The lift you want, below 0 to sink: shows the skin.")
@click.option(
    "--hook", metavar="MASS", default="0g", show_default=True, help="What the hook weighs."
)
@click.option("--water", metavar="TEMPERATURE", help="Lake water, 12degC if not given.")
@click.option("--cork-density", metavar="DENSITY", help="Cork, 0.15g/ml if not given.")
@click.option("--ten-balls", metavar="MASS", help="What ten of these cork balls weigh.")
@click.option("--paste-density", metavar="DENSITY", help="Paste, as in 1.16g/ml.")
@recipe_option
@strength_option
@additives_option
@bench_option
@notes_options
@delivery_options
@why_option
@display_options
def buoyancy(**given: Any) -> int:
    """Show what a bait on a cork ball lifts, or the skin for a lift.

    \b
    eggfold buoyancy --core 12mm --skin 2mm --hook 0.3g
    eggfold buoyancy --core 12mm --lift 0.1g --hook 0.3g --ten-balls 1.4g
    eggfold buoyancy --core 8mm --lift -0.2g --paste-density 1.18g/ml
    """
    from eggfold.tasks.buoyancy import run_buoyancy

    return run_buoyancy(given)
