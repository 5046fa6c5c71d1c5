"""``eggfold new``: a folder to start from."""

from __future__ import annotations

import click

from eggfold.commands.completion import complete_eggs
from eggfold.commands.option_types import OneOf
from eggfold.commands.options import egg_option


@click.command()
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
def new(folder: str, units: str, egg: str | None) -> int:
    """Make a starter folder: a commented trial, register, bench, shelf and notebook.

    The folder is called bait if you name none. One that is there already has to be empty.

    \b
    eggfold new
    eggfold new my-bait --units us --egg us-extra-large
    """
    import shlex  # noqa: PLC0415
    from pathlib import Path  # noqa: PLC0415

    from eggfold.files.starting import write_folder  # noqa: PLC0415
    from eggfold.reference.starter import SYSTEMS  # noqa: PLC0415
    from eggfold.tasks.starter import build_starter, own_egg  # noqa: PLC0415

    system = SYSTEMS[units]
    files = build_starter(system, egg_option(egg) or own_egg(system))
    write_folder(folder, files)
    place = Path(folder)
    for name in files:
        if name.endswith(".yaml"):
            click.echo(f"{place / name}")
    trial = shlex.quote(str(place / "trial.yaml"))
    shown = "" if units == "metric" else f" --units {units}"
    click.echo(f"\nNow type: eggfold batch {trial}{shown}")
    return 0
