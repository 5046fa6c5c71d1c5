"""How the figures of a shopping list came about: needs, packs, what is left over, what it costs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.jobs.shopping import total_of
from eggfold.pages.why.sums import added, got, put, without_sum

if TYPE_CHECKING:
    from eggfold.jobs.shopping import ShoppingItem

EACH_NEED = (
    "a need is what each batch takes: its eggs and cork balls, the high end of its base mix and its "
    "doses; the card of each batch shows its sums: eggfold batch with --why"
)
PACKS = (
    "all ways to cover what is to be bought are searched, and the cheapest wins, or the one that leaves "
    "least over where a price is missing"
)


def buying_lines(items: tuple[ShoppingItem, ...]) -> Iterator[str]:
    """Yield the sums of a list, thing by thing, and its total."""
    yield without_sum("Needs", "batch by batch", EACH_NEED)
    if any(item.buy for item in items):
        yield without_sum("Packs", "whole ones", PACKS)
    for item in items:
        yield from _item_lines(item)
    total = total_of(items)
    costs = [put(float(item.cost)) for item in items if item.cost]
    if total.cost is not None and total.currency and len(costs) > 1:
        yield f"Cost of all packs = {added(costs)} = {total.cost:f} {total.currency}"


def _item_lines(item: ShoppingItem) -> Iterator[str]:
    terms = [put(amount) for amount, _ in item.added]
    if len(terms) > 1:
        yield f"{item.name}: need = {added(terms)} = {_amount(item.need, item.unit)}"
    if item.left is None or not item.need:
        return
    have = put(item.in_hand or 0)
    packs = [f"{line.packs} × {put(float(line.size))}" for line in item.buy]
    stock = added([have, *packs])
    if item.buy:
        yield (
            f"{item.name}: to buy = need − in hand = {put(item.need)} − {have} = "
            f"{got(item.need - (item.in_hand or 0))} {_unit(item.unit)}"
        )
    yield (
        f"{item.name}: left over = in hand + packs − need = {stock} − {put(item.need)} = "
        f"{_left(item.left)} {_unit(item.unit)}"
    )
    if item.lasts_eggs is not None:
        eggs = [put(eggs) for _, eggs in item.added if eggs]
        yield (
            f"{item.name}: lasts = (in hand + packs) / need × eggs = ({stock}) / {put(item.need)} × "
            f"({added(eggs)}) = {got(item.lasts_eggs)} eggs"
        )
    if item.buy and item.cost is not None:
        prices = added(f"{line.packs} × {line.price:f}" for line in item.buy)
        yield f"{item.name}: cost = packs × price = {prices} = {item.cost:f} {item.currency}"


def _amount(value: float, unit: str) -> str:
    return f"{got(value)} {_unit(unit)}"


def _left(value: float) -> str:
    """Return what a difference leaves, to a hundredth."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _unit(unit: str) -> str:
    return "pieces" if unit == "piece" else unit
