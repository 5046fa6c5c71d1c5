"""``eggfold shopping``: one merged list."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.display import display_options
from eggfold.commands.options import (
    asked_of,
    batch_options,
    delivery_options,
    recipes_and_plans,
    why_option,
)

if TYPE_CHECKING:
    from eggfold.recipe.batch import Batch


@click.command()
@recipes_and_plans
@batch_options
@delivery_options
@why_option
@display_options
def shopping(recipes: tuple[str, ...], additives: str | None, *, why: bool, **given: Any) -> int:
    """List what all batches need, what the shelf has of it, and the packs to buy.

    \b
    eggfold shopping recipes --as freebie --eggs 24
    eggfold shopping recipes/osierfen-caraway.yaml --as freebie --bait 10kg
    eggfold shopping recipes/weekend.yaml
    """
    from eggfold.commands.delivery import Part, deliver, destination_of  # noqa: PLC0415
    from eggfold.commands.plans import plan_batches, split_plans  # noqa: PLC0415
    from eggfold.commands.run import answers, finish, need_strength, open_workspace  # noqa: PLC0415
    from eggfold.pages.shopping import shopping_page  # noqa: PLC0415
    from eggfold.recipe.batch import build_batch  # noqa: PLC0415
    from eggfold.stock.shopping import build_shopping, stock_on  # noqa: PLC0415
    from eggfold.tasks.shopping import shopping_document  # noqa: PLC0415

    to = destination_of(given)
    plans, recipes = split_plans(recipes)
    workspace = open_workspace(recipes, additives, given, stocked=True)
    batches: list[Batch] = []
    if recipes:
        asked = need_strength(workspace, asked_of(given))
        batches += answers(workspace, asked.strength, lambda one: build_batch(one, asked))
    for plan in plans:
        batches += plan_batches(workspace, plan, given["date"])
    items = build_shopping(batches, stock_on(workspace.companions.shelf, given["date"]))
    if batches or to.form == "json":
        whole = Part(
            "shopping",
            lambda: (shopping_page(items, batches, why=why),),
            lambda: shopping_document(items, batches),
        )
        workspace.failures += deliver(to, whole)
    return finish(workspace)
