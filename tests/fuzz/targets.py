"""What fuzzing calls: each target takes any bytes and fails where the program breaks its word."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, get_args

from eggfold.amounts import (
    AmountError,
    Dimension,
    parse_amount,
    parse_dose,
    parse_number,
)
from eggfold.errors import EggfoldError, FileAccessError, Problem, ProblemsError
from eggfold.files.checking import check_files
from eggfold.files.entries import add_entry, began_as, drop_last
from eggfold.files.fixing import Mended, mend_files
from eggfold.files.nodes import plain_data, read_nodes
from eggfold.files.notebook import SECTIONS
from eggfold.files.shelf import OpenShelf, open_shelf, parse_day, parse_price, parse_stock
from eggfold.files.source import Source, drafts
from eggfold.files.stocktaking import (
    Splice,
    currency_splice,
    item_splice,
    keys_splice,
    left_as_written,
    left_splice,
    pack_splice,
    pack_text,
    price_splice,
    refuse_harm,
    spliced,
)
from eggfold.files.workspace import Workspace
from eggfold.files.yaml_text import block_entry, flow_entry
from eggfold.formats.problems import problems_text
from eggfold.jobs.asked import Asked
from eggfold.jobs.batch import build_batch
from running import ROOT

if TYPE_CHECKING:
    from collections.abc import Callable

KINDS = ("recipe", "additives", "ingredients", "bench", "shelf", "notebook", "plan", "season")
"""What a file can be; the first byte of the input chooses the file's name."""
NOWHERE = "/nowhere"
"""A folder that is not there: whatever is read of it stands in memory."""
LINE = re.compile(r"[^\r\n]*(\r\n|\n|\r)?")
LAST_DAY = "2026-01-01"
DIMENSIONS: tuple[Dimension, ...] = get_args(Dimension)
CODES = frozenset(
    re.findall(r"^## ([a-z0-9-]+)$", (ROOT / "docs" / "errors.md").read_text("utf-8"), re.MULTILINE)
)


def read_files(data: bytes) -> None:
    """Any bytes as a file of any kind are problems at places in it, or a model that answers."""
    if not data:
        return
    file = f"{NOWHERE}/{KINDS[data[0] % len(KINDS)]}.yaml"
    with drafts.kept():
        drafts.put(file, data[1:])
        problems = _checked(file)
        _assert_placed(data[1:], problems)
        _answer(file)


def _checked(file: str) -> list[Problem]:
    workspace = Workspace((file,), stocked=True)
    problems, _ = check_files(workspace, LAST_DAY, LAST_DAY)
    assert workspace.failures == []
    return problems


def _assert_placed(data: bytes, problems: list[Problem]) -> None:
    lines = len(re.split(r"\r\n|\n|\r", data.decode("utf-8-sig", "replace")))
    for problem in problems:
        assert problem.code in CODES, problem
        assert 1 <= problem.line <= lines, problem
        assert 0 <= problem.caret <= len(problem.source), problem
    problems_text(problems).encode()


def _answer(file: str) -> None:
    for opened in Workspace((file,), stocked=True).recipes(required=False):
        if not opened.answerable("hookbait"):
            try:
                build_batch(opened, Asked("hookbait"))
            except EggfoldError as error:
                str(error).encode()


def read_amounts(data: bytes) -> None:
    """Any text is an amount, a dose, a number, a stock, a price and a day, or not one: no more."""
    text = data.decode("utf-8", "replace")
    readers: list[Callable[[str], object]] = [parse_dose, parse_stock]
    readers.append(lambda t: parse_amount(t, "mass", "volume"))
    readers += [lambda t, d=d: parse_amount(t, d) for d in DIMENSIONS]  # type: ignore[misc]
    for read in readers:
        try:
            value = read(text)
        except AmountError as error:
            assert error.code in CODES, error.code
            continue
        written = str(value)
        assert str(read(written)) == written, (text, written)
    for read in (parse_number, parse_price, parse_day):
        try:
            read(text)
        except AmountError as error:
            assert error.code in CODES, error.code


def edit_files(data: bytes) -> None:
    """An edit changes what it is for and nothing else, reads back, and can be taken back."""
    if len(data) < 2:
        return
    edits = (_note, _draw, _mend)
    edits[data[0] % len(edits)](data[1], data[2:])


def _data_of(text: str) -> dict[str, object] | None:
    if not text.strip():
        return {}
    try:
        root, problems = read_nodes(Source("notebook.yaml", text), max_nodes=500_000)
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
    assert drop_last(Source("notebook.yaml", new), section, began) == text


def _draw(choice: int, data: bytes) -> None:
    file = f"{NOWHERE}/shelf.yaml"
    with drafts.kept():
        drafts.put(file, data)
        shelf, problems = open_shelf(file)
        if shelf is None or any(p.severity == "error" for p in problems):
            return
        for name, item in shelf.shelf.items.items():
            if item.left is not None:
                _draw_and_undo(shelf, name)
            _buy(shelf, name, choice)
        if shelf.shelf.items or shelf.placed.node(("items",)):
            _splice(shelf, "a new thing", lambda: item_splice(shelf, "a new thing", ["left: 1 kg"]))


def _draw_and_undo(shelf: OpenShelf, name: str) -> None:
    text = shelf.placed.source.text
    new = spliced(text, [left_splice(shelf, name, "1")])
    try:
        refuse_harm(shelf.file, new, shelf.placed, {name})
    except EggfoldError:
        return
    was = left_as_written(shelf, name)
    drafts.put(shelf.file, new.encode())
    drawn, _ = open_shelf(shelf.file)
    assert drawn is not None
    assert was is not None
    assert spliced(new, [left_splice(drawn, name, was)]) == text


def _buy(shelf: OpenShelf, name: str, choice: int) -> None:
    item = shelf.shelf.items[name]
    pack = pack_text("1 kg", "2")
    if item.sold_in:
        _splice(shelf, name, lambda: pack_splice(shelf, name, pack))
        number = choice % len(item.sold_in)
        _splice(shelf, name, lambda: price_splice(shelf, name, number, "3"))
    elif shelf.placed.node(("items", name, "sold_in")) is None:
        _splice(shelf, name, lambda: keys_splice(shelf, name, [f"sold_in: [{pack}]"]))
    if shelf.shelf.currency is None:
        _splice(shelf, name, lambda: currency_splice(shelf, "EUR"))


def _splice(shelf: OpenShelf, name: str, splice: Callable[[], Splice]) -> None:
    text = shelf.placed.source.text
    new = spliced(text, [splice()])
    try:
        refuse_harm(shelf.file, new, shelf.placed, {name})
    except EggfoldError:  # refused: nothing would be written
        return
    assert len(new) >= len(text) - 20


def _mend(choice: int, data: bytes) -> None:
    file = f"{NOWHERE}/{KINDS[choice % len(KINDS)]}.yaml"
    drafts.put(file, data)
    try:
        mended, left = mend_files(lambda: _checked(file))
        for one in mended:
            _assert_mended(one, data)
            drafts.put(file, one.change.new or b"")
            assert _checked(file) == left
    finally:
        with drafts.kept():
            pass


def _assert_mended(one: Mended, data: bytes) -> None:
    """Only lines with a mended problem differ, and only from the first problem on."""
    assert one.change.old == data
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


TARGETS: dict[str, Callable[[bytes], None]] = {
    "read": read_files,
    "amounts": read_amounts,
    "edit": edit_files,
}
