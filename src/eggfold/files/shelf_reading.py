"""Reading shelf.yaml: every problem in it, also what an item alone cannot know."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

from eggfold.amounts import Measures
from eggfold.errors import Problem, ProblemsError
from eggfold.files.nodes import Entry, Mapping, read_nodes
from eggfold.files.reading import Guesses, Path, Placed, Reading, read_model
from eggfold.files.shelf import MAX_BYTES, MAX_NODES, Item, OpenShelf, Shelf, Stock
from eggfold.files.source import read_source
from eggfold.nearest import fold
from eggfold.reference.measures import KITCHEN_UNITS, kitchen_measure
from eggfold.reference.stock import minor_digits

ITEMS_AT_ONCE = 500


def open_shelf(file: str) -> tuple[OpenShelf | None, list[Problem]]:
    """Read a shelf and its problems; None where nothing can be read. Raises FileAccessError."""
    try:
        source = read_source(file, limit_bytes=MAX_BYTES)
        root, found = read_nodes(source, max_nodes=MAX_NODES)
    except ProblemsError as error:
        return None, error.problems
    placed = Placed(source, root)
    reading = read_shelf(placed)
    opened = OpenShelf(file, reading.model, source, _names(reading.model))
    return opened, found + reading.problems


def read_shelf(placed: Placed) -> Reading[Shelf]:
    """Read shelf.yaml, with every problem in it."""
    reading = _read_items(placed)
    shelf = reading.model
    problems = [*reading.problems, *_same_names(placed, shelf)]
    priced = ("currency",) not in reading.broken
    good: dict[str, Item] = {}
    for name, item in shelf.items.items():
        path: Path = ("items", name)
        found = [*_measure_problems(placed, path, item, shelf.measures)]
        if priced:
            found += _price_problems(placed, path, item, shelf.currency)
        problems += found
        if not found:
            good[name] = item
    return Reading(shelf.model_copy(update={"items": good}), problems, reading.broken)


def _read_items(placed: Placed) -> Reading[Shelf]:
    """Read the model, so many items at a time: to read one takes more memory than to keep it."""
    items = placed.node(("items",))
    if not isinstance(items, Mapping) or len(items.entries) <= ITEMS_AT_ONCE:
        return read_model(Shelf, placed, {"items": {}}, None)
    names = iter(items.entries)
    model: Shelf | None = None
    good: dict[str, Item] = {}
    problems: list[Problem] = []
    broken: list[Path] = []
    near: Guesses = {}
    entries = placed.root.entries
    while part := {name: items.entries[name] for name in islice(names, ITEMS_AT_ONCE)}:
        some = replace(items, entries=part)
        root = replace(placed.root, entries=entries | {"items": Entry(entries["items"].key, some)})
        reading = read_model(Shelf, Placed(placed.source, root), {"items": {}}, None, near)
        model = model or reading.model
        good |= reading.model.items
        problems += reading.problems
        broken += reading.broken
        entries = {"items": entries["items"]}
    assert model  # noqa: S101 - there is at least one part
    return Reading(model.model_copy(update={"items": good}), problems, tuple(broken))


def _all_names(shelf: Shelf) -> Iterator[tuple[str, str, Path]]:
    """Yield every name, the item it means, and its path: own names before the others."""
    for name in shelf.items:
        yield name, name, ("items", name)
    for name, item in shelf.items.items():
        for i, other in enumerate(item.also):
            yield other, name, ("items", name, "also", i)


def _names(shelf: Shelf) -> dict[str, str]:
    names: dict[str, str] = {}
    for name, own, _ in _all_names(shelf):
        names.setdefault(fold(name), own)
    return names


def _same_names(placed: Placed, shelf: Shelf) -> Iterator[Problem]:
    """Yield a problem for each name that another item answers to already."""
    first: dict[str, Path] = {}
    for name, own, path in _all_names(shelf):
        where = first.setdefault(fold(name), path)
        other = where[1]
        if other != own:
            line = _line(placed, where)
            message = f"'{name}' is '{other}' of line {line}: one name, two items"
            hint = f"keep one of lines {line} and {_line(placed, path)}"
            yield placed.problem(path, "same-name", message, hint, key=True)


def _line(placed: Placed, path: Path) -> int:
    return placed.source.place(placed.index(path, key=True)).line


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
        if stock.unit in KITCHEN_UNITS and kitchen_measure(stock.unit, measures) is None:
            message = f"{stock.unit} differs by country"
            hint = "ml or l, or measures: imperial or us at the top"
            yield placed.problem(where, "unknown-measure", message, hint)
