"""What all batches need, merged by name, and what of it the shelf has and must buy."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal, NamedTuple

from eggfold.nearest import fold

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal
    from fractions import Fraction

    from eggfold.files.shelf import OpenShelf
    from eggfold.recipe.batch import Batch
    from eggfold.stock.holdings import Holding, Lack, Line, ShelfToday

Unit = Literal["g", "ml", "piece"]
Kind = Literal["eggs", "mix", "additive", "cork"]
NeedKey = tuple[Kind, str]
ORDER: tuple[Kind, ...] = ("eggs", "mix", "additive", "cork")


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
    buy: tuple[Line, ...] = ()
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


class Need(NamedTuple):
    """What one batch needs of one thing, by mass and volume, or in pieces."""

    kind: Kind
    name: str
    g: float = 0.0
    ml: float = 0.0
    pieces: int = 0
    by_volume: bool = False

    @property
    def key(self) -> NeedKey:
        """What makes two needs one: the kind, and the name without case and space."""
        return self.kind, fold(self.name)


@dataclass(slots=True)
class _Sum:
    """Needs of one thing added up over batches."""

    kind: Kind
    name: str
    by_volume: bool = True
    g: float = 0.0
    ml: float = 0.0
    pieces: int = 0
    eggs: dict[int, float] = field(default_factory=dict)
    """Eggs by batch, so that a thing under two names counts a batch's eggs once."""
    needs: list[tuple[Need, int]] = field(default_factory=list)
    """Each need, and the batch that it is of."""

    @property
    def unit(self) -> Unit:
        """What the thing is counted in."""
        if self.kind in {"eggs", "cork"}:
            return "piece"
        return "ml" if self.kind == "additive" and self.by_volume else "g"

    @property
    def amount(self) -> float:
        """The need in that unit."""
        return _in_unit(self, self.unit)

    @property
    def added(self) -> tuple[tuple[float, float], ...]:
        """What the need is made of: amount in that unit and eggs, a batch's eggs once."""
        counted: set[int] = set()
        terms = []
        for need, batch in self.needs:
            eggs = 0.0 if batch in counted else self.eggs[batch]
            counted.add(batch)
            terms.append((_in_unit(need, self.unit), eggs))
        return tuple(terms)

    def add(self, other: Need | _Sum, eggs: dict[int, float]) -> None:
        """Add a need of one batch, or all that was added up under another name."""
        self.by_volume = self.by_volume and other.by_volume
        self.g += other.g
        self.ml += other.ml
        self.pieces += other.pieces
        self.eggs |= eggs
        if isinstance(other, _Sum):
            self.needs += other.needs
        else:
            self.needs += ((other, batch) for batch in eggs)


def _in_unit(need: Need | _Sum, unit: Unit) -> float:
    return {"piece": need.pieces, "ml": need.ml, "g": need.g}[unit]


def batch_needs(batch: Batch, *, expected: bool = False) -> Iterator[Need]:
    """Yield what a batch needs: eggs, base mix and cork at the high end or as expected."""
    powder = batch.powder
    yield Need("eggs", batch.egg.label, pieces=batch.eggs)
    base = powder.base_mix_g if expected else powder.base_mix_high_g
    yield Need("mix", powder.base_mix, base)
    for line in batch.doses:
        amount = line.amount
        yield Need(
            "additive", line.additive.name, amount.g, amount.ml or 0.0, by_volume=line.by_volume
        )
    for bait in batch.baits:
        if bait.core_mm is not None:
            balls = bait.count if expected else bait.high
            yield Need("cork", f"cork balls {bait.core_mm:g} mm", pieces=balls)


class Shopping:
    """Adds up batches as they come; names are one when case and space are folded."""

    def __init__(self) -> None:
        self._needs: dict[NeedKey, _Sum] = {}
        self._batches = 0
        self._days: dict[int, date] = {}

    def add(self, batch: Batch, day: date | None = None) -> None:
        """Add what a batch needs, and the day on which it is rolled where that is known."""
        self._batches += 1
        if day is not None:
            self._days[self._batches] = day
        for need in batch_needs(batch):
            total = self._needs.setdefault(need.key, _Sum(need.kind, need.name))
            total.add(need, {self._batches: float(batch.eggs)})

    def by_need(self, stock: ShelfToday | None = None) -> dict[NeedKey, ShoppingItem]:
        """Return the item that serves each need; the shelf makes names one that it has as one."""
        merged: dict[tuple[str, str], _Sum] = {}
        keys: dict[tuple[str, str], list[NeedKey]] = {}
        for key, need in sorted(self._needs.items(), key=lambda pair: ORDER.index(pair[0][0])):
            own = stock.opened.find(need.name) if stock else None
            group = ("pieces" if need.unit == "piece" else "", own[0]) if own else key
            merged.setdefault(group, _Sum(need.kind, need.name)).add(need, need.eggs)
            keys.setdefault(group, []).append(key)
        items = {group: build_item(need, stock, self._days) for group, need in merged.items()}
        return {key: items[group] for group, members in keys.items() for key in members}

    def items(self, stock: ShelfToday | None = None) -> tuple[ShoppingItem, ...]:
        """Return the list: eggs, base mixes, additives, cork balls, each in the order met."""
        return listed(self.by_need(stock))


def stock_on(shelf: OpenShelf | None, day: str) -> ShelfToday | None:
    """Return the shelf as it is on a day: what is past its date by then does not count."""
    if shelf is None:
        return None
    from datetime import date  # noqa: PLC0415

    from eggfold.stock.holdings import ShelfToday  # noqa: PLC0415 - fractions only for a shelf

    return ShelfToday(shelf, date.fromisoformat(day))


def listed(by_need: Mapping[NeedKey, ShoppingItem]) -> tuple[ShoppingItem, ...]:
    """Return the items of several needs, one that serves two of them once."""
    return tuple({id(item): item for item in by_need.values()}.values())


def build_item(need: _Sum, stock: ShelfToday | None, days: Mapping[int, date]) -> ShoppingItem:
    """Return one thing to have, with what the shelf says of it."""
    eggs = sum(need.eggs.values())
    item = ShoppingItem(need.name, need.amount, need.unit, eggs, added=need.added)
    if stock is None:
        return item
    from eggfold.stock.holdings import holding_of  # noqa: PLC0415 - fractions only for a shelf

    density = need.g / need.ml if need.ml else None
    holding = holding_of(stock, need.name, need.unit, density)
    return item if holding is None else _stocked(item, _in_date(need, holding, days), stock)


def _in_date(need: _Sum, holding: Holding, days: Mapping[int, date]) -> Holding:
    """Return a holding of which no more is in hand than is rolled before it is past its date."""
    from eggfold.stock.holdings import exact  # noqa: PLC0415

    use_by, in_hand = holding.use_by, holding.in_hand
    if use_by is None or in_hand is None:
        return holding
    in_date = [(n, batch) for n, batch in need.needs if days.get(batch, use_by) <= use_by]
    if len(in_date) == len(need.needs):
        return holding
    kept = min(in_hand, exact(sum(_in_unit(n, need.unit) for n, _ in in_date)))
    return holding._replace(in_hand=kept, past=holding.past + in_hand - kept)


def _stocked(item: ShoppingItem, holding: Holding, stock: ShelfToday) -> ShoppingItem:
    from fractions import Fraction  # noqa: PLC0415

    from eggfold.stock.holdings import exact, price_per_unit, purchase_of  # noqa: PLC0415

    need = exact(item.need)
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
        lasts_eggs=float(have / need * exact(item.eggs)) if need else None,
        unit_price=None if per_unit is None else per_unit / 10**stock.opened.minor_digits,
    )


def plain_number(amount: Fraction) -> float:
    """Return an exact amount as a plain number, a whole one as such."""
    return int(amount) if amount.denominator == 1 else float(amount)


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
    shopping = Shopping()
    for batch in batches:
        shopping.add(batch)
    return shopping.items(stock)
