"""``eggfold new``: a folder to start from."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_eggs
from eggfold.commands.options import OneOf, command


@command()
@click.argument("folder", metavar="[DIR]", default="bait")
@click.option(
    "--units",
    type=OneOf(["metric", "imperial", "us"]),
    default="metric",
    show_default=True,
    help="The units you measure in.",
)
@click.option(
    "--egg",
    metavar="EGG",
    shell_complete=complete_eggs,
    help="Your eggs: eu-medium, us-large or 52g.",
)
def new(**given: Any) -> int:
    """Make a starter folder: a commented trial, register, bench, shelf, notebook and plans.

    The folder is called bait if you name none. One that is there already has to be empty.

    \b
    eggfold new
    eggfold new my-bait --units us --egg us-extra-large
    """
    from eggfold.tasks.new import run_new

    return run_new(given)
