"""Reading shelf.yaml: every problem in it, also what an item alone cannot know."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import islice

from eggfold.amounts import Measures
from eggfold.errors import Problem, ProblemsError
from eggfold.files.additives import unknown_measure
from eggfold.files.shelf import Item, OpenShelf, Shelf, Stock
from eggfold.load.gate import read_source
from eggfold.load.problem_limit import MOST_TOLD, room_for
from eggfold.load.reading import Guesses, Path, Placed, Reading, read_model
from eggfold.load.yaml_tree import Entry, Mapping, read_nodes
from eggfold.nearest import fold
from eggfold.reference.stock import minor_digits

ITEMS_AT_ONCE = 500


def open_shelf(file: str) -> tuple[OpenShelf | None, list[Problem]]:
    """Read a shelf and its problems; None where nothing can be read. Raises FileAccessError."""
    try:
        source = read_source(file, kept=True)
        root, found = read_nodes(source, kept=True)
    except ProblemsError as error:
        return None, error.problems
    placed = Placed(source, root)
    reading = read_shelf(placed)
    opened = OpenShelf(file, reading.model, source, _names(reading.model))
    return opened, found + reading.problems


def read_shelf(placed: Placed) -> Reading[Shelf]:
    """Read shelf.yaml, with every problem in it."""
    reader = _ShelfReader(placed)
    items = dict(reader.items())
    shelf = reader.head.model_copy(update={"items": items})
    return Reading(shelf, reader.problems, tuple(reader.broken))


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
        self._first: dict[str, Path] = {}
        """Where each folded name stands first."""
        self.head = Shelf(items={})
        """What the shelf says beside its items, once one of them has come."""
        self._is_priced = True
        """Whether it can be told what its prices are in."""
        self.problems: list[Problem] = []
        self.broken: list[Path] = []

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
            self.broken += reading.broken
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

    def _taken(self, name: str, own: str, path: Path) -> Iterator[Problem]:
        """Yield a problem where another item answers to a name already."""
        where = self._first.setdefault(fold(name), path)
        other = where[1]
        if other != own:
            line, second = (self._line(p) for p in (where, path))
            message = f"'{name}' is '{other}' of line {line}: one name, two items"
            hint = f"keep one of lines {line} and {second}"
            yield self._placed.problem(path, "same-name", message, hint, key=True)

    def _line(self, path: Path) -> int:
        return self._placed.source.place(self._placed.index(path, key=True)).line

    def _item_problems(self, name: str, item: Item) -> Iterator[Problem]:
        path: Path = ("items", name)
        yield from _measure_problems(self._placed, path, item, self.head.measures)
        if self._is_priced:
            yield from _price_problems(self._placed, path, item, self.head.currency)


def _readings(placed: Placed) -> Iterator[Reading[Shelf]]:
    """Read the model, so many items at a time: to read one takes more memory than to keep it."""
    items = placed.node(("items",))
    if not isinstance(items, Mapping) or len(items.entries) <= ITEMS_AT_ONCE:
        yield read_model(Shelf, placed, {"items": {}}, None)
        return
    names = iter(items.entries)
    near: Guesses = {}
    entries = placed.root.entries
    while part := {name: items.entries[name] for name in islice(names, ITEMS_AT_ONCE)}:
        some = replace(items, entries=part)
        root = replace(placed.root, entries=entries | {"items": Entry(entries["items"].key, some)})
        yield read_model(Shelf, Placed(placed.source, root), {"items": {}}, None, near)
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
    placed: Placed, path: Path, item: Item, currency: str | None
) -> Iterator[Problem]:
    for i, pack in enumerate(item.sold_in):
        if pack.price is None:
            continue
        where = (*path, "sold_in", i, "price")
        if currency is None:
            message = f"{pack.price} of which currency?"
            yield placed.problem(where, "no-currency", message, "currency: EUR at the top")
            continue
        digits = minor_digits(currency)
        if -int(pack.price.as_tuple().exponent) > digits:
            message = f"{pack.price} has more digits than {currency} has coins for"
            hint = f"at most {digits} behind the point" if digits else "no digits behind the point"
            yield placed.problem(where, "price-digits", message, hint)


def _measure_problems(
    placed: Placed, path: Path, item: Item, measures: Measures | None
) -> Iterator[Problem]:
    stocks: list[tuple[Path, Stock]] = [
        ((*path, "sold_in", i, "size"), pack.size) for i, pack in enumerate(item.sold_in)
    ]
    if item.left:
        stocks.append(((*path, "left"), item.left))
    for where, stock in stocks:
        if wrong := unknown_measure(stock.unit, measures):
            message, hint = wrong
            yield placed.problem(where, "unknown-measure", message, f"ml or l, or {hint}")
