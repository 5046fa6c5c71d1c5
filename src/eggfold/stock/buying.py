"""What was bought: more on the shelf, and its price remembered as a pack."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from eggfold.edit.splice import Splice, spliced
from eggfold.edit.stocktaking import (
    currency_splice,
    item_splice,
    keys_splice,
    left_splice,
    pack_splice,
    pack_text,
    price_splice,
    refuse_harm,
)
from eggfold.errors import ProblemsError, UsageProblemError
from eggfold.load.additives import unknown_measure
from eggfold.load.yaml_text import scalar_text
from eggfold.nearest import fold, nearest, one_of
from eggfold.stock.holdings import amount_in_unit, density_of
from eggfold.stock.noting import Note
from eggfold.stock.withdraw import left_after

if TYPE_CHECKING:
    from eggfold.edit.writing import Draft
    from eggfold.load.shelf import Item, OpenShelf, Stock


MOST_NEAR = 3
"""Names that contain a new one, of which so many are shown; house limit."""


class Price(NamedTuple):
    """A price as it was typed, and the currency where that was typed too."""

    text: str
    currency: str | None = None


class BoughtItem(NamedTuple):
    """One thing bought."""

    item: str
    amount: Stock
    price: Price | None
    date: str


def note_bought(
    purchase: BoughtItem, draft: Draft, shelf: OpenShelf | None, used: Iterable[str] = ()
) -> Note:
    """Return the note of a purchase; a shelf that does not exist yet is begun with it.

    ``used`` are the names in the recipes and the register; they are looked at for a new thing only.

    Raises UsageProblemError where the purchase does not fit what the shelf says.
    """
    _refuse_nonsense(purchase, shelf)
    change = _new_shelf(purchase, used) if shelf is None else _more(purchase, shelf, used)
    try:
        refuse_harm(draft.file, change.text, shelf, {change.name})
    except ProblemsError as error:
        first = error.problems[0]
        raise UsageProblemError(f"{first.message}{_try(first.hint)}") from error
    figures: dict[str, float | int | str | None] = {
        "amount": float(_exact(purchase.amount, shelf)),
        "unit": purchase.amount.kind,
        "left": float(_exact(change.left, shelf)),
        "left_unit": change.left.kind,
        "price": float(Decimal(purchase.price.text)) if purchase.price else None,
    }
    return Note(
        "bought",
        change.name,
        purchase.date,
        figures,
        (draft.change(change.text),),
        shelf=draft.file,
        remarks=tuple(change.remarks),
    )


class _Change(NamedTuple):
    name: str
    left: Stock
    text: str
    remarks: list[str]


def _refuse_nonsense(purchase: BoughtItem, shelf: OpenShelf | None) -> None:
    amount, price = purchase.amount, purchase.price
    measures = shelf.shelf.measures if shelf else None
    if wrong := unknown_measure(amount.unit, measures):
        raise UsageProblemError(f"{wrong[0]}; try: ml or g")
    if not amount.number:
        raise UsageProblemError("nothing was bought; try: more than 0")
    if price is None:
        return
    own = shelf.shelf.currency if shelf else None
    if own is None and price.currency is None:
        example = f"--price '{price.text} EUR'"
        raise UsageProblemError(f"--price: {price.text} of which currency? try: {example}")
    if own and price.currency and fold(own) != fold(price.currency):
        raise UsageProblemError(f"--price: the shelf counts in {own}, not in {price.currency}")


def _new_shelf(purchase: BoughtItem, used: Iterable[str]) -> _Change:
    pairs = ", ".join(_pairs(purchase))
    head = f"currency: {scalar_text(purchase.price.currency or '')}\n" if purchase.price else ""
    text = f"{head}items:\n  {scalar_text(purchase.item)}: {{{pairs}}}\n"
    return _Change(
        purchase.item,
        purchase.amount,
        text,
        ["The shelf is new.", *_called_alike(purchase.item, used)],
    )


def _pairs(purchase: BoughtItem) -> list[str]:
    pairs = [f"left: {purchase.amount}"]
    if purchase.price:
        pairs.append(f"sold_in: [{pack_text(str(purchase.amount), purchase.price.text)}]")
    return pairs


def _called_alike(name: str, used: Iterable[str]) -> Iterator[str]:
    """Name what the recipes and the register call alike, where none of them has this very name."""
    known = {fold(one): one for one in used}
    if fold(name) not in known and (near := _near(name, known.values())):
        yield f"No recipe here names '{name}'; near it is {one_of(near)}."


def _near(name: str, known: Iterable[str]) -> list[str]:
    """Return the names nearest to one, else those that contain its words or their beginnings."""
    known = list(known)
    words = fold(name).split()
    holding = [
        one for one in known if all(any(w.startswith(x) for w in fold(one).split()) for x in words)
    ]
    return nearest(name, known) or holding[:MOST_NEAR]


def _more(purchase: BoughtItem, shelf: OpenShelf, used: Iterable[str]) -> _Change:
    """Return the shelf with a purchase added to its item, or with a new item."""
    found = shelf.find(purchase.item)
    name = found[0] if found else purchase.item
    if found is None:
        others = (other for item in shelf.shelf.items.values() for other in item.also)
        near = _near(name, [*shelf.shelf.items, *others])
        remarks = [f"'{name}' is new there{f'; near it stands {one_of(near)}' if near else ''}."]
        remarks += [] if near else _called_alike(name, used)
        splices, left = [item_splice(shelf, name, _pairs(purchase))], purchase.amount
    else:
        splices, left, remarks = _more_of(purchase, shelf, *found)
    if purchase.price and shelf.shelf.currency is None:
        splices.append(currency_splice(shelf, str(purchase.price.currency)))
    return _Change(name, left, spliced(shelf.source.text, splices), remarks)


def _more_of(
    purchase: BoughtItem, shelf: OpenShelf, name: str, item: Item
) -> tuple[list[Splice], Stock, list[str]]:
    splices: list[Splice] = []
    fresh: list[str] = []
    remarks: list[str] = []
    if item.left is None:
        left = purchase.amount
        fresh.append(f"left: {left}")
        remarks.append("It was not counted before: what is left is this purchase alone.")
    else:
        left = left_after(shelf, item.left, _converted(purchase.amount, item, item.left, shelf))
        splices.append(left_splice(shelf, name, str(left)))
    if purchase.price:
        pack = pack_text(str(purchase.amount), purchase.price.text)
        known = _known_pack(purchase, shelf, item)
        if not item.sold_in and shelf.placed.node(("items", name, "sold_in")) is None:
            fresh.append(f"sold_in: [{pack}]")
        elif known is None:
            splices.append(pack_splice(shelf, name, pack))
        elif item.sold_in[known].price != Decimal(purchase.price.text):
            splices.append(price_splice(shelf, name, known, purchase.price.text))
            old = item.sold_in[known].price
            cost = f"{old} {shelf.shelf.currency or ''}".rstrip()
            remarks.append(
                f"That pack cost {cost} before." if old is not None else "That pack had no price."
            )
    if item.use_by and item.use_by.isoformat() < purchase.date:
        remarks.append(
            f"The shelf has it with use_by {item.use_by}, so this purchase counts as past its date "
            "too: write the new date there."
        )
    if fresh:
        splices.append(keys_splice(shelf, name, fresh))
    return splices, left, remarks


def _known_pack(purchase: BoughtItem, shelf: OpenShelf, item: Item) -> int | None:
    size = (shelf.exact(purchase.amount), purchase.amount.kind)
    sizes = [(shelf.exact(pack.size), pack.size.kind) for pack in item.sold_in]
    return sizes.index(size) if size in sizes else None


def _converted(amount: Stock, item: Item, left: Stock, shelf: OpenShelf) -> Fraction:
    """Return a purchase in g, ml or pieces, as the item is counted."""
    if "piece" in (amount.kind, left.kind) and amount.kind != left.kind:
        how = "in pieces" if left.kind == "piece" else "by weight or volume"
        raise UsageProblemError(f"the shelf counts it {how} ({left} left), not as {amount}")
    more = amount_in_unit(shelf, amount, left.kind, density_of(item, None))
    if more is None:
        raise UsageProblemError(
            f"the shelf has it in {left.kind} and you bought {amount}; try: in {left.kind}, or "
            "give its density on the shelf"
        )
    return more


def _exact(stock: Stock, shelf: OpenShelf | None) -> Fraction:
    return shelf.exact(stock) if shelf else stock.exact()


def _try(hint: str | None) -> str:
    return f"; try: {hint}" if hint else ""
