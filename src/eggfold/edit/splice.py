"""Replacing stretches of a text so that all else stays as it was written."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Any

from eggfold.errors import FileAccessError, ProblemsError
from eggfold.load.gate import LINE_BREAK, Source
from eggfold.load.notebook import SectionName
from eggfold.load.reading import Placed
from eggfold.load.yaml_text import Fields
from eggfold.load.yaml_tree import Entry, Mapping, Sequence, plain_data, read_nodes
from eggfold.records import NamedTuple

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
    newline = newline_of(text)
    block = newline.join(lines)
    unbroken = at > 0 and text[at - 1] != "\n"
    yield Splice(at, at, newline + block if unbroken else block + newline)


def began_as(source: Source, name: SectionName) -> str | None:
    """Return what stands behind a section's colon where the section has no entry yet."""
    layout = _layout(source, name)
    if layout is None or layout.last is not None:
        return None
    return source.text[layout.colon : layout.body].rstrip("\r\n")


def last_entry(source: Source, name: SectionName) -> Placed | None:
    """Return the tree of a section's last entry under the section's key, None without one."""
    root, problems = read_nodes(source, kept=True, whole=(name,))
    if problems:
        raise ProblemsError(problems)
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
    root, problems = read_nodes(source, kept=True, whole=())
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
    root, problems = read_nodes(source, kept=True)
    if problems:
        raise ProblemsError(problems)
    data: dict[str, Any] = plain_data(root)
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
