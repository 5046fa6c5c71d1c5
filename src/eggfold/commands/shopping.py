"""``eggfold shopping``: one merged list."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.options import asked_of, format_option, sized_recipes, stock_of


@click.command()
@sized_recipes
@format_option
def shopping(recipes: tuple[str, ...], additives: str | None, form: str, **given: Any) -> int:
    """List what all batches need, what the shelf has of it, and the packs to buy.

    \b
    eggfold shopping recipes --as freebie --eggs 24
    eggfold shopping recipes/osierfen-caraway.yaml --as freebie --bait 10kg --date 2026-05-02
    """
    from eggfold.commands.run import answers, finish, need_strength, open_workspace  # noqa: PLC0415
    from eggfold.formats.json import dumps, shopping_document  # noqa: PLC0415
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.jobs.batch import build_batch  # noqa: PLC0415
    from eggfold.jobs.shopping import build_shopping  # noqa: PLC0415
    from eggfold.pages.shopping import shopping_page  # noqa: PLC0415

    asked = asked_of(given)
    workspace = open_workspace(recipes, additives, given, stocked=True)
    asked = need_strength(workspace, asked)
    batches = list(answers(workspace, asked.strength, lambda opened: build_batch(opened, asked)))
    items = build_shopping(batches, stock_of(workspace, given["day"]))
    if form == "json":
        click.echo(dumps(shopping_document(items)))
    elif batches:
        click.echo(page_text(shopping_page(items, len(batches))), nl=False)
    return finish(workspace)
