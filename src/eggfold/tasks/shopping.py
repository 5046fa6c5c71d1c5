"""What to buy for batches."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from eggfold.files.companions import each_once
from eggfold.formats.json import Data, data_of, document
from eggfold.stock.shopping import total_of

if TYPE_CHECKING:
    from eggfold.recipe.batch import Batch
    from eggfold.stock.shopping import ShoppingItem


def shopping_document(items: Sequence[ShoppingItem], batches: Iterable[Batch]) -> Data:
    """Return the object of ``shopping``."""
    total = total_of(items)
    return document(
        "shopping",
        {
            "currency": total.currency,
            "items": [{**data_of(item), "lasts_eggs": item.lasts_eggs} for item in items],
            "cost": total.cost,
            "unpriced": total.unpriced if total.currency else [],
            "companions": each_once(batch.companions for batch in batches),
        },
    )
