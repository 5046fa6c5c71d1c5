"""What a season buys by when: one purchase a rolling day, eggs in the boxes they come in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from eggfold.engine.season import (
    Limits,
    RollDay,
    Rolled,
    Stretch,
    align_to_boxes,
)
from eggfold.load.fields import days_after
from eggfold.recipe.batch import Batch
from eggfold.records import NamedTuple
from eggfold.reference.session import BUY_DAYS_BEFORE
from eggfold.stock.holdings import NeedKey, NeedOfBatch, needs_of
from eggfold.stock.shopping import ShoppingItem, items_by_need, listed, stock_on

if TYPE_CHECKING:
    from eggfold.load.shelf import OpenShelf


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
    by_need = items_by_need(_needs(days), stock_on(shelf, days[0][0]) if days else None)
    once = dict.fromkeys(item for item in by_need.values() if not _is_eggs(item, days))
    purchases = []
    for group in _group_days(days, egg_life, _egg_dates(days, shelf)):
        first, last = group[0][0], group[-1][0]
        needs = _needs(group)
        whole = listed(items_by_need(needs, stock_on(shelf, first)))
        items = [item for item in whole if _is_eggs(item, days)]
        shelf = _drawn(shelf, items)
        now = [item for item in once if any(by_need[key] == item for key in needs)]
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


def _egg_dates(days: Sequence[Made], shelf: OpenShelf | None) -> frozenset[str]:
    """Return the last days of the eggs in hand that these days roll."""
    labels = {batch.egg.label for _, made in days for batch in made}
    found = (shelf.find(label) for label in labels) if shelf else ()
    return frozenset(str(one[1].use_by) for one in found if one and one[1].left and one[1].use_by)


def _group_days(
    days: Sequence[Made], egg_life: int, dates: frozenset[str] = frozenset()
) -> list[list[Made]]:
    """Return rolling days whose eggs are in date when they are bought together.

    ``dates`` are the last days of the eggs in hand: they beat what is worked out.
    """
    groups: list[list[Made]] = []
    for day in days:
        first = groups[-1][0][0] if groups else None
        in_date = not any(first <= last < day[0] for last in dates) if first else False
        keeps = first and _days_between(days_after(first, -BUY_DAYS_BEFORE), day[0]) <= egg_life
        if keeps and in_date:
            groups[-1].append(day)
        else:
            groups.append([day])
    return groups


def _days_between(first: str, last: str) -> int:
    return (date.fromisoformat(last) - date.fromisoformat(first)).days


def _needs(days: Iterable[Made]) -> dict[NeedKey, list[NeedOfBatch]]:
    return needs_of((batch, date.fromisoformat(day)) for day, made in days for batch in made)


def _is_eggs(item: ShoppingItem, days: Sequence[Made]) -> bool:
    labels = {batch.egg.label for _, made in days for batch in made}
    return item.unit == "piece" and item.name in labels


def _drawn(shelf: OpenShelf | None, items: Iterable[ShoppingItem]) -> OpenShelf | None:
    """Return the shelf after the eggs in hand were rolled; eggs bought are rolled in their turn."""
    if shelf is None:
        return None
    from fractions import Fraction  # noqa: PLC0415

    from eggfold.load.shelf import Stock  # noqa: PLC0415

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
        for item in listed(items_by_need(_needs([day]), stock_on(shelf, day[0]))):
            if item.on_shelf in left:
                amount, unit = left[item.on_shelf]
                left[item.on_shelf] = (max(0.0, amount - item.need), unit)
        levels.append(ShelfLevel(day[0], tuple((n, a, unit) for n, (a, unit) in left.items())))
    return tuple(levels)


def fewest_boxes(
    days: Sequence[RollDay],
    stretches: Sequence[Stretch],
    limits: Limits,
    rolled: tuple[Rolled, ...],
    labels: Sequence[str],
    dates: Sequence[str],
    egg_life: int,
    shelf: OpenShelf | None,
) -> tuple[Rolled, ...]:
    """Return the same days with whole boxes of eggs on each, where that costs less.

    ``labels`` name the eggs of each stretch, ``dates`` the days. Without prices, and where it costs
    the same, bait is rolled as late as it can be.
    """
    if shelf is None:
        return rolled
    boxes = sorted({int(size) for label in labels for size in _sizes(shelf, label)})
    plans = [rolled, *(align_to_boxes(days, stretches, limits, rolled, box) for box in boxes)]
    return min(plans, key=lambda plan: _coins(plan, stretches, labels, dates, egg_life, shelf))


def _sizes(shelf: OpenShelf, label: str) -> list[int]:
    found = shelf.find(label)
    if found is None:
        return []
    return [int(shelf.exact(p.size)) for p in found[1].sold_in if p.size.kind == "piece"]


def _coins(
    plan: Sequence[Rolled],
    stretches: Sequence[Stretch],
    labels: Sequence[str],
    dates: Sequence[str],
    egg_life: int,
    shelf: OpenShelf,
) -> int:
    """Return what the eggs of a plan cost in whole boxes [coins]; what has no price costs nothing."""
    from fractions import Fraction  # noqa: PLC0415

    from eggfold.stock.holdings import holding_of, purchase_of  # noqa: PLC0415

    used: dict[str, int] = {}
    coins = 0
    by_day = dict(_eggs_by_day(plan, stretches, labels, dates))
    for group in _group_days([(day, ()) for day in by_day], egg_life):
        stock = stock_on(shelf, group[0][0])
        for label in dict.fromkeys(label for day, _ in group for label in by_day[day]):
            holding = holding_of(stock, label, "piece", None) if stock else None
            if holding is None:
                continue
            need = sum(by_day[day].get(label, 0) for day, _ in group)
            last = holding.use_by.isoformat() if holding.use_by else group[-1][0]
            in_date = sum(by_day[day].get(label, 0) for day, _ in group if day <= last)
            left = min(in_date, max(0, int(holding.in_hand or 0) - used.get(label, 0)))
            used[label] = used.get(label, 0) + min(left, need)
            bought = purchase_of(Fraction(need - left), holding.offers)
            coins += (bought.coins or 0) if bought else 0
    return coins


def _eggs_by_day(
    plan: Sequence[Rolled],
    stretches: Sequence[Stretch],
    labels: Sequence[str],
    dates: Sequence[str],
) -> list[tuple[str, dict[str, int]]]:
    """Return the eggs of each kind that each day rolls."""
    found = []
    start = 0
    for one in plan:
        eggs: dict[str, int] = {}
        begin = 0
        for stretch, label in zip(stretches, labels, strict=True):
            part = min(one.upto, begin + stretch.eggs) - max(start, begin)
            if part > 0:
                eggs[label] = eggs.get(label, 0) + part
            begin += stretch.eggs
        found.append((dates[one.day], eggs))
        start = one.upto
    return found
