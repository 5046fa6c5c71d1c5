"""Edits of a file: they change what they are for and nothing else, and read back."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from eggfold.edit.fix import Mended, mend_files
from eggfold.edit.splice import (
    Splice,
    add_entry,
    began_as,
    block_entry,
    currency_splice,
    drop_last,
    flow_entry,
    items_splice,
    keys_splice,
    left_as_written,
    left_splice,
    pack_splice,
    pack_text,
    price_splice,
    refuse_harm,
    spliced,
)
from eggfold.errors import EggfoldError, FileAccessError, ProblemsError
from eggfold.load.gate import Source, stand_ins
from eggfold.load.notebook import SECTIONS
from eggfold.load.shelf import OpenShelf, open_shelf
from eggfold.load.yaml_tree import (
    Mapping,
    Node,
    Scalar,
    Sequence,
    plain_data,
    read_nodes,
)
from fuzz.answers import KINDS, NOWHERE, check_alone

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from typing import Any, TypeAlias

Data: TypeAlias = "dict[str, Any]"
NEW_NAMES = (
    "a new thing",
    "Reeds: 5",
    "#1",
    "- x",
    "null",
    "\u2028",
    "it's",
    '"',
    "{x}",
    " \t",
    "é",
)
EMPTY_LIST = re.compile(r"[ \t]*\[\]")
LINE = re.compile(r"[^\r\n]*(\r\n|\n|\r)?")


def edit_files(data: bytes) -> None:
    """An edit changes what it is for and nothing else, reads back, and can be taken back."""
    if len(data) < 2:
        return
    edits = (_note, _draw, _mend)
    edits[data[0] % len(edits)](data[1], data[2:])


def _data_of(text: str) -> Data | None:
    if not text.strip():
        return {}
    try:
        root, problems = read_nodes(Source("notebook.yaml", text), kept=True)
    except ProblemsError:
        return None
    return None if problems else plain_data(root)


def _note(choice: int, data: bytes) -> None:
    head, _, tail = data.partition(b"\x00")
    text, word = head.decode("utf-8", "replace"), tail.decode("utf-8", "replace") or "Reeds"
    section = SECTIONS[choice % 3]
    fields: dict[str, str | dict[str, str]] = {"recipe": word}
    if choice & 4:
        fields["drew"] = {word: "6"}
    lines = (flow_entry if choice & 8 else block_entry)(fields)
    source = Source("notebook.yaml", text)
    before = _data_of(text)
    if before is None or not isinstance(before.get(section) or (), tuple):
        return
    try:
        began = began_as(source, section)
        new = add_entry(source, section, lines, fields)
    except (FileAccessError, ProblemsError):
        return
    entries = before.get(section) or ()
    assert isinstance(entries, tuple)
    assert _data_of(new) == before | {section: (*entries, fields)}
    without_empty_lists = (text[: m.start()] + text[m.end() :] for m in EMPTY_LIST.finditer(text))
    assert any(_is_put_into(old, new) for old in (text, *without_empty_lists)), new
    assert drop_last(Source("notebook.yaml", new), section, began) == text


def _is_put_into(old: str, new: str) -> bool:
    """Tell whether a text is another one with something put in at one place."""
    return len(new) > len(old) <= _alike(old, new) + _alike(old[::-1], new[::-1])


def _alike(one: str, other: str) -> int:
    """Return how many characters two texts begin with alike."""
    pairs = enumerate(zip(one, other, strict=False))
    return next((i for i, (a, b) in pairs if a != b), min(len(one), len(other)))


def _draw(choice: int, data: bytes) -> None:
    file = f"{NOWHERE}/shelf.yaml"
    with stand_ins.kept():
        stand_ins.put(file, data)
        shelf, problems = open_shelf(file)
        if shelf is None or any(p.severity == "error" for p in problems):
            return
        for name, item in shelf.shelf.items.items():
            if item.left is not None:
                _draw_and_undo(shelf, name)
            _buy(shelf, name, choice)
        if shelf.shelf.items or shelf.placed.node(("items",)):
            _add(shelf, NEW_NAMES[choice % len(NEW_NAMES)])


def _draw_and_undo(shelf: OpenShelf, name: str) -> None:
    text = shelf.placed.source.text
    new = spliced(text, [left_splice(shelf, name, "1")])
    try:
        refuse_harm(shelf.file, new, shelf, {name})
    except EggfoldError:
        return
    was = left_as_written(shelf, name)
    stand_ins.put(shelf.file, new.encode())
    drawn, _ = open_shelf(shelf.file)
    assert drawn is not None
    assert was is not None
    assert spliced(new, [left_splice(drawn, name, was)]) == text


def _add(shelf: OpenShelf, name: str) -> None:
    if shelf.find(name) is None:
        item = {"left": "1 kg"}
        _splice(shelf, name, items_splice(shelf, {name: ["left: 1 kg"]}), _with_item(name, item))


def _buy(shelf: OpenShelf, name: str, choice: int) -> None:
    item = shelf.shelf.items[name]
    pack, written = {"size": "1 kg", "price": "2"}, pack_text("1 kg", "2")
    old = _data_of(shelf.placed.source.text)
    assert old is not None
    now = old["items"][name] or {}
    packs = now.get("sold_in") or ()
    if item.sold_in:
        more = _with_item(name, now | {"sold_in": (*packs, pack)})
        _splice(shelf, name, pack_splice(shelf, name, written), more)
        n = choice % len(packs)
        priced = (*packs[:n], packs[n] | {"price": "3"}, *packs[n + 1 :])
        dearer = _with_item(name, now | {"sold_in": priced})
        _splice(shelf, name, price_splice(shelf, name, n, "3"), dearer)
    elif shelf.placed.node(("items", name, "sold_in")) is None:
        first = _with_item(name, now | {"sold_in": (pack,)})
        _splice(shelf, name, keys_splice(shelf, name, [f"sold_in: [{written}]"]), first)
    if shelf.placed.node(("currency",)) is None:
        _splice(shelf, name, currency_splice(shelf, "EUR"), lambda data: data | {"currency": "EUR"})


def _with_item(name: str, item: Data) -> Callable[[Data], Data]:
    return lambda data: data | {"items": data["items"] | {name: item}}


def _splice(shelf: OpenShelf, name: str, splice: Splice, wanted: Callable[[Data], Data]) -> None:
    """Try a splice: where it is not refused, the shelf reads as it did but for what was wanted."""
    text = shelf.placed.source.text
    new = spliced(text, [splice])
    try:
        refuse_harm(shelf.file, new, shelf, {name})
    except EggfoldError:  # refused: nothing would be written
        return
    before, after = _data_of(text), _data_of(new)
    assert before is not None
    assert after is not None
    assert _unordered(after) == _unordered(wanted(before)), new


def _unordered(data: Data) -> Data:
    """Return a shelf whose packs and their keys stand in one order, wherever new ones went in."""
    items = {
        name: item | {"sold_in": sorted(sorted(pack.items()) for pack in item.get("sold_in") or ())}
        if item
        else item
        for name, item in data["items"].items()
    }
    return data | {"items": items}


def _mend(choice: int, data: bytes) -> None:
    file = f"{NOWHERE}/{KINDS[choice % len(KINDS)]}.yaml"
    stand_ins.put(file, data)
    try:
        mended, left = mend_files(check_alone(file), lambda: check_alone(file))
        for one in mended:
            _assert_mended(one, data)
            stand_ins.put(file, one.change.new or b"")
            assert check_alone(file) == left
    finally:
        with stand_ins.kept():
            pass


def _assert_mended(one: Mended, data: bytes) -> None:
    """Only lines with a mended problem differ, and only from the first problem on."""
    assert one.change.old == data
    _assert_same_but_for(data, one.change.new or b"", len(one.problems))
    old, new = ([m[0] for m in LINE.finditer(t.decode())] for t in (data, one.change.new or b""))
    assert len(old) == len(new)
    for number, (before, after) in enumerate(zip(old, new, strict=True), 1):
        columns = [p.column for p in one.problems if p.line == number]
        if before != after:
            assert columns, (number, before, after)
            mark = before.startswith("\ufeff")
            kept = min(columns) - 1 + mark
            assert before[:kept] == after[:kept]
            assert re.search(r"[\r\n]*\Z", before)[0] == re.search(r"[\r\n]*\Z", after)[0]  # type: ignore[index]


def _assert_same_but_for(old: bytes, new: bytes, many: int) -> None:
    """No more keys and values differ than were mended, and none came or went."""
    trees = []
    for data in (old, new):
        try:
            root, problems = read_nodes(Source("", data.decode("utf-8-sig")), kept=True)
        except ProblemsError:
            return
        if problems:
            return
        trees.append(list(_scalars(root)))
    before, after = trees
    assert len(before) == len(after)
    assert sum(a != b for a, b in zip(before, after, strict=True)) <= many


def _scalars(node: Node) -> Iterator[str]:
    if isinstance(node, Scalar):
        yield node.text
    elif isinstance(node, Sequence):
        for item in node.items:
            yield from _scalars(item)
    elif isinstance(node, Mapping):
        for entry in node.entries.values():
            yield entry.key.text
            yield from _scalars(entry.value)
