"""``eggfold shopping``: one merged list."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.options import asked_of, format_option, sized_recipes, stock_of, today_of

if TYPE_CHECKING:
    from eggfold.jobs.batch import Batch


@click.command()
@sized_recipes
@format_option
def shopping(recipes: tuple[str, ...], additives: str | None, form: str, **given: Any) -> int:
    """List what all batches need, what the shelf has of it, and the packs to buy.

    \b
    eggfold shopping recipes --as freebie --eggs 24
    eggfold shopping recipes/osierfen-caraway.yaml --as freebie --bait 10kg --date 2026-05-02
    eggfold shopping recipes/weekend.yaml
    """
    from eggfold.commands.plans import plan_batches, split_plans  # noqa: PLC0415
    from eggfold.commands.run import answers, finish, need_strength, open_workspace  # noqa: PLC0415
    from eggfold.formats.json import dumps, shopping_document  # noqa: PLC0415
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.jobs.batch import build_batch  # noqa: PLC0415
    from eggfold.jobs.shopping import build_shopping  # noqa: PLC0415
    from eggfold.pages.shopping import shopping_page  # noqa: PLC0415

    plans, recipes = split_plans(recipes)
    workspace = open_workspace(recipes, additives, given, stocked=True)
    batches: list[Batch] = []
    if recipes:
        asked = need_strength(workspace, asked_of(given))
        batches += answers(workspace, asked.strength, lambda one: build_batch(one, asked))
    for plan in plans:
        batches += plan_batches(workspace, plan, today_of(given["day"]).isoformat())
    items = build_shopping(batches, stock_of(workspace, given["day"]))
    if form == "json":
        click.echo(dumps(shopping_document(items)))
    elif batches:
        click.echo(page_text(shopping_page(items, len(batches))), nl=False)
    return finish(workspace)
