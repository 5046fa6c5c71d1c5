"""When to buy what: eggs so that they are in date when rolled, the rest before its first use."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from eggfold.files.clock import days_after
from eggfold.jobs.batch import Batch
from eggfold.jobs.shopping import NeedKey, Shopping, ShoppingItem, batch_needs, stock_on
from eggfold.reference.session import BUY_DAYS_BEFORE

if TYPE_CHECKING:
    from eggfold.files.shelf import OpenShelf

Made = tuple[str, tuple[Batch, ...]]
"""A rolling day and what it makes."""


class DatedPurchase(NamedTuple):
    """What to buy by a day, and up to which rolling day it serves."""

    day: str
    upto: str
    items: tuple[ShoppingItem, ...]


class ShelfLevel(NamedTuple):
    """What is left on the shelf after a rolling day: name, amount and unit."""

    day: str
    left: tuple[tuple[str, float, str], ...]


class Buying(NamedTuple):
    """All purchases of a season, what the shelf holds between them, and each need's item."""

    purchases: tuple[DatedPurchase, ...]
    levels: tuple[ShelfLevel, ...]
    by_need: Mapping[NeedKey, ShoppingItem]


def build_buying(days: Sequence[Made], egg_life: int, shelf: OpenShelf | None) -> Buying:
    """Return the purchases of a season: few trips to the shop, and no egg past its date.

    Mixes and additives are bought once, with the eggs of the first day that uses them.
    """
    whole_shelf = shelf
    by_need = _shopping(days).by_need(stock_on(shelf, days[0][0]) if days else None)
    once = dict.fromkeys(item for item in by_need.values() if not _is_eggs(item, days))
    purchases = []
    for group in group_days(days, egg_life):
        first, last = group[0][0], group[-1][0]
        shopping = _shopping(group)
        items = [i for i in shopping.items(stock_on(shelf, first)) if _is_eggs(i, days)]
        shelf = _drawn(shelf, items)
        used = {key for _, made in group for batch in made for key in _keys(batch)}
        now = [item for item in once if any(by_need[key] == item for key in used)]
        for item in now:
            del once[item]
        buy = days_after(first, -BUY_DAYS_BEFORE)
        purchases.append(DatedPurchase(buy, last, (*items, *now)))
    levels = _levels(days, purchases, whole_shelf)
    return Buying(tuple(purchases), levels, _at_prices_paid(by_need, purchases))


def _at_prices_paid(
    by_need: Mapping[NeedKey, ShoppingItem], purchases: Iterable[DatedPurchase]
) -> dict[NeedKey, ShoppingItem]:
    """Return each need's item at the price per unit of all packs of it that are bought."""
    bought: dict[tuple[str | None, str], list[ShoppingItem]] = {}
    for item in (item for purchase in purchases for item in purchase.items if item.buy):
        bought.setdefault((item.on_shelf, item.unit), []).append(item)
    return {
        key: _at_price_paid(item, bought.get((item.on_shelf, item.unit), []))
        for key, item in by_need.items()
    }


def _at_price_paid(item: ShoppingItem, bought: Sequence[ShoppingItem]) -> ShoppingItem:
    costs = [one.cost for one in bought]
    if not costs:
        return item
    if None in costs:
        return item._replace(unit_price=None)
    from fractions import Fraction  # noqa: PLC0415 - fractions only for prices

    paid = sum((Fraction(cost) for cost in costs if cost is not None), Fraction(0))
    amount = sum(line.size * line.packs for one in bought for line in one.buy)
    return item._replace(unit_price=paid / amount)


def group_days(days: Sequence[Made], egg_life: int) -> list[list[Made]]:
    """Return rolling days whose eggs are in date when they are bought together."""
    groups: list[list[Made]] = []
    for day in days:
        first = groups[-1][0][0] if groups else None
        if first and _days_between(days_after(first, -BUY_DAYS_BEFORE), day[0]) <= egg_life:
            groups[-1].append(day)
        else:
            groups.append([day])
    return groups


def _days_between(first: str, last: str) -> int:
    return (date.fromisoformat(last) - date.fromisoformat(first)).days


def _shopping(days: Iterable[Made]) -> Shopping:
    shopping = Shopping()
    for day, made in days:
        for batch in made:
            shopping.add(batch, date.fromisoformat(day))
    return shopping


def _keys(batch: Batch) -> set[NeedKey]:
    return {need.key for need in batch_needs(batch)}


def _is_eggs(item: ShoppingItem, days: Sequence[Made]) -> bool:
    labels = {batch.egg.label for _, made in days for batch in made}
    return item.unit == "piece" and item.name in labels


def _drawn(shelf: OpenShelf | None, items: Iterable[ShoppingItem]) -> OpenShelf | None:
    """Return the shelf after the eggs in hand were rolled; eggs bought are rolled in their turn."""
    if shelf is None:
        return None
    from fractions import Fraction  # noqa: PLC0415

    from eggfold.files.shelf import Stock  # noqa: PLC0415

    stocked = dict(shelf.shelf.items)
    for item in items:
        if item.on_shelf and item.in_hand is not None:
            left = Stock(Fraction(max(0, int(item.in_hand) - int(item.need))), "piece")
            stocked[item.on_shelf] = stocked[item.on_shelf].model_copy(update={"left": left})
    return shelf._replace(shelf=shelf.shelf.model_copy(update={"items": stocked}))


def _levels(
    days: Sequence[Made], purchases: Sequence[DatedPurchase], shelf: OpenShelf | None
) -> tuple[ShelfLevel, ...]:
    """Return what is left of everything that the shelf tracks, after each rolling day."""
    if shelf is None:
        return ()
    left: dict[str, tuple[float, str]] = {}
    coming = list(purchases)
    levels = []
    for day in days:
        while coming and coming[0].day < day[0]:
            for item in coming.pop(0).items:
                if item.on_shelf and item.left is not None:
                    left[item.on_shelf] = (item.left + item.need, item.unit)
        for item in _shopping([day]).items(stock_on(shelf, day[0])):
            if item.on_shelf in left:
                amount, unit = left[item.on_shelf]
                left[item.on_shelf] = (max(0.0, amount - item.need), unit)
        levels.append(ShelfLevel(day[0], tuple((n, a, unit) for n, (a, unit) in left.items())))
    return tuple(levels)
