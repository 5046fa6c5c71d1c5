"""``eggfold shopping``: one merged list."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.display import display_options
from eggfold.commands.options import asked_of, delivery_options, sized_recipes


@click.command()
@sized_recipes
@delivery_options
@display_options
def shopping(recipes: tuple[str, ...], additives: str | None, **given: Any) -> int:
    """List what all batches need, merged by name.

    \b
    eggfold shopping recipes --as freebie --eggs 24
    eggfold shopping recipes/osierfen-caraway.yaml --as freebie --bait 10kg
    """
    from eggfold.commands.delivery import Part, deliver, destination_of  # noqa: PLC0415
    from eggfold.commands.run import answers, finish, need_strength, open_workspace  # noqa: PLC0415
    from eggfold.formats.json import shopping_document  # noqa: PLC0415
    from eggfold.jobs.batch import build_batch  # noqa: PLC0415
    from eggfold.jobs.shopping import build_shopping  # noqa: PLC0415
    from eggfold.pages.shopping import shopping_page  # noqa: PLC0415

    asked, to = asked_of(given), destination_of(given)
    workspace = open_workspace(recipes, additives)
    asked = need_strength(workspace, asked)
    batches = list(answers(workspace, asked.strength, lambda opened: build_batch(opened, asked)))
    items = build_shopping(batches)
    if batches or to.form == "json":
        whole = Part(
            "shopping",
            lambda: (shopping_page(items, len(batches)),),
            lambda: shopping_document(items),
        )
        workspace.failures += deliver(to, whole)
    return finish(workspace)
