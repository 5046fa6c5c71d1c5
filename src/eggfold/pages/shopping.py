"""The shopping list."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from shlex import quote
from typing import TYPE_CHECKING

from eggfold.load.load_recipe import each_once
from eggfold.pages.figures import (
    Units,
    added,
    eggs_text,
    got,
    money_text,
    put,
    unit_text,
    without_sum,
)
from eggfold.pages.page import NONE, Block, Column, Facts, Lines, Page, Table, companion_facts
from eggfold.stock.shopping import total_of

if TYPE_CHECKING:
    from eggfold.recipe.batch import Batch
    from eggfold.stock.shopping import ShoppingItem, Total
    from eggfold.stock.swaps import SwapHint


def _shopping_table(items: tuple[ShoppingItem, ...], heading: str, units: Units) -> Table:
    """Return what to have in the house before the first egg is broken."""
    if not any(item.on_shelf for item in items):
        plain = tuple((item.name, units.amount(item.need, item.unit)) for item in items)
        return Table(heading, (Column("Item"), Column("need", "right")), plain)
    columns = (
        Column("Item"),
        Column("need", "right"),
        Column("in hand", "right"),
        Column("buy"),
        Column("left over", "right"),
        Column("lasts", "right"),
        Column("cost", "right"),
    )
    priced = any(item.cost for item in items)
    stocked = [_stocked_row(item, units) for item in items]
    if priced:
        return Table(heading, columns, tuple(stocked))
    return Table(heading, columns[:-1], tuple(row[:-1] for row in stocked))


def _stocked_row(item: ShoppingItem, units: Units) -> tuple[str, ...]:
    return (
        item.name,
        units.amount(item.need, item.unit),
        NONE if item.in_hand is None else units.amount(item.in_hand, item.unit),
        packs_text(item),
        NONE if item.left is None else units.amount(item.left, item.unit),
        NONE if item.lasts_eggs is None else eggs_text(int(item.lasts_eggs)),
        f"{item.cost:f}" if item.cost is not None else NONE,
    )


def packs_text(item: ShoppingItem) -> str:
    """Return the packs to buy."""
    if item.buy:
        return " + ".join(f"{line.packs} × {line.pack}" for line in item.buy)
    return NONE if item.left is None else "nothing"


def shopping_blocks(items: tuple[ShoppingItem, ...], units: Units) -> Iterator[Block]:
    """Yield the list, what it costs, and what is to be known of the stock behind it."""
    total = total_of(items)
    remarks = [remark for item in items for remark in stock_remarks(item, units)]
    remarks += unpriced_remarks(total)
    yield _shopping_table(items, buy_heading(total), units)
    if remarks:
        yield Lines("ON THE SHELF", tuple(remarks))


def buy_blocks(items: tuple[ShoppingItem, ...], units: Units) -> Iterator[Facts | Lines]:
    """Yield what must be bought in short; without a shelf, all that is needed."""
    if not any(item.on_shelf for item in items):
        needed = tuple(
            (units.amount(item.need, item.unit), thing_name(item, item.need)) for item in items
        )
        yield Facts("BUY", needed)
        return
    rows = [(packs_text(item), _why_bought(item, units)) for item in items if item.buy]
    unknown = [item for item in items if not item.buy and item.left is None]
    if unknown:
        named = (
            f"{units.amount(item.need, item.unit)} {thing_name(item, item.need)}"
            for item in unknown
        )
        rows.append(("look for", ", ".join(named)))
    if rows:
        yield Facts(buy_heading(total_of(items)), tuple(rows))
    else:
        yield Lines("BUY", ("Nothing: all of it is in hand.",))


def thing_name(item: ShoppingItem, amount: float) -> str:
    """Return a thing's name behind an amount of it: of one egg and one cork ball it has no s."""
    one = item.unit == "piece" and amount == 1
    return re.sub(r"\b(egg|ball)s\b", r"\1", item.name) if one else item.name


def _why_bought(item: ShoppingItem, units: Units) -> str:
    have = f", have {units.amount(item.in_hand, item.unit)}" if item.in_hand else ""
    price = f"; {money_text(item.cost, item.currency)}" if item.cost and item.currency else ""
    return f"{item.name}: need {units.amount(item.need, item.unit)}{have}{price}"


def buy_heading(total: Total, scope: str = "") -> str:
    """Return the heading of what to buy, with what is known of its cost."""
    if total.cost is None or not total.currency:
        return "BUY"
    unpriced = len(set(total.unpriced))
    if unpriced and not total.cost:
        return "BUY"
    least = "at least " if unpriced else ""
    return f"BUY  whole packs for {least}{money_text(total.cost, total.currency)}{scope}"


def unpriced_remarks(total: Total) -> Iterator[str]:
    """Yield what has no price, where the cost of the rest is told."""
    if total.cost is not None and total.currency and total.unpriced:
        sum_ = ", not in the sum" if total.cost else ""
        yield f"No price known{sum_}: {', '.join(dict.fromkeys(total.unpriced))}."


def stock_remarks(item: ShoppingItem, units: Units) -> Iterable[str]:
    """Yield what the shelf cannot say, or says and is not counted."""
    name = item.name
    yield from past_remarks(item, units)
    if item.lacks == "left":
        yield f"{name}: no amount given (left), so look before you buy."
    elif item.lacks == "pack":
        yield f"{name}: not enough in hand, and the shelf lists no pack of it (sold_in)."
    elif item.lacks == "density":
        other = "volume" if item.unit == "g" else "weight"
        yield f"{name}: needed in {item.unit}, on the shelf by {other}: write its density there."
    elif item.lacks == "pieces":
        yield f"{name}: counted on one side, weighed on the other: write both alike."


def past_remarks(item: ShoppingItem, units: Units) -> Iterator[str]:
    """Yield what is past its date and therefore not counted."""
    if item.past:
        amount = units.amount(item.past, item.unit)
        yield f"{item.name}: {amount} on the shelf is past its date ({item.use_by}) and not counted."


def shopping_page(
    items: tuple[ShoppingItem, ...],
    batches: Sequence[Batch],
    units: Units,
    missing: Sequence[str] = (),
    swaps: Sequence[SwapHint] = (),
    *,
    why: bool = False,
) -> Page:
    """Return the merged list of several batches."""
    aside = "one batch" if len(batches) == 1 else f"{len(batches)} batches"
    blocks: list[Block] = [*shopping_blocks(items, units)]
    if swaps:
        blocks.append(
            Lines(
                "INSTEAD  of the same analysis, a hint only",
                tuple(_swap(swap, units) for swap in swaps),
            )
        )
    if why:
        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(buying_lines(items))))
    blocks += units.lines()
    blocks += companion_facts(each_once(batch.companions for batch in batches))
    alerts = (f"Not on this list, because it could not be worked out: {', '.join(missing)}.",)
    return Page("Shopping list", aside, tuple(blocks), alerts if missing else ())


def _swap(hint: SwapHint, units: Units) -> str:
    """Return a powder that is short, what is alike, and the command that shows both."""
    have = f", have {units.mass(hint.in_hand_g)}" if hint.in_hand_g else ""
    there = " is in hand" if hint.instead_in_hand else " is like it"
    brings = f", but brings {', '.join(hint.brings)}" if hint.brings else ""
    command = f"eggfold powder {quote(hint.file)}"
    command += " --as freebie" if hint.strength == "freebie" else ""
    return (
        f"{hint.missing}: need {units.mass(hint.need_g)}{have}. {hint.instead}{there}{brings}: "
        f"{command} --swap {quote(f'{hint.missing}={hint.instead}')}"
    )


EACH_NEED = (
    "a need is what each batch takes: its eggs and cork balls, the high end of its base mix and its "
    "doses; the card of each batch shows its sums, with eggfold batch --why"
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
        yield f"{item.name}: need = {added(terms)} = {got(item.need)} {unit_text(item.unit)}"
    if item.left is None or not item.need:
        return
    have = put(item.in_hand or 0)
    packs = [f"{line.packs} × {put(float(line.size))}" for line in item.buy]
    stock = added([have, *packs])
    if item.buy:
        yield (
            f"{item.name}: to buy = need − in hand = {put(item.need)} − {have} = "
            f"{got(item.need - (item.in_hand or 0))} {unit_text(item.unit)}"
        )
    yield (
        f"{item.name}: left over = in hand + packs − need = {stock} − {put(item.need)} = "
        f"{_left(item.left)} {unit_text(item.unit)}"
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


def _left(value: float) -> str:
    """Return what a difference leaves, to a hundredth."""
    return f"{value:.2f}".rstrip("0").rstrip(".")
