"""What a batch needs and what the shelf holds of it: the one list of buying, drawing and costs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from eggfold.engine.packs import Pack, cover
from eggfold.nearest import fold
from eggfold.records import NamedTuple
from eggfold.reference.eggs import LIQUID_EGG_G_ML

if TYPE_CHECKING:
    from datetime import date

    from eggfold.load.shelf import Item, OpenShelf, Stock
    from eggfold.recipe.batch import Batch


Unit = Literal["g", "ml", "piece"]
NeedKind = Literal["eggs", "mix", "additive", "cork"]
NeedKey = tuple[NeedKind, str]
ORDER: tuple[NeedKind, ...] = ("eggs", "mix", "additive", "cork")


class Need(NamedTuple):
    """What one batch needs of one thing, by mass and volume, or in pieces."""

    kind: NeedKind
    name: str
    g: float = 0.0
    ml: float | None = None
    pieces: int = 0
    by_volume: bool = False

    @property
    def key(self) -> NeedKey:
        """What makes two needs one: the kind, and the name without case and space."""
        return self.kind, fold(self.name)

    @property
    def counted(self) -> bool:
        """Whether it is counted in pieces."""
        return self.kind == "cork" or (self.kind == "eggs" and not self.g)

    def amount(self, unit: Unit) -> float:
        """Return the need in a unit."""
        return {"piece": self.pieces, "ml": self.ml or 0.0, "g": self.g}[unit]


def batch_needs(
    batch: Batch, *, expected: bool = False, taken_g: float | None = None
) -> Iterator[Need]:
    """Yield what a batch needs: eggs, base mix, additives and cork balls.

    Mix and cork are at their high end, or as ``expected``; ``taken_g`` is base mix that was weighed.
    """
    powder = batch.powder
    yield from _egg_needs(batch)
    base_g = powder.base_mix_g if expected else powder.base_mix_high_g
    yield Need("mix", powder.base_mix, base_g if taken_g is None else taken_g)
    for line in (*batch.doses, *(soaked.dose for soaked in batch.soak)):
        g, ml = line.amount
        yield Need("additive", line.additive.name, g, ml, by_volume=line.by_volume)
    for bait in batch.baits:
        if bait.core_mm is not None:
            balls = bait.count if expected else bait.high
            yield Need("cork", f"cork balls {bait.core_mm:g} mm", pieces=balls)


def _egg_needs(batch: Batch) -> Iterator[Need]:
    egg = batch.egg
    if egg.liquid:
        yield Need("eggs", egg.label, batch.shelled_g, batch.shelled_g / LIQUID_EGG_G_ML)
    elif egg.boxes:
        yield from (Need("eggs", box.egg.label, pieces=box.number) for box in egg.boxes)
    else:
        yield Need("eggs", egg.label, pieces=batch.eggs)


class NeedOfBatch(NamedTuple):
    """A need, of which batch it is, that batch's eggs, and its day where that is known."""

    need: Need
    batch: int
    eggs: float
    day: date | None


def needs_of(batches: Iterable[tuple[Batch, date | None]]) -> dict[NeedKey, list[NeedOfBatch]]:
    """Return what batches need on their days; names are one when case and space are folded."""
    found: dict[NeedKey, list[NeedOfBatch]] = {}
    for number, (batch, day) in enumerate(batches):
        for need in batch_needs(batch):
            found.setdefault(need.key, []).append(NeedOfBatch(need, number, batch.worth, day))
    return dict(sorted(found.items(), key=lambda pair: ORDER.index(pair[0][0])))


Lack = Literal["left", "pack", "density", "pieces"]
"""What the shelf does not say: what is left, a pack to buy, a density between g and ml, a count."""

SIGNIFICANT_DIGITS = 12
"""Digits of a computed need that mean something; the rest is the noise of floating point."""


class ShelfToday(NamedTuple):
    """The shelf, and the day for which its dates are read."""

    opened: OpenShelf
    today: date

    @property
    def currency(self) -> str | None:
        """The currency of its prices."""
        return self.opened.shelf.currency

    def money(self, coins: int) -> Decimal:
        """Return whole coins in the currency."""
        return Decimal(coins).scaleb(-self.opened.minor_digits)


class Offer(NamedTuple):
    """A pack that is sold: as it is written, what is in it, and its price."""

    label: str
    size: Fraction
    price: Decimal | None
    coins: int | None


class Holding(NamedTuple):
    """What the shelf says of one thing, in the unit it is needed in."""

    name: str
    in_hand: Fraction | None
    """What is left and in date; None where it is not tracked or cannot be told in this unit."""
    past: Fraction
    """What is left but past its date, and so not counted."""
    use_by: date | None
    offers: tuple[Offer, ...]
    lacks: Lack | None


class PackLine(NamedTuple):
    """So many of one pack, the price of one, and what is in one, in the unit of the need."""

    pack: str
    packs: int
    price: Decimal | None
    size: Fraction

    @property
    def plain_size(self) -> float:
        """What is in one as a plain number, a whole one as such."""
        return plain_number(self.size)


class Purchase(NamedTuple):
    """What to buy for a need, what it holds, and what it costs [coins], None where no price is known."""

    lines: tuple[PackLine, ...]
    amount: Fraction
    coins: int | None


NOTHING = Purchase((), Fraction(0), 0)


def as_fraction(value: float) -> Fraction:
    """Return a computed figure as a fraction, without the noise of floating point."""
    return Fraction(f"{value:.{SIGNIFICANT_DIGITS}g}")


def plain_number(amount: Fraction) -> float:
    """Return an exact amount as a plain number, a whole one as such."""
    return int(amount) if amount.denominator == 1 else float(amount)


def density_of(item: Item, otherwise: float | None) -> Fraction | None:
    """Return the density [g/ml] of an item, else the one it is dosed with."""
    if item.density is None:
        return None if otherwise is None else as_fraction(otherwise)
    per = 1000 if item.density.unit == "kg/m3" else 1
    return as_fraction(item.density.value) / per


def amount_in_unit(
    shelf: OpenShelf, stock: Stock, unit: Unit, density: Fraction | None
) -> Fraction | None:
    """Return an amount of the shelf in the unit of a need, None where it cannot be told."""
    amount = shelf.exact(stock)
    if stock.kind == unit:
        return amount
    if density is None or "piece" in (stock.kind, unit):
        return None
    return amount * density if unit == "g" else amount / density


def holding_of(
    stock: ShelfToday, name: str, unit: Unit, dosed_density: float | None
) -> Holding | None:
    """Return what the shelf says of a thing, None where it is not on the shelf."""
    found = stock.opened.find(name)
    if found is None:
        return None
    own, item = found
    density = density_of(item, dosed_density)
    left = amount_in_unit(stock.opened, item.left, unit, density) if item.left else None
    offers = [
        Offer(str(pack.size), size, pack.price, stock.opened.minor(pack.price))
        for pack in item.sold_in
        if (size := amount_in_unit(stock.opened, pack.size, unit, density)) is not None
    ]
    is_past = item.use_by is not None and item.use_by < stock.today
    past = left if is_past and left else Fraction(0)
    in_hand = Fraction(0) if is_past and left is not None else left
    lacks = _lack(item, unit, told=left is not None, offers=len(offers))
    return Holding(own, in_hand, past, item.use_by, tuple(offers), lacks)


def _lack(item: Item, unit: Unit, *, told: bool, offers: int) -> Lack | None:
    """Return what keeps the shelf from being used in full for a need."""
    if (item.left and not told) or offers < len(item.sold_in):
        kinds = {pack.size.kind for pack in item.sold_in} | (
            {item.left.kind} if item.left else set()
        )
        return "pieces" if (unit == "piece") != (kinds == {"piece"}) else "density"
    return None if told else "left"


def purchase_of(need: Fraction, offers: tuple[Offer, ...]) -> Purchase | None:
    """Return the packs that cover a need at least cost; None where there is a need and no pack."""
    if need <= 0:
        return NOTHING
    if not offers:
        return None
    counts = cover(need, [Pack(offer.size, offer.coins) for offer in offers])
    bought = [(o, count) for o, count in zip(offers, counts, strict=True) if count]
    lines = tuple(PackLine(o.label, count, o.price, o.size) for o, count in bought)
    amount = sum((o.size * count for o, count in bought), Fraction(0))
    if any(o.coins is None for o, _ in bought):
        return Purchase(lines, amount, None)
    return Purchase(lines, amount, sum((o.coins or 0) * count for o, count in bought))


def price_per_unit(need: Fraction, bought: Purchase, offers: tuple[Offer, ...]) -> Fraction | None:
    """Return coins per unit of what is bought; where nothing is, of what the whole need would cost."""
    purchase = bought if bought.amount else purchase_of(need, offers)
    if purchase is None or purchase.coins is None or not purchase.amount:
        return None
    return Fraction(purchase.coins) / purchase.amount
