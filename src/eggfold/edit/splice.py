"""Replacing stretches of a text so that all else stays as it was written."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache
from hashlib import sha256
from itertools import chain
from typing import Any, TypeAlias

from eggfold.errors import FileAccessError, ProblemsError, errors_of
from eggfold.load.gate import LINE_BREAK, Source
from eggfold.load.lots import Lot, lots_of, read_lots
from eggfold.load.notebook import SectionName
from eggfold.load.reading import NodePath, Placed
from eggfold.load.shelf import OpenShelf, forget_places, shelf_problems
from eggfold.load.yaml_tree import (
    Entry,
    Mapping,
    Scalar,
    Sequence,
    plain_data,
    read_nodes,
    scalar_text,
    spelt_out,
)
from eggfold.records import NamedTuple

Fields: TypeAlias = "dict[str, str | dict[str, str]]"
"""An entry: keys with a text, or with texts of their own."""
_LINE = re.compile(r"[^\n]*\n|[^\n]+")


class Splice(NamedTuple):
    """A stretch of a text and what stands there instead."""

    start: int
    end: int
    text: str


def spliced(text: str, splices: Iterable[Splice]) -> str:
    """Return the text with all stretches replaced."""
    parts: list[str] = []
    at = 0
    for start, end, new in sorted(splices):
        parts += [text[at:start], new]
        at = max(at, end)
    return "".join([*parts, text[at:]])


def line_patch(text: str, splices: Iterable[Splice]) -> Fields:
    """Return the lines that splices change, as they are and as they become, by their line afterwards.

    They stand under ``was`` and ``now``; what is added behind a line that is not ended has only the latter.
    """
    was: dict[str, str] = {}
    now: dict[str, str] = {}
    more = 0
    for start, end, own in _line_groups(text, splices):
        line = text.count("\n", 0, start) + 1 + more
        before = text[start:end]
        after = spliced(before, [Splice(s - start, e - start, new) for s, e, new in own])
        now[str(line)] = after
        was |= {str(line): before} if start < len(text) or text[-1:] in ("", "\n") else {}
        more += after.count("\n") - before.count("\n")
    return {key: lines for key, lines in (("was", was), ("now", now)) if lines}


def _line_groups(text: str, splices: Iterable[Splice]) -> Iterator[tuple[int, int, list[Splice]]]:
    """Yield splices with the whole lines they touch; those that share a line come together."""
    group: list[Splice] = []
    first = last = 0
    for splice in sorted(splices):
        start = text.rfind("\n", 0, splice.start) + 1
        end = splice.end
        if splice.start == len(text) and start < end:  # behind a last line that is not ended
            start = end
        elif not (splice.start == start and (splice.text or text[start:end]).endswith("\n")):
            end = text.find("\n", end) + 1 or len(text)
        if group and start <= last:
            last = max(last, end)
            group.append(splice)
            continue
        if group:
            yield first, last, group
        first, last, group = start, end, [splice]
    if group:
        yield first, last, group


def patch_back(text: str, was: dict[str, str], now: dict[str, str]) -> list[Splice]:
    """Return the splices that put lines back as they were; LookupError where one has changed since."""
    starts = [0, *(found.end() for found in re.finditer("\n", text))]
    splices = []
    for line, after in now.items():
        number = int(line) if line.isdecimal() else 0
        if not 0 < number <= len(starts):
            raise LookupError(line)
        start = starts[number - 1]
        if after[:1] in ("\r", "\n") and line not in was:
            start = starts[number] - len(newline_of(after)) if number < len(starts) else len(text)
        if not text.startswith(after, start):
            raise LookupError(line)
        splices.append(Splice(start, start + len(after), was.get(line, "")))
    return splices


def newline_of(text: str) -> str:
    """Return the line break that a text uses."""
    found = LINE_BREAK.search(text)
    return found[0] if found else "\n"


def block_end(text: str, start: int, limit: int, indent: int) -> int:
    """Return where the last line ends that belongs to a block at an indent."""
    end = start
    for line in _LINE.finditer(text, start, limit):
        if _belongs(line[0], indent):
            end = line.end()
    return end


def _belongs(line: str, indent: int) -> bool:
    """Tell whether a line is an entry's own: its text, or a comment deeper than its dash."""
    bare = line.strip()
    if not bare:
        return False
    return not bare.startswith("#") or len(line) - len(line.lstrip(" ")) > indent


OWN_INDENT = "  "
_LAST_BREAK = re.compile(r"\r?\n\Z")
_LONE_RETURN = re.compile(r"\r(?!\n)")


class _Layout(NamedTuple):
    """A section's text: its header line, and where its last entry starts and ends."""

    start: int
    """The section's key."""
    colon: int
    """Behind its colon."""
    body: int
    """The line under the header."""
    indent: str
    last: int | None
    """The last entry's line."""
    end: int
    """Behind the last entry; behind the header where there is none."""
    alone: bool
    """Whether the last entry is the only one."""


class _Short(NamedTuple):
    """A text without the entries between the first and the last of each section."""

    source: Source
    cuts: tuple[Splice, ...]

    def splice_whole(self, text: str, splices: Iterable[Splice]) -> str:
        """Return the whole text with what was changed in the short one."""
        return spliced(text, [Splice(self._at(s), self._at(e), new) for s, e, new in splices])

    def _at(self, index: int) -> int:
        return index + sum(end - start for start, end, _ in self.cuts if start <= index)


def add_entry(source: Source, name: SectionName, lines: list[str], fields: Fields) -> str:
    """Return the text with an entry more at the end of a section.

    Raises ProblemsError where the text has errors that are in the way, and FileAccessError where the
    entry would not read as what it is.
    """
    _refuse_lone_returns(source)
    short = _shortened(source)
    splices = [*additions(short.source, name, lines)]
    before = _data(short.source)
    entries = before.get(name) or ()
    _refuse_harm(short, splices, name, before | {name: (*entries, fields)})
    return short.splice_whole(source.text, splices)


def flow_entry(fields: Fields) -> list[str]:
    """Return an entry as one line: a list item with all keys in braces."""
    return [f"- {_braces(fields)}"]


def _braces(fields: Fields) -> str:
    pairs = (
        f"{scalar_text(key)}: {_braces({**value}) if isinstance(value, dict) else scalar_text(value)}"
        for key, value in fields.items()
    )
    return f"{{{', '.join(pairs)}}}"


def block_entry(fields: Fields) -> list[str]:
    """Return an entry as a list item with a line for each key."""
    lines = list(_block_lines(fields))
    return [f"- {lines[0]}", *(f"  {line}" for line in lines[1:])]


def _block_lines(fields: Fields) -> Iterator[str]:
    for key, value in fields.items():
        if isinstance(value, dict):
            yield f"{scalar_text(key)}:"
            yield from (f"  {scalar_text(k)}: {scalar_text(v)}" for k, v in value.items())
        else:
            yield f"{scalar_text(key)}: {scalar_text(value)}"


def additions(source: Source, name: str, lines: list[str]) -> Iterator[Splice]:
    """Yield the splices that add an entry at the end of a list, which may still be to be made."""
    text, layout = source.text, _layout(source, name)
    if layout is None:
        at, lines = len(text), [f"{name}:", *(OWN_INDENT + line for line in lines)]
    else:
        at, lines = layout.end, [layout.indent + line for line in lines]
        behind = text[layout.colon : layout.body]
        before, empty, _ = behind.partition("[]")
        if layout.last is None and empty:
            start = layout.colon + len(before.rstrip(" \t"))
            yield Splice(start, layout.colon + len(before) + len(empty), "")
    yield _lines_splice(text, at, lines)


def _lines_splice(text: str, at: int, lines: Iterable[str]) -> Splice:
    """Return the splice that puts lines behind others, the last of which may not be ended."""
    newline = newline_of(text)
    block = newline.join(lines)
    unbroken = at > 0 and text[at - 1] != "\n"
    return Splice(at, at, newline + block if unbroken else block + newline)


def began_as(source: Source, name: SectionName) -> str | None:
    """Return what stands behind a section's colon where the section has no entry yet."""
    layout = _layout(source, name)
    if layout is None or layout.last is not None:
        return None
    return source.text[layout.colon : layout.body].rstrip("\r\n")


def last_entry(source: Source, name: SectionName) -> Placed | None:
    """Return the tree of a section's last entry under the section's key, None without one."""
    root = _tree(source, whole=(name,))
    entry = root.entries.get(name)
    if entry is None or not isinstance(entry.value, Sequence) or not entry.value.items:
        return None
    last = Entry(entry.key, replace(entry.value, items=entry.value.items[-1:]))
    return Placed(source, replace(root, entries={name: last}))


def drop_last(source: Source, name: SectionName, began: str | None) -> str:
    """Return the text without a section's last entry, and without its key if note wrote that too.

    ``began`` is what stood behind the key before there was an entry.
    """
    _refuse_lone_returns(source)
    short = _shortened(source)
    layout = _layout(short.source, name)
    if layout is None or layout.last is None:
        raise LookupError(name)
    text = short.source.text
    splices = [*_removals(text, name, layout, layout.last, began)]
    before = _data(short.source)
    _refuse_harm(short, splices, name, before | {name: before[name][:-1]})
    new = short.splice_whole(source.text, splices)
    is_broken = layout.end < len(text) or text.endswith("\n")
    return new if is_broken else _LAST_BREAK.sub("", new)


def _removals(
    text: str, name: SectionName, layout: _Layout, start: int, began: str | None
) -> Iterator[Splice]:
    if layout.alone and began is not None:
        behind = text[layout.colon : layout.body]
        yield Splice(layout.colon, layout.colon + len(behind.rstrip("\r\n")), began)
    elif layout.alone and text[layout.start : start].strip() == f"{name}:":
        start = layout.start
    yield Splice(start, layout.end, "")


def removal(source: Source, items: Sequence, number: int) -> Splice:
    """Return the splice that takes an item out of a list whose items stand in lines."""
    indent = _indent(source.text, items)
    if indent is None:
        raise _unsafe(source.file)
    start = _item_line(source, items, number)
    is_last = number == len(items.items) - 1
    limit = items.end if is_last else _item_line(source, items, number + 1)
    return Splice(start, block_end(source.text, start, limit, len(indent)), "")


@lru_cache(maxsize=2)  # a change asks for the text and for its short form
def _outline(source: Source) -> Mapping:
    """Return where the sections and their entries stand."""
    return _tree(source, whole=())


def _tree(source: Source, whole: tuple[str, ...] | None = None) -> Mapping:
    root, problems = read_nodes(source, kept=True, whole=whole)
    if problems:
        raise ProblemsError(problems)
    return root


def _layout(source: Source, name: str) -> _Layout | None:
    text, root = source.text, _outline(source)
    if name not in root.entries:
        return None
    key, value = root.entries[name].key, root.entries[name].value
    following = (e.key.start for e in root.entries.values() if e.key.start > key.start)
    limit = min(following, default=len(text))
    colon = text.index(":", key.end, limit) + 1
    body = text.find("\n", colon, limit) + 1 or limit
    if not isinstance(value, Sequence) or not value.items:
        end = block_end(text, body, limit, len(OWN_INDENT))
        return _Layout(key.start, colon, body, OWN_INDENT, None, end, alone=False)
    indent = _indent(text, value)
    if indent is None:
        raise _unsafe(source.file)
    last = _item_line(source, value, -1)
    end = block_end(text, last, limit, len(indent))
    return _Layout(key.start, colon, body, indent, last, end, alone=len(value.items) == 1)


def _item_line(source: Source, items: Sequence, number: int) -> int:
    """Return where the line of an item starts that stands in lines."""
    text = source.text
    return text.rfind(f"\n{_indent(text, items)}-", 0, items.items[number].start + 1) + 1


def _indent(text: str, items: Sequence) -> str | None:
    """Return what stands before the dashes of a list, None where its items have no lines."""
    start = text.rfind("\n", 0, items.start) + 1
    indent = text[start : items.start]
    stands_in_lines = text.startswith("-", items.start) and not indent.strip(" ")
    return indent if stands_in_lines else None


def _shortened(source: Source) -> _Short:
    cuts = []
    for entry in _outline(source).entries.values():
        value = entry.value
        is_long = isinstance(value, Sequence) and len(value.items) > 2
        if isinstance(value, Sequence) and is_long and _indent(source.text, value) is not None:
            start, end = (_item_line(source, value, number) for number in (1, -1))
            cuts.append(Splice(start, end, ""))
    removed, placed = 0, []
    for start, end, _ in sorted(cuts):
        placed.append(Splice(start - removed, end - removed, ""))
        removed += end - start
    return _Short(Source(source.file, spliced(source.text, cuts)), tuple(placed))


def _refuse_harm(
    short: _Short, splices: Iterable[Splice], name: SectionName, wanted: dict[str, Any]
) -> None:
    """Refuse a change after which the text would say anything else than what is wanted."""
    file = short.source.file
    try:
        after = _data(Source(file, spliced(short.source.text, splices)))
    except ProblemsError:
        raise _unsafe(file) from None
    if after | {name: after.get(name) or ()} != wanted | {name: wanted[name] or ()}:
        raise _unsafe(file)


def _data(source: Source) -> dict[str, Any]:
    data: dict[str, Any] = plain_data(_tree(source))
    return data


def _refuse_lone_returns(source: Source) -> None:
    """Refuse a text with line breaks that would melt into those put behind them."""
    if found := _LONE_RETURN.search(source.text):
        line = source.place(found.start()).line
        reason = f"line {line} ends with a lone carriage return; save it with line feeds"
        raise FileAccessError(source.file, reason)


def _unsafe(file: str) -> FileAccessError:
    reason = (
        "an entry cannot be put in or taken out safely; write each as lines that begin with '- '"
    )
    return FileAccessError(file, reason)


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
    dash = text[: packs.items[0].start].rindex("-")
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
    return _lines_splice(text, at, (f"{' ' * column}{item}" for item in written))


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
    shelf: OpenShelf, after: Iterable[Lot | None], added: Iterable[Lot]
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
