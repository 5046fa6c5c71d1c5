"""The group of all commands; imports nothing but click until a command runs."""

from __future__ import annotations

import click

from eggfold import __version__
from eggfold.commands.batch import batch
from eggfold.commands.boil import boil
from eggfold.commands.buoyancy import buoyancy
from eggfold.commands.campaign import campaign
from eggfold.commands.check import check
from eggfold.commands.doses import doses
from eggfold.commands.labels import labels
from eggfold.commands.new import new
from eggfold.commands.note import note
from eggfold.commands.powder import powder
from eggfold.commands.rolling import rolling
from eggfold.commands.schema import schema
from eggfold.commands.shelf import shelf
from eggfold.commands.shopping import shopping
from eggfold.commands.trials import trials


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="eggfold", message="%(prog)s %(version)s")
def root() -> None:
    """Turn a one-egg trial of home-made fishing bait into a batch.

    \b
    eggfold batch recipes/osierfen-caraway.yaml --as freebie --eggs 6
    eggfold check recipes
    """


for command in (
    batch,
    shopping,
    doses,
    boil,
    buoyancy,
    powder,
    labels,
    shelf,
    note,
    trials,
    rolling,
    campaign,
    check,
    new,
    schema,
):
    root.add_command(command)
