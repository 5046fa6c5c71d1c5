"""What a rolled bowl takes off the shelf, and how that goes back."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from eggfold.load.shelf import Item, OpenShelf, Stock
from eggfold.records import NamedTuple
from eggfold.reference.eggs import ANY_EGGS
from eggfold.stock.holdings import Need, batch_needs, density_of

if TYPE_CHECKING:
    from eggfold.recipe.batch import Batch

DREW_DIGITS = 6
"""Digits behind the point of what is drawn, in g or ml: a dose is not rounded to a tool."""
LEFT_DIGITS = 3
"""Digits behind the point of what is left, in g or ml; in other units as many more as they need."""


class WithdrawnItem(NamedTuple):
    """One item of the shelf and what a bowl takes of it, in g, ml or pieces."""

    name: str
    drew: Stock
    before: Stock
    left: Stock
    left_now: Fraction
    """What is left in g, ml or pieces."""
    missing: Stock | None = None
    """What the shelf would have to hold more."""


class Passed(NamedTuple):
    """A thing that is not drawn, and why."""

    name: str
    reason: str


class Withdrawal(NamedTuple):
    """Everything a bowl takes off the shelf."""

    drawn: tuple[WithdrawnItem, ...] = ()
    passed: tuple[Passed, ...] = ()


class _NotComparableError(ValueError):
    """An item counted or measured in a way that the need cannot be turned into."""


def build_withdrawal(batch: Batch, taken_g: float | None, shelf: OpenShelf) -> Withdrawal:
    """Return what a bowl draws: base mix by the bag where it was weighed, else as expected."""
    wanted: dict[str, Fraction] = {}
    passed: list[Passed] = []
    for need in batch_needs(batch, expected=True, taken_g=taken_g):
        found = shelf.find(need.name)
        if found is None:
            passed.append(Passed(need.name, _why_not_there(need, batch)))
        elif found[1].left is None:
            passed.append(Passed(found[0], "the shelf does not say how much is left"))
        else:
            try:
                amount = _amount(need, found[1], found[1].left)
                wanted[found[0]] = wanted.get(found[0], Fraction(0)) + amount
            except _NotComparableError as error:
                passed.append(Passed(found[0], str(error)))
    drawn = tuple(_draw(shelf, name, amount) for name, amount in wanted.items())
    return Withdrawal(drawn, tuple(passed))


def _why_not_there(need: Need, batch: Batch) -> str:
    if need.kind == "eggs" and batch.egg.grade is None:
        return f"not on the shelf; write also: [{ANY_EGGS}] under the eggs that you use"
    return "not on the shelf"


def _amount(need: Need, item: Item, left: Stock) -> Fraction:
    """Return a need in the item's own kind of measure."""
    if (left.kind == "piece") != need.counted:
        wanted = "in pieces" if need.counted else "by weight or volume"
        raise _NotComparableError(f"the shelf has {left}, the bowl takes it {wanted}")
    if need.counted:
        return Fraction(need.pieces)
    density = density_of(item, None)
    own = None if density is None else float(density)
    value: float | None
    if left.kind == "g":
        value = need.ml * own if need.by_volume and need.ml is not None and own else need.g
    else:
        value = need.ml if need.by_volume or own is None else need.g / own
    if value is None:
        raise _NotComparableError(f"the shelf has {left}, the dose is a weight: give its density")
    return Fraction(f"{value:.{DREW_DIGITS}f}")


def _draw(shelf: OpenShelf, name: str, amount: Fraction) -> WithdrawnItem:
    before = shelf.shelf.items[name].left
    assert before is not None  # noqa: S101 - only tracked items are drawn
    missing = amount - shelf.exact(before)
    left = left_after(shelf, before, -amount)
    short = Stock(missing, before.kind) if missing > Fraction(1, 10**LEFT_DIGITS) else None
    return WithdrawnItem(name, Stock(amount, before.kind), before, left, shelf.exact(left), short)


def shortage_text(drawn: WithdrawnItem) -> str:
    """Say what is left of an item, and what was needed."""
    missing = drawn.missing or Stock(Fraction(0), drawn.drew.unit)
    held = Stock(drawn.drew.number - missing.number, drawn.drew.unit)
    return f"{drawn.name}: {_rough(held)} left, {_rough(drawn.drew)} needed"


def _rough(stock: Stock) -> str:
    """Return an amount to three digits or whole, as a sentence wants it."""
    number = float(stock.number)
    digits = f"{number:.0f}" if number >= 100 else f"{number:.3g}"
    return digits if stock.kind == "piece" else f"{digits} {stock.unit}"


def left_after(shelf: OpenShelf, before: Stock, change: Fraction) -> Stock:
    """Return what is left after a change in g, ml or pieces: in the unit as written, never below 0."""
    size = shelf.exact(Stock(Fraction(1), before.unit))
    after = max(Fraction(0), before.number + change / size)
    return Stock(Fraction(round(after, _digits(size, before.kind))), before.unit)


def _digits(size: Fraction, kind: str) -> int:
    """Return how many digits behind the point a unit needs to tell a thousandth of a g or ml."""
    if kind == "piece":
        return 0
    digits = LEFT_DIGITS
    while size > 1:
        size /= 10
        digits += 1
    return digits
