"""Finished bait in hand: which lots serve which trips, and what is left of them.

Lots go oldest first to the earliest trips that they keep for. One function does it for a season's plan,
for a trip that is noted, and for one that nobody wrote down.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING

from eggfold.edit.splice import Fields, Splice, line_patch, lot_splices, refuse_harm, spliced
from eggfold.load.lots import Lot, LotLeft, lots_of
from eggfold.load.shelf import OpenShelf, Stock
from eggfold.records import NamedTuple

if TYPE_CHECKING:
    from eggfold.amounts import Amount
    from eggfold.load.recipe import Strength

Kind = tuple[str, "Strength"]
"""A recipe's name and a strength."""

CRUMBS_G = 1.0
"""Less than this is nothing [g]."""


class ShelfLife(NamedTuple):
    """How long bait keeps frozen, thawed, and dried or fresh [d], and how long it dries [d]."""

    frozen: int
    thawed: int
    dry: int
    drying: int


class Want(NamedTuple):
    """What one trip takes of one kind of bait, and the weight of one bait of it [g]."""

    trip: int
    kind: Kind
    leave: date
    thaw: date
    need_g: float
    each_g: float
    diameters_mm: frozenset[float] = frozenset()


class Given(NamedTuple):
    """So much of a lot for a want: by weight [g], and in the lot's own grams or baits."""

    lot: int
    want: int
    g: float
    amount: float


def allot(lots: Sequence[Lot], wants: Sequence[Want], life: ShelfLife) -> tuple[Given, ...]:
    """Return what each lot gives to each want: the earliest trips first, oldest bait first."""
    left = [float(lot.left.stock.exact()) for lot in lots]
    order = sorted(range(len(lots)), key=lambda i: _turn(lots[i], life))
    found = []
    for w in sorted(range(len(wants)), key=lambda w: wants[w].leave):
        want, missing_g = wants[w], wants[w].need_g
        for i in order:
            each = want.each_g if lots[i].left.stock.kind == "piece" else 1.0
            if missing_g < CRUMBS_G or left[i] * each < CRUMBS_G or not serves(lots[i], want, life):
                continue
            g = min(missing_g, left[i] * each)
            found.append(Given(i, w, g, g / each))
            left[i] -= g / each
            missing_g -= g
    return tuple(found)


def serves(lot: Lot, want: Want, life: ShelfLife) -> bool:
    """Tell whether a lot is of a want's kind, ready before that trip leaves, and keeps until then."""
    if lot.kind != want.kind:
        return False
    if lot.diameters_mm is not None and lot.diameters_mm != want.diameters_mm:
        return False
    ready, until = ready_on(lot, life), keeps_until(lot, life)
    out = want.thaw if lot.state in ("frozen", "drying") else want.leave
    return (ready is None or ready <= want.leave) and (until is None or out <= until)


def ready_on(lot: Lot, life: ShelfLife) -> date | None:
    """Return the first day on which a lot can be taken along, None where it always could."""
    dry = lot.made and lot.made + timedelta(life.drying + 1)
    days = [day for day in (lot.counted, dry if lot.state == "drying" else lot.begun) if day]
    return max(days, default=None)


def keeps_until(lot: Lot, life: ShelfLife) -> date | None:
    """Return the last day on which a lot can be taken out, None where its age is not known."""
    days = {
        "drying": life.drying + life.frozen,
        "frozen": life.frozen,
        "thawed": life.thawed,
    }.get(lot.state, life.dry)
    begun = lot.made if lot.state == "drying" else lot.begun
    return begun + timedelta(days) if begun else None


def _turn(lot: Lot, life: ShelfLife) -> tuple[bool, date, date]:
    """Return what lots are taken in the order of: those out of the freezer first, then the oldest."""
    until = keeps_until(lot, life) or date.min
    return lot.state in ("frozen", "drying"), until, lot.made or date.min


def after_giving(lots: Sequence[Lot], given: Sequence[Given]) -> tuple[Lot | None, ...]:
    """Return what is left of each lot, None where nothing is."""
    gone = [0.0] * len(lots)
    for one in given:
        gone[one.lot] += one.amount
    return tuple(
        with_left(lot, float(lot.left.stock.exact()) - g) if g else lot
        for lot, g in zip(lots, gone, strict=True)
    )


def with_left(lot: Lot, amount: float) -> Lot | None:
    """Return a lot with so many grams or baits, None where that is nothing."""
    if round(amount) < 1:
        return None
    pieces = lot.left.stock.kind == "piece"
    left = Stock(Fraction(round(amount)), "piece") if pieces else grams(amount)
    return lot.model_copy(update={"left": LotLeft(left, lot.left.rough)})


def grams(g: float) -> Stock:
    """Return a weight to the gram, in kilos from one on."""
    whole = Fraction(round(g))
    return Stock(whole / 1000, "kg") if whole >= 1000 else Stock(whole, "g")


def newest_that_are(lots: Sequence[Lot], counted: LotLeft) -> tuple[Lot | None, ...]:
    """Return the lots of one kind, so that they are what was counted together: the oldest went first.

    What is more than there was is added to the oldest, so that no bait gets younger; where some are
    counted in baits and some are weighed, all of it is as old as the oldest.
    """
    order = sorted(range(len(lots)), key=lambda i: lots[i].begun or date.min)
    after: list[Lot | None] = [None] * len(lots)
    left = float(counted.stock.exact())
    alike = all(lot.left.stock.kind == counted.stock.kind for lot in lots)
    for i in reversed(order[1:] if alike else ()):
        kept = min(left, float(lots[i].left.stock.exact()))
        after[i] = with_left(lots[i], kept)
        left -= kept
    if round(left) >= 1:
        whole = counted.stock if left == float(counted.stock.exact()) else grams(left)
        stock = Stock(Fraction(round(left)), "piece") if counted.stock.kind == "piece" else whole
        after[order[0]] = lots[order[0]].model_copy(update={"left": LotLeft(stock, counted.rough)})
    return tuple(after)


class LotChange(NamedTuple):
    """A lot before a note and after it, None where there is none."""

    before: Lot | None
    after: Lot | None


class LotsAfter(NamedTuple):
    """The shelf's text with other lots, the lines that changed, and which lots did."""

    text: str
    patch: Fields
    changes: tuple[LotChange, ...]


def lots_after(
    shelf: OpenShelf,
    after: Sequence[Lot | None],
    added: Sequence[Lot],
    others: Iterable[Splice] = (),
    touched: frozenset[str] = frozenset(),
) -> LotsAfter:
    """Return the shelf as it is after a note; ``others`` are splices within its lines elsewhere.

    Raises ProblemsError or FileAccessError where it cannot be changed safely.
    """
    text, own = shelf.source.text, lot_splices(shelf, after, added)
    new = spliced(text, [*own, *others])
    changes = [
        LotChange(*pair) for pair in zip(lots_of(shelf), after, strict=True) if pair[0] != pair[1]
    ]
    refuse_harm(shelf.file, new, shelf, set(touched), baits=True)
    return LotsAfter(
        new, line_patch(text, own), (*changes, *(LotChange(None, lot) for lot in added))
    )


def with_rolled(
    shelf: OpenShelf,
    kind: Kind,
    day: str,
    finished_g: float,
    sizes: tuple[Amount, ...] | None,
    *,
    weighed: bool,
) -> tuple[list[Lot | None], list[Lot]]:
    """Return the lots with a bowl more: the bowls of a mix, a strength and a day are one lot.

    Those of other ``sizes`` than the recipe's are one of their own.
    """
    after: list[Lot | None] = [*lots_of(shelf)]
    new = Lot.model_construct(
        recipe=kind[0],
        strength=kind[1],
        left=LotLeft(grams(finished_g)),
        sizes=sizes,
        made=date.fromisoformat(day),
        state="drying",
        weighed="yes" if weighed else "no",
    )
    for i, lot in enumerate(lots_of(shelf)):
        same = all(
            getattr(lot, key) == getattr(new, key) for key in ("kind", "made", "state", "sizes")
        )
        if same and lot.left.stock.kind == "g":
            left = LotLeft(grams(float(lot.left.stock.exact()) + finished_g), lot.left.rough)
            sure = "yes" if weighed and lot.weighed == "yes" else "no"
            after[i] = lot.model_copy(update={"left": left, "weighed": sure})
            return after, []
    return after, [new]
