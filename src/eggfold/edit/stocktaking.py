"""Changing what the shelf's text says is left, and what a thing was bought in, by splicing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from hashlib import sha256
from itertools import chain

from eggfold.edit.splice import Splice, additions, block_end, newline_of, removal
from eggfold.errors import FileAccessError, ProblemsError, errors_of
from eggfold.load.gate import Source
from eggfold.load.lots import Lot, lots_of, read_lots
from eggfold.load.reading import NodePath, Placed
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
    return scalar_splice(shelf, ("items", name, "left"), text)


def scalar_splice(shelf: OpenShelf, path: NodePath, text: str) -> Splice:
    """Return the splice that gives a value of the shelf another text, in its old quotes."""
    value = shelf.placed.node(path)
    assert isinstance(value, Scalar)  # noqa: S101 - it was read
    return Splice(*_inside(shelf.source.text, value), text)


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


def items_splice(shelf: OpenShelf, new: dict[str, list[str]]) -> Splice:
    """Return the splice that puts new items with their keys behind the others."""
    text = shelf.source.text
    items = shelf.placed.node(("items",))
    written = [f"{scalar_text(name)}: {{{', '.join(pairs)}}}" for name, pairs in new.items()]
    assert isinstance(items, Mapping)  # noqa: S101 - the shelf was read
    if items.flow:
        if not items.entries:
            return Splice(items.start + 1, items.start + 1, ", ".join(written))
        end = list(items.entries.values())[-1].value.end
        return Splice(end, end, "".join(f", {item}" for item in written))
    first, *_ = entries = list(items.entries.values())
    column = _column(text, first.key.start)
    last = text.rfind("\n", 0, entries[-1].key.start) + 1
    at = block_end(text, last, items.end, column)
    newline = newline_of(text)
    line = newline.join(f"{' ' * column}{item}" for item in written)
    unbroken = at > 0 and text[at - 1] != "\n"
    return Splice(at, at, newline + line if unbroken else line + newline)


def currency_splice(shelf: OpenShelf, currency: str) -> Splice:
    """Return the splice that names the currency before everything else."""
    pairs = [f"currency: {scalar_text(currency)}"]
    return _first_keys(shelf.source.text, shelf.placed.root, pairs)


def lot_pairs(lot: Lot) -> dict[str, str]:
    """Return the keys of a lot as they are written; what goes without saying is left out."""
    pairs = {"recipe": scalar_text(lot.recipe), "strength": lot.strength, "left": str(lot.left)}
    if lot.sizes is not None:
        pairs["sizes"] = f"[{', '.join(map(str, lot.sizes))}]"
    days = {"made": lot.made, "since": lot.since, "counted": lot.counted}
    pairs |= {key: str(day) for key, day in days.items() if day}
    return pairs | {"state": lot.state} | ({"weighed": "no"} if lot.weighed == "no" else {})


def lot_splices(
    shelf: OpenShelf, after: Iterable[Lot | None], added: Iterable[Lot] = ()
) -> list[Splice]:
    """Return the splices that make the lots of a shelf what they are after a note.

    ``after`` has an entry for each lot, None where nothing is left; ``added`` come behind them.
    """
    baits = shelf.placed.node(("baits",))
    items = baits if isinstance(baits, Sequence) else Sequence(0, 0)
    splices: list[Splice] = []
    for number, (lot, new) in enumerate(zip(lots_of(shelf), after, strict=True)):
        if new is None:
            splices.append(removal(shelf.source, items, number))
        elif new != lot:
            node = items.items[number]
            assert isinstance(node, Mapping)  # noqa: S101 - the lot was read
            splices += _lot_changes(shelf.source.text, node, lot, new)
    lines = [f"- {{{', '.join(f'{k}: {v}' for k, v in lot_pairs(lot).items())}}}" for lot in added]
    return [*splices, *(additions(shelf.source, "baits", lines) if lines else ())]


def _lot_changes(text: str, node: Mapping, lot: Lot, new: Lot) -> Iterator[Splice]:
    old, pairs = lot_pairs(lot), lot_pairs(new)
    pairs |= {"weighed": "yes"} if lot.weighed == "no" and new.weighed == "yes" else {}
    fresh = []
    for key, value in pairs.items():
        entry = node.entries.get(key)
        if entry and old.get(key) != value:
            yield Splice(entry.value.start, entry.value.end, value)
        elif entry is None and old.get(key) != value:
            fresh.append(f"{key}: {value}")
    if fresh:
        end = list(node.entries.values())[-1].value.end
        apart = ", " if node.flow else f"{newline_of(text)}{' ' * _column(text, node.start)}"
        yield Splice(end, end, "".join(f"{apart}{pair}" for pair in fresh))


def refuse_harm(
    file: str, text: str, shelf: OpenShelf | None, touched: set[str], *, baits: bool = False
) -> None:
    """Refuse a changed shelf that does not read, or that differs in more than what was touched.

    ``touched`` are the items that were, ``baits`` says whether its lots were. Raises ProblemsError or
    FileAccessError.
    """
    before = _digest(shelf.placed.root, touched, baits=baits) if shelf else None
    forget_places()  # one tree at a time: a full shelf is to go into 100 MB
    source = Source(file, text)
    root, problems = read_nodes(source, kept=True)
    placed = Placed(source, root)
    problems += shelf_problems(placed) + (read_lots(placed)[1] if baits else [])
    errors = errors_of(problems)
    if errors:
        raise ProblemsError(errors)
    if before is not None and before != _digest(root, touched, baits=baits):
        raise FileAccessError(file, "cannot be changed safely as it is written")


def _digest(shelf: Mapping, touched: set[str], *, baits: bool) -> bytes:
    """Return what a shelf says, but for some items, the currency and maybe the lots, as a hash."""
    data = sha256()
    for key, entry in shelf.entries.items():
        if baits and key == "baits":
            continue
        value = entry.value
        if key == "items" and isinstance(value, Mapping):
            left = {name: item for name, item in value.entries.items() if name not in touched}
            value = replace(value, entries=left)
        if key != "currency":
            for piece in chain([repr(key)], spelt_out(value)):
                data.update(piece.encode())
    return data.digest()
