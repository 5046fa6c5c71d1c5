"""What the material of a batch costs, per kilo and per bait."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.records import NamedTuple
from eggfold.stock.needs import batch_needs

if TYPE_CHECKING:
    from collections.abc import Mapping
    from fractions import Fraction

    from eggfold.recipe.batch import Batch
    from eggfold.stock.needs import NeedKey, Unit
    from eggfold.stock.shopping import ShoppingItem


class CostPart(NamedTuple):
    """What a batch takes of one thing, and money for one unit of it."""

    name: str
    amount: float
    unit: Unit
    unit_price: Fraction


class BatchCost(NamedTuple):
    """Money for the material of a batch [currency], and what of it has no known price."""

    currency: str
    material: Fraction
    per_kg: Fraction
    """For each kilo of dried bait."""
    per_bait: tuple[Fraction, ...]
    """For one bait of each size, by its share of the rolled paste."""
    unpriced: tuple[str, ...]
    parts: tuple[CostPart, ...]


def build_cost(batch: Batch, items: Mapping[NeedKey, ShoppingItem]) -> BatchCost | None:
    """Return what a batch's material costs at the price of its purchase; None without any price.

    What has no known price is named and costs nothing here.
    """
    parts: list[CostPart] = []
    unpriced = []
    currency = None
    for need in batch_needs(batch, expected=True):
        item = items[need.key]
        if item.unit_price is None or item.currency is None:
            unpriced.append(need.name)
            continue
        currency = item.currency
        parts.append(CostPart(need.name, float(need.amount(item.unit)), item.unit, item.unit_price))
    if currency is None:
        return None
    from fractions import Fraction  # noqa: PLC0415 - fractions only for prices

    from eggfold.stock.holdings import exact  # noqa: PLC0415

    material = sum((part.unit_price * exact(part.amount) for part in parts), Fraction(0))
    left_g = batch.unrolled_g + batch.paste_g
    rolled_g = sum(b.each_g * b.count for b in batch.baits) + left_g
    per_g = material / exact(rolled_g) if rolled_g else Fraction(0)
    return BatchCost(
        currency,
        material,
        (material - per_g * exact(batch.paste_g)) * 1000 / exact(batch.paste.finished_g),
        tuple(per_g * exact(bait.each_g) for bait in batch.baits),
        tuple(unpriced),
        tuple(parts),
    )
