"""``eggfold batch``: the card."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.display import display_options
from eggfold.commands.options import asked_of, delivery_options, sized_recipes, why_option

if TYPE_CHECKING:
    from eggfold.commands.delivery import Part
    from eggfold.jobs.batch import Batch
    from eggfold.jobs.shopping import ShoppingItem
    from eggfold.pages.page import Page


@click.command()
@sized_recipes
@delivery_options
@why_option
@display_options
def batch(recipes: tuple[str, ...], additives: str | None, why: bool, **given: Any) -> int:
    """Turn a trial into a batch: doses, powder, baits, boil, shopping.

    \b
    eggfold batch recipes/osierfen-caraway.yaml
    eggfold batch recipes/osierfen-caraway.yaml --as freebie --eggs 6
    eggfold batch recipes --as freebie --bait 10kg --format json
    eggfold batch 'recipes/*.yaml' --as freebie --eggs 6 --output cards.pdf
    """
    from eggfold.commands.delivery import deliver, destination_of  # noqa: PLC0415
    from eggfold.commands.run import answers, finish, need_strength, open_workspace  # noqa: PLC0415
    from eggfold.jobs.batch import build_batch  # noqa: PLC0415
    from eggfold.jobs.shopping import build_shopping  # noqa: PLC0415

    asked, to = asked_of(given), destination_of(given)
    workspace = open_workspace(recipes, additives)
    asked = need_strength(workspace, asked)
    batches = list(answers(workspace, asked.strength, lambda opened: build_batch(opened, asked)))
    if batches or to.form == "json":
        items = build_shopping(batches)
        alone = items if len(batches) == 1 else None
        parts = [_card(one, alone, to.setting.date, why=why) for one in batches]
        last = [_list(items, len(batches))] if len(batches) > 1 else []
        whole = _document(batches, items, [*parts, *last])
        workspace.failures += deliver(to, whole, [*parts, *last])
    return finish(workspace)


def _card(batch: Batch, buy: tuple[ShoppingItem, ...] | None, day: str, *, why: bool) -> Part:
    """Return a card; ``buy`` is its own list where it stands alone."""
    from eggfold.commands.delivery import Part, file_stem  # noqa: PLC0415
    from eggfold.formats.json import batch_data, batch_document  # noqa: PLC0415
    from eggfold.jobs.shopping import build_shopping  # noqa: PLC0415
    from eggfold.pages.card import card_page  # noqa: PLC0415

    return Part(
        f"{file_stem(batch.file)}-{batch.strength}-{batch.eggs}",
        lambda: (card_page(batch, buy, why=why, day=day),),
        lambda: batch_document([batch_data(batch)], build_shopping([batch])),
    )


def _list(items: tuple[ShoppingItem, ...], batches: int) -> Part:
    """Return the merged list of several cards."""
    from eggfold.commands.delivery import Part  # noqa: PLC0415
    from eggfold.formats.json import shopping_document  # noqa: PLC0415
    from eggfold.pages.shopping import shopping_page  # noqa: PLC0415

    return Part(
        "shopping",
        lambda: (shopping_page(items, batches),),
        lambda: shopping_document(items),
    )


def _document(batches: list[Batch], items: tuple[ShoppingItem, ...], parts: list[Part]) -> Part:
    """Return the cards and their list as one document."""
    from eggfold.commands.delivery import Part  # noqa: PLC0415
    from eggfold.formats.json import batch_data, batch_document  # noqa: PLC0415

    def pages() -> tuple[Page, ...]:
        return tuple(page for part in parts for page in part.pages())

    return Part("batch", pages, lambda: batch_document(map(batch_data, batches), items))
