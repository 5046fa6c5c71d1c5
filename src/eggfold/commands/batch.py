"""``eggfold batch``: the card."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.display import display_options
from eggfold.commands.options import asked_of, delivery_options, sized_recipes, why_option

if TYPE_CHECKING:
    from collections.abc import Mapping

    from eggfold.commands.delivery import Part
    from eggfold.pages.page import Page
    from eggfold.recipe.batch import Batch
    from eggfold.stock.cost import BatchCost
    from eggfold.stock.holdings import ShelfToday
    from eggfold.stock.needs import NeedKey
    from eggfold.stock.shopping import ShoppingItem

    Purchase = Mapping[NeedKey, ShoppingItem]


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
    from eggfold.recipe.batch import build_batch  # noqa: PLC0415
    from eggfold.stock.needs import needs_of  # noqa: PLC0415
    from eggfold.stock.shopping import items_by_need, stock_on  # noqa: PLC0415

    asked, to = asked_of(given), destination_of(given)
    workspace = open_workspace(recipes, additives, given, stocked=True)
    asked = need_strength(workspace, asked)
    batches = list(answers(workspace, asked.strength, lambda one: build_batch(one, asked)))
    if batches or to.form == "json":
        stock = stock_on(workspace.companions.shelf, given["date"])
        bought = items_by_need(needs_of((one, None) for one in batches), stock)
        alone = len(batches) == 1
        parts = [_card(one, bought, stock, given["date"], alone=alone, why=why) for one in batches]
        last = [] if alone or not batches else [_list(bought, batches)]
        whole = _document(batches, bought, [*parts, *last])
        workspace.failures += deliver(to, whole, [*parts, *last])
    return finish(workspace)


def _card(
    batch: Batch,
    bought: Purchase,
    stock: ShelfToday | None,
    day: str,
    *,
    alone: bool,
    why: bool,
) -> Part:
    """Return a card, with its own shopping list where it stands ``alone``."""
    from eggfold.commands.delivery import Part, file_stem  # noqa: PLC0415

    def page() -> Page:
        from eggfold.pages.card import card_page  # noqa: PLC0415
        from eggfold.stock.shopping import listed  # noqa: PLC0415

        items = listed(bought) if alone else None
        return card_page(batch, items, _cost(batch, bought), why=why, day=day)

    def data() -> dict[str, Any]:
        from eggfold.formats.json import document  # noqa: PLC0415
        from eggfold.stock.shopping import build_shopping  # noqa: PLC0415

        data = {"batches": [_data(batch, bought)], "shopping": build_shopping([batch], stock)}
        return document("batch", data)

    stem = f"{file_stem(batch.file)}-{batch.strength}-{batch.eggs}"
    return Part(stem, lambda: (page(),), data)


def _list(bought: Purchase, batches: list[Batch]) -> Part:
    """Return the merged list of several cards."""
    from eggfold.commands.delivery import Part  # noqa: PLC0415
    from eggfold.pages.shopping import shopping_page  # noqa: PLC0415
    from eggfold.stock.shopping import listed  # noqa: PLC0415
    from eggfold.tasks.shopping import shopping_document  # noqa: PLC0415

    items = listed(bought)
    return Part(
        "shopping",
        lambda: (shopping_page(items, batches),),
        lambda: shopping_document(items, batches),
    )


def _document(batches: list[Batch], bought: Purchase, parts: list[Part]) -> Part:
    """Return the cards and their list as one document."""
    from eggfold.commands.delivery import Part  # noqa: PLC0415

    def pages() -> tuple[Page, ...]:
        return tuple(page for part in parts for page in part.pages())

    def data() -> dict[str, Any]:
        from eggfold.formats.json import document  # noqa: PLC0415
        from eggfold.stock.shopping import listed  # noqa: PLC0415

        data = {"batches": [_data(one, bought) for one in batches], "shopping": listed(bought)}
        return document("batch", data)

    return Part("batch", pages, data)


def _data(batch: Batch, bought: Purchase) -> dict[str, Any]:
    from eggfold.formats.json import data_of  # noqa: PLC0415

    return {**data_of(batch), "cost": data_of(_cost(batch, bought))}


def _cost(batch: Batch, bought: Purchase) -> BatchCost | None:
    from eggfold.stock.cost import build_cost  # noqa: PLC0415

    return build_cost(batch, bought)
