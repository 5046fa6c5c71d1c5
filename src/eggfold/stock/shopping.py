"""What all batches need, merged by name, and what of it the shelf has and must buy."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING

from eggfold.records import NamedTuple
from eggfold.stock.holdings import (
    Holding,
    Lack,
    NeedKey,
    NeedOfBatch,
    PackLine,
    ShelfToday,
    Unit,
    as_fraction,
    batch_needs,
    holding_of,
    needs_of,
    plain_number,
    price_per_unit,
    purchase_of,
)

if TYPE_CHECKING:
    from decimal import Decimal

    from eggfold.load.shelf import OpenShelf
    from eggfold.recipe.batch import Batch


class ShoppingItem(NamedTuple):
    """One thing to have: the whole need, what it is for, and what the shelf says of it."""

    name: str
    need: float
    unit: Unit
    eggs: float
    """Eggs that this need serves."""
    on_shelf: str | None = None
    """The shelf's own name for it; None where it is not on the shelf."""
    in_hand: float | None = None
    buy: tuple[PackLine, ...] = ()
    cost: Decimal | None = None
    left: float | None = None
    lasts_eggs: float | None = None
    past: float = 0.0
    """What is past its date and not counted in hand."""
    use_by: date | None = None
    lacks: Lack | None = None
    currency: str | None = None
    unit_price: Fraction | None = None
    """Money for one unit of what is bought."""
    added: tuple[tuple[float, float], ...] = ()
    """What the need is made of: the amount and the eggs of each batch."""


class Total(NamedTuple):
    """What a list costs in whole packs, and what of it has no known price."""

    currency: str | None
    cost: Decimal | None
    unpriced: tuple[str, ...]


class _Whole(NamedTuple):
    """A need added up over batches."""

    parts: list[NeedOfBatch]

    @property
    def unit(self) -> Unit:
        """What the thing is counted in: grams as soon as one of the needs is one by mass."""
        if self.parts[0].need.counted:
            return "piece"
        return "ml" if all(part.need.by_volume for part in self.parts) else "g"

    @property
    def density(self) -> float | None:
        """Grams for a millilitre of it, where it has a volume."""
        ml = sum(part.need.ml or 0.0 for part in self.parts)
        return sum(part.need.g for part in self.parts) / ml if ml else None

    @property
    def added(self) -> tuple[tuple[float, float], ...]:
        """What the need is made of: amount in that unit and eggs, a batch's eggs once."""
        unit = self.unit
        counted: set[int] = set()
        terms = []
        for need, batch, eggs, _ in self.parts:
            terms.append((need.amount(unit), 0.0 if batch in counted else float(eggs)))
            counted.add(batch)
        return tuple(terms)


def items_by_need(
    needs: Mapping[NeedKey, list[NeedOfBatch]], stock: ShelfToday | None
) -> dict[NeedKey, ShoppingItem]:
    """Return the item that serves each need; the shelf makes names one that it has as one."""
    merged: dict[tuple[str, str], list[NeedOfBatch]] = {}
    groups: dict[NeedKey, tuple[str, str]] = {}
    for key, parts in needs.items():
        need = parts[0].need
        own = stock.opened.find(need.name) if stock else None
        groups[key] = ("pieces" if need.counted else "", own[0]) if own else key
        merged.setdefault(groups[key], []).extend(parts)
    items = {group: _item(_Whole(parts), stock) for group, parts in merged.items()}
    return {key: items[group] for key, group in groups.items()}


def stock_on(shelf: OpenShelf | None, day: str) -> ShelfToday | None:
    """Return the shelf as it is on a day: what is past its date by then does not count."""
    if shelf is None:
        return None

    return ShelfToday(shelf, date.fromisoformat(day))


def listed(by_need: Mapping[NeedKey, ShoppingItem]) -> tuple[ShoppingItem, ...]:
    """Return the items of several needs, one that serves two of them once."""
    return tuple({id(item): item for item in by_need.values()}.values())


def _item(whole: _Whole, stock: ShelfToday | None) -> ShoppingItem:
    """Return one thing to have, with what the shelf says of it."""
    name, added = whole.parts[0].need.name, whole.added
    amount, eggs = sum(amount for amount, _ in added), sum(eggs for _, eggs in added)
    item = ShoppingItem(name, amount, whole.unit, eggs, added=added)
    if stock is None:
        return item

    holding = holding_of(stock, name, item.unit, whole.density)
    return item if holding is None else _stocked(item, _in_date(whole, holding), stock)


def _in_date(whole: _Whole, holding: Holding) -> Holding:
    """Return a holding of which no more is in hand than is rolled before it is past its date."""
    use_by, in_hand = holding.use_by, holding.in_hand
    if use_by is None or in_hand is None:
        return holding
    in_date = [part for part in whole.parts if part.day is None or part.day <= use_by]
    if len(in_date) == len(whole.parts):
        return holding
    unit = whole.unit
    kept = min(in_hand, as_fraction(sum(part.need.amount(unit) for part in in_date)))
    return holding._replace(in_hand=kept, past=holding.past + in_hand - kept)


def _stocked(item: ShoppingItem, holding: Holding, stock: ShelfToday) -> ShoppingItem:

    need = as_fraction(item.need)
    in_hand = holding.in_hand
    item = item._replace(
        on_shelf=holding.name,
        in_hand=None if in_hand is None else plain_number(in_hand),
        past=plain_number(holding.past),
        use_by=holding.use_by,
        lacks=holding.lacks,
        currency=stock.currency,
    )
    bought = purchase_of(need - (in_hand or 0), holding.offers)
    if bought is None:
        return item._replace(lacks=holding.lacks or "pack")
    per_unit = price_per_unit(need, bought, holding.offers)
    have = (in_hand or 0) + bought.amount
    return item._replace(
        buy=bought.lines,
        cost=None if bought.coins is None else stock.money(bought.coins),
        left=plain_number(max(have - need, Fraction(0))),
        lasts_eggs=float(have / need * as_fraction(item.eggs)) if need else None,
        unit_price=None if per_unit is None else per_unit / 10**stock.opened.minor_digits,
    )


def total_of(items: Iterable[ShoppingItem]) -> Total:
    """Return what a list costs; None where no price is known."""
    items = tuple(items)
    costs = [item.cost for item in items if item.cost is not None]
    unpriced = tuple(item.name for item in items if item.cost is None)
    currency = next((item.currency for item in items if item.currency), None)
    return Total(currency, sum(costs[1:], costs[0]) if costs else None, unpriced)


def build_shopping(
    batches: Iterable[Batch], stock: ShelfToday | None = None
) -> tuple[ShoppingItem, ...]:
    """Return the shopping list of several batches."""
    return listed(items_by_need(needs_of((batch, None) for batch in batches), stock))


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

    material = sum((part.unit_price * as_fraction(part.amount) for part in parts), Fraction(0))
    left_g = batch.unrolled_g + batch.paste_g
    rolled_g = sum(b.each_g * b.count for b in batch.baits) + left_g
    per_g = material / as_fraction(rolled_g) if rolled_g else Fraction(0)
    return BatchCost(
        currency,
        material,
        (material - per_g * as_fraction(batch.paste_g))
        * 1000
        / as_fraction(batch.paste.finished_g),
        tuple(per_g * as_fraction(bait.each_g) for bait in batch.baits),
        tuple(unpriced),
        tuple(parts),
    )
