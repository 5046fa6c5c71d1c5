"""Changing what the shelf's text says is left, and what a thing was bought in, by splicing."""

from __future__ import annotations

from dataclasses import replace
from hashlib import sha256
from itertools import chain

from eggfold.edit.splice import Splice, block_end, newline_of
from eggfold.errors import FileAccessError, ProblemsError, errors_of
from eggfold.load.gate import Source
from eggfold.load.reading import Placed
from eggfold.load.shelf import OpenShelf, forget_places, shelf_problems
from eggfold.load.yaml_text import scalar_text
from eggfold.load.yaml_tree import Mapping, Scalar, Sequence, read_nodes, spelt_out


def left_as_written(shelf: OpenShelf, name: str) -> str | None:
    """Return what stands behind an item's ``left``, without its quotes; None where nothing does."""
    left = shelf.placed.node(("items", name, "left"))
    if not isinstance(left, Scalar):
        return None
    start, end = _inside(shelf.source.text, left)
    return shelf.source.text[start:end]


def left_splice(shelf: OpenShelf, name: str, text: str) -> Splice:
    """Return the splice that gives an item another ``left``, in its old quotes."""
    left = shelf.placed.node(("items", name, "left"))
    assert isinstance(left, Scalar)  # noqa: S101 - the item was read, and is tracked
    return Splice(*_inside(shelf.source.text, left), text)


def _inside(text: str, scalar: Scalar) -> tuple[int, int]:
    if not scalar.plain and text[scalar.start + 1 : scalar.end - 1] == scalar.text:
        return scalar.start + 1, scalar.end - 1
    return scalar.start, scalar.end


def pack_text(size: str, price: str) -> str:
    """Return a pack as the shelf lists it."""
    return f"{{size: {size}, price: {price}}}"


def pack_splice(shelf: OpenShelf, name: str, pack: str) -> Splice:
    """Return the splice that adds a pack to those an item is sold in."""
    text = shelf.source.text
    packs = shelf.placed.node(("items", name, "sold_in"))
    assert isinstance(packs, Sequence)  # noqa: S101 - the item was read
    if text[packs.start] == "[":
        if not packs.items:
            return Splice(packs.start + 1, packs.start + 1, pack)
        end = packs.items[-1].end
        return Splice(end, end, f", {pack}")
    dash = text.rindex("-", 0, packs.items[0].start)
    return Splice(dash, dash, f"- {pack}{newline_of(text)}{' ' * _column(text, dash)}")


def _column(text: str, index: int) -> int:
    return index - (text.rfind("\n", 0, index) + 1)


def price_splice(shelf: OpenShelf, name: str, pack: int, price: str) -> Splice:
    """Return the splice that gives a known pack its price of today."""
    text = shelf.source.text
    item = shelf.placed.node(("items", name, "sold_in", pack))
    assert isinstance(item, Mapping)  # noqa: S101 - a pack that was read
    if "price" in item.entries and isinstance(old := item.entries["price"].value, Scalar):
        return Splice(*_inside(text, old), price)
    return _first_keys(text, item, [f"price: {price}"])


def keys_splice(shelf: OpenShelf, name: str, pairs: list[str]) -> Splice:
    """Return the splice that gives an item some keys more, before its others."""
    text = shelf.source.text
    items = shelf.placed.node(("items",))
    assert isinstance(items, Mapping)  # noqa: S101 - the shelf was read
    entry = items.entries[name]
    if isinstance(entry.value, Mapping):
        return _first_keys(text, entry.value, pairs)
    colon = text.index(":", entry.key.end) + 1
    return Splice(colon, colon, f" {{{', '.join(pairs)}}}")


def _first_keys(text: str, mapping: Mapping, pairs: list[str]) -> Splice:
    if mapping.flow:
        start = mapping.start + 1
        joined = ", ".join(pairs)
        return Splice(start, start, f"{joined}, " if mapping.entries else joined)
    start = next(iter(mapping.entries.values())).key.start
    rest = f"{newline_of(text)}{' ' * _column(text, start)}"
    return Splice(start, start, "".join(f"{pair}{rest}" for pair in pairs))


def item_splice(shelf: OpenShelf, name: str, pairs: list[str]) -> Splice:
    """Return the splice that puts a new item behind the others."""
    text = shelf.source.text
    items = shelf.placed.node(("items",))
    item = f"{scalar_text(name)}: {{{', '.join(pairs)}}}"
    assert isinstance(items, Mapping)  # noqa: S101 - the shelf was read
    if items.flow:
        if not items.entries:
            return Splice(items.start + 1, items.start + 1, item)
        end = list(items.entries.values())[-1].value.end
        return Splice(end, end, f", {item}")
    first, *_ = entries = list(items.entries.values())
    column = _column(text, first.key.start)
    last = text.rfind("\n", 0, entries[-1].key.start) + 1
    at = block_end(text, last, items.end, column)
    line = f"{' ' * column}{item}"
    newline = newline_of(text)
    unbroken = at > 0 and text[at - 1] != "\n"
    return Splice(at, at, newline + line if unbroken else line + newline)


def currency_splice(shelf: OpenShelf, currency: str) -> Splice:
    """Return the splice that names the currency before everything else."""
    pairs = [f"currency: {scalar_text(currency)}"]
    return _first_keys(shelf.source.text, shelf.placed.root, pairs)


def refuse_harm(file: str, text: str, shelf: OpenShelf | None, touched: set[str]) -> None:
    """Refuse a changed shelf that does not read, or that differs in more than what was touched.

    Raises ProblemsError or FileAccessError.
    """
    before = _digest(shelf.placed.root, touched) if shelf else None
    forget_places()  # one tree at a time: a full shelf is to go into 100 MB
    source = Source(file, text)
    root, problems = read_nodes(source, kept=True)
    problems += shelf_problems(Placed(source, root))
    errors = errors_of(problems)
    if errors:
        raise ProblemsError(errors)
    if before is not None and before != _digest(root, touched):
        raise FileAccessError(file, "cannot be changed safely as it is written")


def _digest(shelf: Mapping, touched: set[str]) -> bytes:
    """Return what a shelf says, but for some items and the currency, as a hash."""
    data = sha256()
    for key, entry in shelf.entries.items():
        value = entry.value
        if key == "items" and isinstance(value, Mapping):
            left = {name: item for name, item in value.entries.items() if name not in touched}
            value = replace(value, entries=left)
        if key != "currency":
            for piece in chain([repr(key)], spelt_out(value)):
                data.update(piece.encode())
    return data.digest()
