"""What was bought: more on the shelf, and its price remembered as a pack."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import islice
from typing import TYPE_CHECKING

from eggfold.edit.splice import (
    Fields,
    Splice,
    currency_splice,
    items_splice,
    keys_splice,
    left_splice,
    line_patch,
    pack_splice,
    pack_text,
    price_splice,
    refuse_harm,
    scalar_splice,
    spliced,
)
from eggfold.errors import ProblemsError, UsageProblemError
from eggfold.load.additives import unknown_measure
from eggfold.load.shelf import Item, OpenShelf, Stock, is_currency
from eggfold.load.yaml_tree import scalar_text
from eggfold.nearest import fold, nearest, one_of
from eggfold.records import NamedTuple
from eggfold.stock.holdings import amount_in_unit, density_of
from eggfold.stock.noting import Figures, Note, entry_change
from eggfold.stock.withdraw import left_after

if TYPE_CHECKING:
    from eggfold.edit.writing import Draft


MOST_NEAR = 3
"""Names that contain a new one, of which so many are shown; house limit."""


class Price(NamedTuple):
    """A price as it was typed, and the currency where that was typed too."""

    text: str
    currency: str | None = None


class BoughtItem(NamedTuple):
    """One thing bought, as it was typed."""

    item: str
    amount: Stock
    price: Price | None
    date: str
    use_by: str | None = None
    """The date on the pack."""


def note_bought(
    purchases: Sequence[BoughtItem],
    draft: Draft,
    stock: tuple[Draft, OpenShelf | None],
    used: Iterable[str],
    plan: str | None,
) -> Note:
    """Return the note of purchases; a shelf that does not exist yet is begun with them.

    ``used`` are the names in the recipes and the register; they are looked at for a new thing only.
    ``plan`` is the plan whose list was bought.

    Raises UsageProblemError where a purchase does not fit what the shelf says.
    """
    file, shelf = stock[0].file, stock[1]
    for purchase in purchases:
        _refuse_nonsense(purchase, shelf)
    used = tuple(used)
    makes = [_new(p, used) if shelf is None else _more(p, shelf, used) for p in purchases]
    old, splices = ("", []) if shelf is None else (shelf.source.text, _splices(makes, shelf))
    text = spliced(old, splices) if shelf else _new_shelf(purchases, makes)
    names = {change.name for change in makes}
    try:
        refuse_harm(file, text, shelf, names)
    except ProblemsError as error:
        first = error.problems[0]
        raise UsageProblemError(f"{first.message}{_try(first.hint)}") from error
    day = purchases[0].date
    bought = {c.name: str(p.amount) for c, p in zip(makes, purchases, strict=True)}
    fields: Fields = {"date": day, "bought": bought}
    fields |= line_patch(old, splices or [Splice(0, 0, text)])
    alone = purchases[0] if plan is None else None
    return Note(
        "bought",
        makes[0].name if len(makes) == 1 else f"{len(makes)} things",
        day,
        _figures(alone, makes[0], shelf) if alone else {"plan": plan, "items": len(makes)},
        (stock[0].change(text), entry_change(draft, "bought", fields)),
        draft.file,
        file,
        remarks=tuple(
            f"{change.name}: {remark}" if plan else remark
            for change in makes
            for remark in change.remarks
        ),
        bought=tuple((c.name, p.amount, c.left) for c, p in zip(makes, purchases, strict=True)),
    )


def _figures(purchase: BoughtItem, change: _Change, shelf: OpenShelf | None) -> Figures:
    return {
        "amount": float(_exact(purchase.amount, shelf)),
        "unit": purchase.amount.kind,
        "left": float(_exact(change.left, shelf)),
        "left_unit": change.left.kind,
        "price": float(Decimal(purchase.price.text)) if purchase.price else None,
    }


def _splices(changes: Iterable[_Change], shelf: OpenShelf) -> list[Splice]:
    """Return all changes of the shelf; things that are new come behind the others together."""
    changes = [*changes]
    new = {change.name: [*change.pairs] for change in changes if change.pairs}
    splices = [splice for change in changes for splice in change.splices]
    currency = next((c.currency for c in changes if c.currency), None)
    splices += [items_splice(shelf, new)] if new else []
    return [*splices, *([currency_splice(shelf, currency)] if currency else [])]


class _Change(NamedTuple):
    """What a purchase makes of its item: other text, or the pairs of a new one."""

    name: str
    left: Stock
    splices: tuple[Splice, ...] = ()
    pairs: tuple[str, ...] = ()
    currency: str | None = None
    remarks: tuple[str, ...] = ()


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
    if own and price.currency and not is_currency(price.currency, own):
        raise UsageProblemError(f"--price: the shelf counts in {own}, not in {price.currency}")


def _new(purchase: BoughtItem, used: Iterable[str]) -> _Change:
    remarks = ("The shelf is new.", *_called_alike(purchase.item, used))
    pairs = tuple(_pairs(purchase))
    return _Change(purchase.item, purchase.amount, (), pairs, remarks=remarks)


def _new_shelf(purchases: Iterable[BoughtItem], changes: Iterable[_Change]) -> str:
    currencies = (p.price.currency for p in purchases if p.price)
    currency = next((c for c in currencies if c), None)
    head = f"currency: {scalar_text(currency)}\n" if currency else ""
    lines = [f"  {scalar_text(c.name)}: {{{', '.join(c.pairs)}}}\n" for c in changes]
    return f"{head}items:\n{''.join(lines)}"


def _pairs(purchase: BoughtItem) -> list[str]:
    pairs = [f"left: {purchase.amount}"]
    pairs += [f"use_by: {purchase.use_by}"] if purchase.use_by else []
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
    return nearest(name, known) or [*islice(_holding(fold(name).split(), known), MOST_NEAR)]


def _holding(words: Sequence[str], known: Iterable[str]) -> Iterator[str]:
    """Yield the names that contain all of some words, or their beginnings."""
    for one in known:
        own = fold(one).split()
        if all(any(w.startswith(word) for w in own) for word in words):
            yield one


def _more(purchase: BoughtItem, shelf: OpenShelf, used: Iterable[str]) -> _Change:
    """Return a purchase added to its item, or as a new item."""
    found = shelf.find(purchase.item)
    name = found[0] if found else purchase.item
    currency = purchase.price.currency if purchase.price else None
    currency = currency if shelf.shelf.currency is None else None
    if found:
        splices, left, more = _more_of(purchase, shelf, *found)
        return _Change(name, left, tuple(splices), (), currency, tuple(more))
    others = (other for item in shelf.shelf.items.values() for other in item.also)
    near = _near(name, [*shelf.shelf.items, *others])
    remarks = [
        f"'{name}' was not on the shelf before{f'; near it stands {one_of(near)}' if near else ''}."
    ]
    remarks += [] if near else _called_alike(name, used)
    pairs = tuple(_pairs(purchase))
    return _Change(name, purchase.amount, (), pairs, currency, tuple(remarks))


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
    if purchase.use_by and item.use_by:
        splices.append(scalar_splice(shelf, ("items", name, "use_by"), purchase.use_by))
    elif purchase.use_by:
        fresh.append(f"use_by: {purchase.use_by}")
    elif item.use_by and item.use_by.isoformat() < purchase.date:
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
        how = "pieces, without a unit" if left.kind == "piece" else "a number and a unit"
        raise UsageProblemError(f"the shelf has {left} of it, not {amount}; try: {how}")
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
