"""``eggfold powder``: what a powder and its paste are made of."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.options import (
    additives_option,
    bench_option,
    notes_options,
    page_options,
    strength_option,
)


@click.command()
@click.argument("recipe", metavar="RECIPE")
@strength_option
@additives_option
@bench_option
@notes_options
@page_options
def powder(recipe: str, strength: str | None, form: str, why: bool, **given: Any) -> int:
    """Show what is in the powder and the paste, and what one egg takes.

    \b
    eggfold powder recipes/osierfen-millet.yaml
    eggfold powder recipes/osierfen-caraway.yaml --as freebie --format json
    """
    from eggfold.commands.paste_of import one_egg  # noqa: PLC0415
    from eggfold.formats.json import dumps  # noqa: PLC0415
    from eggfold.formats.json_paste import powder_document  # noqa: PLC0415
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.jobs.powder import build_powder  # noqa: PLC0415
    from eggfold.pages.powder import powder_page  # noqa: PLC0415

    found = one_egg(recipe, strength or "hookbait", given)
    if found.opened is None or found.batch is None:
        return found.code
    result = build_powder(found.opened, found.batch)
    if form == "json":
        click.echo(dumps(powder_document(result)))
    else:
        click.echo(page_text(powder_page(result, why=why)), nl=False)
    return 0
