"""``eggfold doses``: which dose belongs in which batch."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.options import (
    additives_option,
    bench_option,
    format_option,
    notes_options,
    whole_option,
)


@click.command()
@click.argument("recipes", nargs=-1, metavar="[RECIPE...]")
@click.option("--eggs", metavar="N", default="6", show_default=True, help="Eggs of a freebie bowl.")
@additives_option
@bench_option
@notes_options
@format_option
def doses(
    recipes: tuple[str, ...], eggs: str, additives: str | None, form: str, **given: Any
) -> int:
    """Show every additive's dose for a trial, a bowl and a kilo of dry mix.

    \b
    eggfold doses --additives recipes/additives.yaml
    eggfold doses recipes/osierfen-caraway.yaml --eggs 12
    """
    from eggfold.commands.run import finish, open_workspace  # noqa: PLC0415
    from eggfold.files.workspace import open_companions  # noqa: PLC0415
    from eggfold.formats.json import doses_document, dumps  # noqa: PLC0415
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.jobs.bench import build_bench  # noqa: PLC0415
    from eggfold.jobs.doses import default_columns, recipe_sheet, register_sheet  # noqa: PLC0415
    from eggfold.pages.doses import doses_page  # noqa: PLC0415

    columns = default_columns(whole_option("eggs", eggs, 100_000))
    workspace = open_workspace(recipes, additives, given)
    if recipes:
        opened = []
        for one in workspace.recipes():
            errors = [p for p in one.problems if p.severity == "error"]
            workspace.problems += errors
            if not errors:
                opened.append(one)
        sheet = recipe_sheet(opened, columns)
    else:
        companions, workspace.problems = open_companions([], additives, given["bench"])
        if companions.register.file is None:
            raise click.UsageError("there is no additives.yaml here; name one with --additives")
        workspace.seen = 1
        sheet = register_sheet(companions.register, columns, build_bench(companions.bench))
    click.echo(
        dumps(doses_document(sheet)) if form == "json" else page_text(doses_page(sheet)).rstrip()
    )
    return finish(workspace)
