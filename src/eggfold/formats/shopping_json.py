"""What to buy and what it costs as JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from eggfold.formats.json import Data, companions_data, money_data

if TYPE_CHECKING:
    from eggfold.recipe.batch import Batch
    from eggfold.stock.cost import BatchCost
    from eggfold.stock.shopping import ShoppingItem


def shopping_document(items: Iterable[ShoppingItem], batches: Iterable[Batch]) -> Data:
    """Return the object of ``shopping``."""
    from eggfold.files.companions import each_once  # noqa: PLC0415 - other documents need no job
    from eggfold.stock.shopping import total_of  # noqa: PLC0415

    items = tuple(items)
    total = total_of(items)
    return {
        "kind": "shopping",
        "version": 1,
        "currency": total.currency,
        "items": [{**item_data(item), "lasts_eggs": item.lasts_eggs} for item in items],
        "cost": money_data(total.cost),
        "unpriced": list(total.unpriced) if total.currency else [],
        "companions": companions_data(each_once(batch.companions for batch in batches)),
    }


def item_data(item: ShoppingItem) -> Data:
    """Return one thing to buy."""
    from eggfold.stock.shopping import plain_number  # noqa: PLC0415

    return {
        "name": item.name,
        "need": item.need,
        "unit": item.unit,
        "in_hand": item.in_hand,
        "buy": [
            {
                "pack": plain_number(line.size),
                "label": line.pack,
                "count": line.packs,
                "price": money_data(line.price),
            }
            for line in item.buy
        ],
        "cost": money_data(item.cost),
        "left": item.left,
        "past_date": item.past,
        "lacks": item.lacks,
    }


def cost_data(cost: BatchCost | None) -> Data | None:
    """Return what a batch's material costs."""
    if cost is None:
        return None
    return {
        "currency": cost.currency,
        "material": float(cost.material),
        "per_kg": float(cost.per_kg),
        "per_bait": [float(one) for one in cost.per_bait],
        "unpriced": list(cost.unpriced),
    }
