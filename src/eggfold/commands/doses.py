"""``eggfold doses``: which dose belongs in which batch."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.options import additives_option, delivery_options, whole_option


@click.command()
@click.argument("recipes", nargs=-1, metavar="[RECIPE...]")
@click.option("--eggs", metavar="N", default="6", show_default=True, help="Eggs of a freebie bowl.")
@additives_option
@delivery_options
def doses(recipes: tuple[str, ...], eggs: str, additives: str | None, **given: Any) -> int:
    """Show every additive's dose for a trial, a bowl and a kilo of dry mix.

    \b
    eggfold doses --additives recipes/additives.yaml
    eggfold doses recipes/osierfen-caraway.yaml --eggs 12
    """
    from eggfold.commands.delivery import Part, deliver, destination_of  # noqa: PLC0415
    from eggfold.commands.run import finish, open_workspace  # noqa: PLC0415
    from eggfold.files.workspace import open_companions  # noqa: PLC0415
    from eggfold.formats.json import doses_document  # noqa: PLC0415
    from eggfold.jobs.doses import default_columns, recipe_sheet, register_sheet  # noqa: PLC0415
    from eggfold.pages.doses import doses_page  # noqa: PLC0415

    to = destination_of(given)
    columns = default_columns(whole_option("eggs", eggs, 100_000))
    workspace = open_workspace(recipes, additives)
    if recipes:
        opened = []
        for one in workspace.recipes():
            errors = [p for p in one.problems if p.severity == "error"]
            workspace.problems += errors
            if not errors:
                opened.append(one)
        sheet = recipe_sheet(opened, columns)
    else:
        companions, workspace.problems = open_companions([], additives)
        if companions.register.file is None:
            raise click.UsageError("there is no additives.yaml here; name one with --additives")
        workspace.seen = 1
        sheet = register_sheet(companions.register, columns)
    whole = Part("doses", lambda: (doses_page(sheet),), lambda: doses_document(sheet))
    workspace.failures += deliver(to, whole)
    return finish(workspace)
