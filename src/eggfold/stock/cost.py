"""What the material of a batch costs, per kilo and per bait."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from eggfold.stock.shopping import batch_needs

if TYPE_CHECKING:
    from collections.abc import Mapping
    from fractions import Fraction

    from eggfold.recipe.batch import Batch
    from eggfold.stock.shopping import Need, NeedKey, ShoppingItem, Unit


class Used(NamedTuple):
    """What a batch takes as expected, and what it makes: all that its cost depends on."""

    needs: tuple[Need, ...]
    finished_g: float
    paste_g: float
    each_g: tuple[float, ...]


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


def used_of(batch: Batch) -> Used:
    """Return what the cost of a batch depends on."""
    rolled_g = sum(b.each_g * b.count for b in batch.baits) + batch.unrolled_g
    return Used(
        tuple(batch_needs(batch, expected=True)),
        batch.paste.finished_g,
        rolled_g,
        tuple(b.each_g for b in batch.baits),
    )


def build_cost(used: Used, items: Mapping[NeedKey, ShoppingItem]) -> BatchCost | None:
    """Return what a batch's material costs at the price of its purchase; None without any price.

    What has no known price is named and costs nothing here.
    """
    parts: list[CostPart] = []
    unpriced = []
    currency = None
    for need in used.needs:
        item = items[need.key]
        amount = {"piece": float(need.pieces), "ml": need.ml, "g": need.g}[item.unit]
        if item.unit_price is None or item.currency is None:
            unpriced.append(need.name)
            continue
        currency = item.currency
        parts.append(CostPart(need.name, amount, item.unit, item.unit_price))
    if currency is None:
        return None
    from fractions import Fraction  # noqa: PLC0415 - fractions only for prices

    from eggfold.stock.holdings import exact  # noqa: PLC0415

    material = sum((part.unit_price * exact(part.amount) for part in parts), Fraction(0))
    per_g = material / exact(used.paste_g) if used.paste_g else Fraction(0)
    return BatchCost(
        currency,
        material,
        material * 1000 / exact(used.finished_g),
        tuple(per_g * exact(each) for each in used.each_g),
        tuple(unpriced),
        tuple(parts),
    )
