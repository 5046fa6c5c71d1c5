"""``eggfold labels``: freezer-bag labels."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.options import (
    batch_options,
    command,
    delivery_options,
    display_options,
    read_day,
    recipes_or_here,
    why_option,
)


@command()
@recipes_or_here
@batch_options
@click.option("--bag", metavar="AMOUNT", help="One label for each bag of this much dried bait.")
@click.option("--from-shelf", is_flag=True, help="Label the bait that is on the shelf.")
@click.option("--months", metavar="N", help="How long the bait keeps frozen (6 if not given).")
@click.option(
    "--days", metavar="N", help="How long it keeps dried and not frozen: your own figure."
)
@click.option(
    "--frozen",
    callback=read_day,
    metavar="DATE",
    help="The day it was frozen, as in 2026-02-02; a blank if it is not given.",
)
@click.option(
    "--grid",
    metavar="COLUMNSxROWS",
    default="2x4",
    show_default=True,
    help="How many labels a sheet has.",
)
@delivery_options
@why_option
@display_options
def labels(**given: Any) -> int:
    """Make freezer-bag labels for a batch; --date is the day it was made.

    Without a recipe, for all in the working folder.

    \b
    eggfold labels recipes/osierfen-caraway.yaml --as freebie --eggs 12 --bag 500g
    eggfold labels recipes --date 2026-01-31 --frozen 2026-02-02 --grid 3x8
    eggfold labels recipes --as freebie --eggs 12 --grid 2x5 --output labels.pdf
    """
    from eggfold.tasks.labels import run_labels

    return run_labels(given)
