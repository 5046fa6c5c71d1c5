"""``eggfold powder``: what a powder and its paste are made of."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_recipes
from eggfold.commands.display import display_options
from eggfold.commands.options import (
    additives_option,
    bench_option,
    delivery_options,
    notes_options,
    shelf_option,
    strength_option,
    why_option,
)


@click.command()
@click.argument("recipe", metavar="RECIPE", shell_complete=complete_recipes)
@strength_option
@additives_option
@bench_option
@notes_options
@shelf_option
@delivery_options
@why_option
@display_options
def powder(recipe: str, strength: str | None, *, why: bool, **given: Any) -> int:
    """Show what is in the powder and the paste, and what one egg takes.

    \b
    eggfold powder recipes/osierfen-millet.yaml
    eggfold powder recipes/osierfen-caraway.yaml --as freebie --format json
    """
    from eggfold.commands.delivery import deliver_page, destination_of  # noqa: PLC0415
    from eggfold.commands.paste_of import one_egg  # noqa: PLC0415
    from eggfold.formats.json import document  # noqa: PLC0415
    from eggfold.pages.powder import powder_page  # noqa: PLC0415
    from eggfold.recipe.powder import build_powder  # noqa: PLC0415

    to = destination_of(given)
    found = one_egg(recipe, strength or "hookbait", given, stocked=True)
    if found.opened is None or found.batch is None:
        return found.code
    result = build_powder(found.opened, found.batch)
    deliver_page(
        to, "powder", lambda: powder_page(result, why=why), lambda: document("powder", result)
    )
    return 0
