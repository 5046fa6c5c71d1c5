"""shelf.yaml: what is in the house, and the packs it is sold in.

Amounts and prices are kept as they are written, exactly: an amount as a fraction of its unit, a price
as a decimal. Nothing here is a float.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from itertools import islice
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, model_validator

from eggfold.amounts import AmountError, Measures, in_our_digits, parse_amount, parse_number
from eggfold.errors import Problem, ProblemsError, in_quotes
from eggfold.load.additives import Contains, MeasuresChoice, unknown_measure
from eggfold.load.fields import Density, Name, Reads, StrictModel, parse_date, problem
from eggfold.load.gate import MOST_TOLD, Source, read_source, room_for
from eggfold.load.reading import Guesses, NodePath, Placed, Reading, read_model
from eggfold.load.register import FullAdditive
from eggfold.load.yaml_tree import Entry, Mapping, Node, Scalar, read_nodes
from eggfold.nearest import fold
from eggfold.records import NamedTuple
from eggfold.reference.eggs import ANY_EGGS, WEIGHED_EGGS
from eggfold.reference.measures import EXACT_SIZES, KITCHEN_UNITS, kitchen_measure, minor_digits

BaseUnit = Literal["g", "ml", "piece"]

_WHOLE = re.compile(r"[0-9]{1,15}")
_PLAIN = re.compile(r"[0-9]+\.[0-9]+")
_CURRENCY = re.compile(r"[^\W\d_]{1,12}|[$£¥€₩₹₽₺₴฿]")
_MONEY = r"[^\W\d_]{3}|[$£¥€₩₹₽₺₴฿]"
_PRICED = re.compile(rf"(?:({_MONEY}) ?)?([0-9]{{1,15}}(?:\.[0-9]{{1,15}})?)(?(1)| ?({_MONEY}))")
_WEIGHED_EGGS = re.compile(re.escape(WEIGHED_EGGS).replace(r"\{:\.1f\}", r"[0-9.]+"))
_PIECE_WORDS = re.compile(r"([0-9]{1,15}) ?(?:x|pcs?|pieces?|eggs?|balls?|units?)", re.IGNORECASE)
MOST_IN_BASE_UNIT = 10**9
"""No shelf holds more g, ml, pieces, spoons or cups than this."""
MOST_PACKS = 50
"""Packs one thing may be sold in."""
DEAREST = Decimal(10**7)


class Stock(NamedTuple):
    """An exact number of a unit: of mass, of volume, or ``piece`` for a bare whole number."""

    number: Fraction
    unit: str

    @property
    def kind(self) -> BaseUnit:
        """What it comes to: ``g``, ``ml`` or ``piece``."""
        if self.unit == "piece":
            return "piece"
        return "g" if self.unit in ("g", "kg", "mg", "oz", "lb") else "ml"

    def exact(self, measures: Measures | None = None) -> Fraction:
        """Return it in g, ml or pieces; ``measures`` are the file's own, for its spoons and cups."""
        measure = kitchen_measure(self.unit, measures) if self.unit in KITCHEN_UNITS else None
        return self.number * Fraction(EXACT_SIZES[measure.unit if measure else self.unit])

    def __str__(self) -> str:
        number = self.number
        digits = f"{Decimal(number.numerator) / Decimal(number.denominator):f}"
        text = digits.rstrip("0").rstrip(".") if "." in digits else digits
        return text if self.unit == "piece" else f"{text} {self.unit}"


@lru_cache(maxsize=4096)  # a shelf has many of the same amounts
def parse_stock(text: str) -> Stock:
    """Read ``NUMBER UNIT`` of mass or volume, or a whole bare number of pieces."""
    text = in_our_digits(" ".join(text.split()))
    if pieces := _PIECE_WORDS.fullmatch(text):
        text = pieces[1]
    if _WHOLE.fullmatch(text):
        return _in_reach(Stock(Fraction(text), "piece"))
    if _PLAIN.fullmatch(text):
        hint = f"{text} kg, or a whole number of pieces"
        raise AmountError("not-whole", f"{in_quotes(text)} is not a whole number of pieces", hint)
    amount = parse_amount(text, "mass", "volume")
    number = re.match(r"[0-9.]+", text)
    assert number  # noqa: S101 - parse_amount has read it
    return _in_reach(Stock(Fraction(number[0]), amount.unit))


def _in_reach(stock: Stock) -> Stock:
    kitchen = stock.unit in KITCHEN_UNITS
    if (stock.number if kitchen else stock.exact()) > MOST_IN_BASE_UNIT:
        units = stock.unit if kitchen else "g, ml or pieces"
        hint = f"at most {MOST_IN_BASE_UNIT:,} {units}"
        raise AmountError("out-of-range", f"{stock} is more than a shelf holds", hint)
    return stock


def _pack_size(text: str) -> Stock:
    stock = parse_stock(text)
    if not stock.number:
        raise AmountError("empty-pack", "a pack of nothing covers no need", "what is in the pack")
    return stock


def parse_price(text: str) -> Decimal:
    """Read a price: a plain number, its digits kept."""
    text = in_our_digits(text.strip())
    parse_number(text)
    price = Decimal(text)
    if price > DEAREST:
        raise AmountError(
            "out-of-range", f"{text} is not a price for a pack", f"at most {DEAREST:f}"
        )
    return price


def number_and_currency(text: str) -> tuple[str, str] | None:
    """Return the number and the currency of a price that is written with both, else None."""
    found = _PRICED.fullmatch(text.strip())
    return (found[2], found[1] or found[3]) if found else None


def _file_price(text: str) -> Decimal:
    """Read a price, with or without its currency; whether that is the shelf's is seen later."""
    both = number_and_currency(in_our_digits(text.strip()))
    return parse_price(both[0] if both else text)


CURRENCY_SIGNS = {"€": "EUR", "£": "GBP", "$": "USD"}


def _other_currency(node: Node | None, currency: str | None) -> str | None:
    """Return the currency that a price is written with, where it is another than the shelf's."""
    both = (
        number_and_currency(in_our_digits(node.text.strip())) if isinstance(node, Scalar) else None
    )
    if both is None:
        return None
    return None if is_currency(both[1], currency or "") else both[1]


def is_currency(written: str, own: str) -> bool:
    """Tell whether a currency is written for another: ``€`` for ``EUR``, and in any case."""
    return fold(written) == fold(own) or CURRENCY_SIGNS.get(written, written) == own.upper()


def parse_day(text: str) -> date:
    """Read a date as ``2026-05-02``."""
    return date.fromisoformat(parse_date(text))


def _currency(text: str) -> str:
    text = text.strip()
    if _CURRENCY.fullmatch(text):
        return text
    raise AmountError("not-a-currency", f"{in_quotes(text)} is not a currency", "a code, as in EUR")


_STOCK = (("amount", "mass", "volume"), ("pieces",))
_STOCK_SCHEMA: dict[str, Any] = {"type": "integer", "examples": ["2.5 kg", "250 ml", 30]}
StockAmount = Annotated[Stock, Reads(parse_stock, *_STOCK, **_STOCK_SCHEMA)]
PackSize = Annotated[Stock, Reads(_pack_size, *_STOCK, **_STOCK_SCHEMA)]
Price = Annotated[
    Decimal, Reads(_file_price, ("price",), type="number", minimum=0, examples=[12.5])
]
Day = Annotated[date, Reads(parse_day, ("date",))]
Currency = Annotated[str, Reads(_currency, type="string", examples=["EUR"])]


class SoldPack(StrictModel):
    """One pack a thing is sold in: what is in it, and its price."""

    size: PackSize
    """What one pack holds."""
    price: Price | None = None
    """What it costs."""


class Item(StrictModel):
    """One thing on the shelf. Without ``left`` it is not tracked."""

    left: StockAmount | None = None
    """What is left of it; without it the item is not tracked."""
    sold_in: Annotated[tuple[SoldPack, ...], Field(strict=False)] = ()
    """The packs it is sold in."""
    density: Density | None = None
    """Grams in a millilitre, where packs and doses differ."""
    contains: Contains | None = None
    """The allergens on its label."""
    opened: Day | None = None
    """The day it was opened."""
    use_by: Day | None = None
    """The last day it counts."""
    also: Annotated[tuple[Name, ...], Field(strict=False)] = ()
    """Other names of the same thing."""

    @property
    def is_counted(self) -> bool:
        """Whether it is counted in pieces."""
        stock = self.left or next((pack.size for pack in self.sold_in), None)
        return stock is not None and stock.kind == "piece"

    @model_validator(mode="after")
    def _few_packs(self) -> Item:
        if len(self.sold_in) > MOST_PACKS:
            text = f"{len(self.sold_in)} packs are more than anything is sold in"
            raise problem("out-of-range", text, f"at most {MOST_PACKS}", key="sold_in")
        return self

    @model_validator(mode="after")
    def _counted_or_measured(self) -> Item:
        stocks = [*([self.left] if self.left else []), *(pack.size for pack in self.sold_in)]
        counted = {stock.kind == "piece" for stock in stocks}
        if len(counted) > 1:
            text = "one of left and sold_in counts pieces, the other has a unit"
            key = "left" if self.left else "sold_in"
            raise problem("pieces-and-amounts", text, "pieces or amounts for both", key=key)
        return self


UNTRACKED = Item()


def _untracked(value: Any) -> Any:
    """Read a name with nothing behind it as an item of which nothing is known."""
    return UNTRACKED if value is None else value


class Shelf(StrictModel):
    """Everything on the shelf by name."""

    currency: Currency | None = None
    """The currency of the prices."""
    measures: MeasuresChoice | None = None
    """Whose spoons, cups and pints."""
    items: Annotated[
        dict[str, Annotated[Item, BeforeValidator(_untracked, json_schema_input_type=Item | None)]],
        Field(strict=False),
    ]
    """Everything by name."""


class OpenShelf(NamedTuple):
    """A shelf that was read: its model, its text, and every name it answers to."""

    file: str
    shelf: Shelf
    source: Source
    names: dict[str, str]
    """Folded name, own or ``also``, to the item's own name."""

    def find(self, name: str) -> tuple[str, Item] | None:
        """Return the item a name means, with the shelf's own spelling.

        Eggs that were weighed are those called so, else ``eggs``, else the only eggs there are.
        """
        folded = fold(name)
        own = self.names.get(folded)
        if own is None and _WEIGHED_EGGS.fullmatch(folded):
            own = self.names.get(ANY_EGGS) or self._only_eggs()
        return None if own is None else (own, self.shelf.items[own])

    def _only_eggs(self) -> str | None:
        eggs = {own for name, own in self.names.items() if ANY_EGGS in name.split()}
        counted = [own for own in eggs if self.shelf.items[own].is_counted]
        return counted[0] if len(counted) == 1 else None

    @property
    def placed(self) -> Placed:
        """Where everything stands: only a change of the text needs it."""
        return _placed(self.source)[0]

    def contains(self, name: str) -> tuple[str, ...] | None:
        """Return the allergens that the shelf declares for a name."""
        found = self.find(name)
        return found[1].contains if found else None

    def declared(self, additive: FullAdditive) -> FullAdditive:
        """Return an additive with the shelf's allergens where nothing else declares them."""
        if additive.contains is not None:
            return additive
        return additive._replace(contains=self.contains(additive.name))

    def exact(self, stock: Stock) -> Fraction:
        """Return an amount of this shelf in g, ml or pieces."""
        return stock.exact(self.shelf.measures)

    @property
    def minor_digits(self) -> int:
        """How many digits a price has behind its point."""
        return minor_digits(self.shelf.currency or "")

    def minor(self, price: Decimal | None) -> int | None:
        """Return a price in the smallest coin; None where it, or the currency, is not known."""
        if price is None or self.shelf.currency is None:
            return None
        return int(price.scaleb(self.minor_digits))


@lru_cache(maxsize=1)
def _placed(source: Source) -> tuple[Placed, list[Problem]]:
    root, problems = read_nodes(source, kept=True)
    return Placed(source, root), problems


def forget_places() -> None:
    """Let go of the tree that was read for a change of the text."""
    _placed.cache_clear()


ITEMS_AT_ONCE = 500


def open_shelf(file: str, *, to_change: bool = False) -> tuple[OpenShelf | None, list[Problem]]:
    """Read a shelf and its problems; None where nothing can be read. Raises FileAccessError.

    One that is to change keeps its tree, which takes memory.
    """
    try:
        source = read_source(file, kept=True)
        placed, found = _placed(source)
    except ProblemsError as error:
        return None, error.problems
    reader = _ShelfReader(placed)
    items = dict(reader.items())
    if not to_change:
        forget_places()
    shelf = reader.head.model_copy(update={"items": items})
    return OpenShelf(file, shelf, source, _names(shelf)), found + reader.problems


def shelf_problems(placed: Placed) -> list[Problem]:
    """Return every problem of shelf.yaml, and keep nothing else of it."""
    reader = _ShelfReader(placed)
    for _ in reader.items():
        pass
    return reader.problems


class _ShelfReader:
    """Reads a shelf item by item, as long as its problems can be told."""

    def __init__(self, placed: Placed) -> None:
        self._placed = placed
        self._first: dict[str, NodePath] = {}
        """Where each folded name stands first."""
        self.head = Shelf(items={})
        """What the shelf says beside its items, once one of them has come."""
        self._is_priced = True
        """Whether it can be told what its prices are in."""
        self.problems: list[Problem] = []

    def items(self) -> Iterator[tuple[str, Item]]:
        """Yield the items in which nothing is wrong, with their names."""
        self._note(self._same_own_names())
        for i, reading in enumerate(_readings(self._placed)):
            if len(self.problems) > MOST_TOLD:
                return
            if i == 0:
                self.head = reading.model
                self._is_priced = ("currency",) not in reading.broken
            self._note(reading.problems)
            for name, item in reading.model.items.items():
                self._note(self._same_other_names(name, item))
                found = [*self._item_problems(name, item)]
                self._note(found)
                if not found:
                    yield name, item

    def _note(self, found: Iterable[Problem]) -> None:
        self.problems += room_for(self.problems, found)

    def _same_own_names(self) -> Iterator[Problem]:
        items = self._placed.node(("items",))
        for name in items.entries if isinstance(items, Mapping) else ():
            yield from self._taken(name, name, ("items", name))

    def _same_other_names(self, own: str, item: Item) -> Iterator[Problem]:
        for i, other in enumerate(item.also):
            yield from self._taken(other, own, ("items", own, "also", i))

    def _taken(self, name: str, own: str, path: NodePath) -> Iterator[Problem]:
        """Yield a problem where another item answers to a name already."""
        where = self._first.setdefault(fold(name), path)
        other = where[1]
        if other != own:
            line, second = (self._line(p) for p in (where, path))
            message = f"'{name}' is '{other}' of line {line}: one name, two items"
            hint = f"keep one of lines {line} and {second}"
            yield self._placed.problem(path, "same-name", message, hint, key=True)

    def _line(self, path: NodePath) -> int:
        return self._placed.source.place(self._placed.index(path, key=True)).line

    def _item_problems(self, name: str, item: Item) -> Iterator[Problem]:
        path: NodePath = ("items", name)
        yield from _measure_problems(self._placed, path, item, self.head.measures)
        if self._is_priced:
            yield from _price_problems(self._placed, path, item, self.head.currency)


def _readings(placed: Placed) -> Iterator[Reading[Shelf]]:
    """Read the model, so many items at a time: to read one takes more memory than to keep it."""
    without = {key: entry for key, entry in placed.root.entries.items() if key != "baits"}
    placed = Placed(placed.source, replace(placed.root, entries=without))
    items = placed.node(("items",))
    if not isinstance(items, Mapping) or len(items.entries) <= ITEMS_AT_ONCE:
        yield read_model(Shelf, placed, {"items": {}})
        return
    names = iter(items.entries)
    near: Guesses = {}
    entries = placed.root.entries
    while part := {name: items.entries[name] for name in islice(names, ITEMS_AT_ONCE)}:
        some = replace(items, entries=part)
        root = replace(placed.root, entries=entries | {"items": Entry(entries["items"].key, some)})
        yield read_model(Shelf, Placed(placed.source, root), {"items": {}}, near=near)
        entries = {"items": entries["items"]}


def _names(shelf: Shelf) -> dict[str, str]:
    """Return the item that each folded name means: own names before the others."""
    names: dict[str, str] = {}
    for name in shelf.items:
        names.setdefault(fold(name), name)
    for name, item in shelf.items.items():
        for other in item.also:
            names.setdefault(fold(other), name)
    return names


def _price_problems(
    placed: Placed, path: NodePath, item: Item, currency: str | None
) -> Iterator[Problem]:
    for i, pack in enumerate(item.sold_in):
        if pack.price is None:
            continue
        where = (*path, "sold_in", i, "price")
        other = _other_currency(placed.node(where), currency)
        if currency is None:
            message = f"{pack.price} of which currency?"
            hint = f"currency: {other or 'EUR'} at the top"
            yield placed.problem(where, "no-currency", message, hint)
            continue
        if other:
            message = f"a price in {other} on a shelf whose prices are in {currency}"
            yield placed.problem(where, "not-a-number", message, f"what it is in {currency}")
            continue
        digits = minor_digits(currency)
        if -int(pack.price.as_tuple().exponent) > digits:
            message = f"{pack.price} has more digits than {currency} has coins for"
            hint = f"at most {digits} behind the point" if digits else "no digits behind the point"
            yield placed.problem(where, "price-digits", message, hint)


def _measure_problems(
    placed: Placed, path: NodePath, item: Item, measures: Measures | None
) -> Iterator[Problem]:
    stocks: list[tuple[NodePath, Stock]] = [
        ((*path, "sold_in", i, "size"), pack.size) for i, pack in enumerate(item.sold_in)
    ]
    if item.left:
        stocks.append(((*path, "left"), item.left))
    for where, stock in stocks:
        if wrong := unknown_measure(stock.unit, measures):
            message, hint = wrong
            yield placed.problem(where, "unknown-measure", message, f"ml or l, or {hint}")
