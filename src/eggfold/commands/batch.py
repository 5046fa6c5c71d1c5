"""``eggfold batch``: the card."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.options import asked_of, page_options, sized_recipes

if TYPE_CHECKING:
    from eggfold.jobs.batch import Batch


@click.command()
@sized_recipes
@page_options
def batch(
    recipes: tuple[str, ...], additives: str | None, form: str, why: bool, **given: Any
) -> int:
    """Turn a trial into a batch: doses, powder, baits, boil, shopping.

    \b
    eggfold batch recipes/osierfen-caraway.yaml
    eggfold batch recipes/osierfen-caraway.yaml --as freebie --eggs 6
    eggfold batch recipes --as freebie --bait 10kg --format json
    """
    from eggfold.commands.run import answers, finish, need_strength, open_workspace  # noqa: PLC0415
    from eggfold.jobs.batch import build_batch  # noqa: PLC0415

    asked = asked_of(given)
    workspace = open_workspace(recipes, additives, given)
    asked = need_strength(workspace, asked)
    batches = answers(workspace, asked.strength, lambda opened: build_batch(opened, asked))
    if form == "json":
        _json(batches)
    else:
        _cards(list(batches), why=why)
    return finish(workspace)


def _json(batches: Iterator[Batch]) -> None:
    from eggfold.formats.json import batch_data, batch_document, dumps  # noqa: PLC0415
    from eggfold.jobs.shopping import Shopping  # noqa: PLC0415

    shopping = Shopping()
    listed = []
    for one in batches:
        shopping.add(one)
        listed.append(batch_data(one))
    click.echo(dumps(batch_document(listed, shopping.items())))


def _cards(batches: list[Batch], *, why: bool) -> None:
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.jobs.shopping import build_shopping  # noqa: PLC0415
    from eggfold.pages.card import card_page  # noqa: PLC0415
    from eggfold.pages.shopping import shopping_page  # noqa: PLC0415

    items = build_shopping(batches)
    alone = items if len(batches) == 1 else None
    for i, one in enumerate(batches):
        click.echo(("\n" if i else "") + page_text(card_page(one, alone, why=why)), nl=False)
    if len(batches) > 1:
        click.echo("\n" + page_text(shopping_page(items, len(batches))), nl=False)
