"""Adding an entry to a section of the notebook's text and taking the last one out, by splicing.

Only the section's last entry is read: the cut into sections has shown every line to be whole in
itself. A text that cannot be cut is read as a whole, before and after.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any, NamedTuple

from eggfold.errors import FileAccessError, ProblemsError
from eggfold.files.nodes import Mapping, plain_data, read_nodes
from eggfold.files.notebook import MAX_NODES, SectionName
from eggfold.files.reading import Placed
from eggfold.files.sections import Excerpt, Section, cut_sections
from eggfold.files.source import LINE_BREAK, Source
from eggfold.files.yaml_text import Fields

OWN_INDENT = "  "
_FIRST_ITEM = re.compile(r"^( *)-(?=[ \r\n])", re.MULTILINE)
_LONE_RETURN = re.compile(r"\r(?!\n)")
_LINE = re.compile(r"[^\n]*\n|[^\n]+")


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


def newline_of(text: str) -> str:
    """Return the line break that a text uses."""
    found = LINE_BREAK.search(text)
    return found[0] if found else "\n"


def add_entry(source: Source, name: SectionName, lines: list[str], fields: Fields) -> str:
    """Return the text with an entry more at the end of a section.

    Raises ProblemsError where the text has errors that are in the way, and FileAccessError where the
    entry would not read as what it is.
    """
    _refuse_lone_returns(source)
    section = _section(source, name)
    if section is None:
        text, at = source.text, len(source.text)
        lines = [f"{name}:", *(OWN_INDENT + line for line in lines)]
    else:
        text, at, indent = _room_for_more(source.text, name, section)
        lines = [indent + line for line in lines]
    inserted = _whole_lines(text, at, lines)
    new = text[:at] + inserted + text[at:]
    after = Source(source.file, new)
    if cut_sections(source.text) is None:
        right = _with_entry(source, name, fields) == _data(after)
    else:
        start = section.start if section else new.index(f"{name}:", at)
        end = section.end + len(new) - len(source.text) if section else len(new)
        right = _ends_with(after, name, Section(start, end), fields)
        header = f"{name}:\n" if section else ""
        right = right and cut_sections(header + inserted) is not None
    if not right:
        raise _unsafe(source.file)
    return new


def _room_for_more(text: str, name: SectionName, section: Section) -> tuple[str, int, str]:
    """Return a text where a section can go on, where that is, and the indent of its entries."""
    layout = _layout(text, name, section)
    behind = text[layout.colon : layout.body]
    if layout.last is not None or not behind.strip():
        return text, layout.end, layout.indent
    before, _, after = behind.partition("[]")
    cleared = before.rstrip(" \t") + after
    text = text[: layout.colon] + cleared + text[layout.body :]
    return text, layout.end + len(cleared) - len(behind), layout.indent


def _with_entry(source: Source, name: SectionName, fields: Fields) -> dict[str, Any]:
    before: dict[str, Any] = plain_data(_whole(source))
    return before | {name: (*(before.get(name) or ()), fields)}


def _ends_with(source: Source, name: SectionName, section: Section, fields: Fields) -> bool:
    """Tell whether a section's last entry reads as it was meant."""
    last = _last_in(source, name, section)
    return last is not None and plain_data(last.root) == {name: (fields,)}


def _whole_lines(text: str, at: int, lines: list[str]) -> str:
    """Return lines to put in at the start of a line, or at an end that has no line break."""
    newline = newline_of(text)
    block = newline.join(lines)
    unbroken = at > 0 and text[at - 1] != "\n"
    return newline + block if unbroken else block + newline


def began_as(source: Source, name: SectionName) -> str | None:
    """Return what stands behind a section's colon where the section has no entry yet."""
    section = _section(source, name)
    if section is None:
        return None
    layout = _layout(source.text, name, section)
    behind = source.text[layout.colon : layout.body].rstrip("\r\n")
    return behind if layout.last is None else None


def last_entry(source: Source, name: SectionName) -> Placed | None:
    """Return the tree of a section's last entry under the section's key, None without one."""
    section = _section(source, name)
    return _last_in(source, name, section) if section else None


def _last_in(source: Source, name: SectionName, section: Section) -> Placed | None:
    layout = _layout(source.text, name, section)
    if layout.last is None:
        return None
    tail = _Tail(source, Section(layout.last, layout.end), f"{name}:\n")
    root, problems = read_nodes(tail)
    if problems:
        raise ProblemsError(problems)
    return Placed(tail, root)


def drop_last(source: Source, name: SectionName, began: str | None) -> str:
    """Return the text without a section's last entry, and without its key if note wrote that too.

    ``began`` is what stood behind the key before there was an entry.
    """
    _refuse_lone_returns(source)
    text = source.text
    section = _section(source, name)
    layout = _layout(text, name, section) if section else None
    if layout is None or layout.last is None:
        raise LookupError(name)
    head, tail = text[: layout.last], text[layout.end :]
    if layout.alone and began is not None:
        behind = text[layout.colon : layout.body]
        newline = behind[len(behind.rstrip("\r\n")) :]
        head = text[: layout.colon] + began + newline + text[layout.body : layout.last]
    elif layout.alone and text[layout.start : layout.last].strip() == f"{name}:":
        head = text[: layout.start]
    if not tail and not text.endswith("\n"):
        head = _without_last_break(head)
    new = head + tail
    _check_dropped(source, new, name)
    return new


def _without_last_break(text: str) -> str:
    for newline in ("\r\n", "\n"):
        if text.endswith(newline):
            return text[: -len(newline)]
    return text


def _section(source: Source, name: SectionName) -> Section | None:
    cut = cut_sections(source.text)
    return _cut_by_reading(source).get(name) if cut is None else cut.get(name)


def _cut_by_reading(source: Source) -> dict[str, Section]:
    root = _whole(source)
    entries = list(root.entries.values())
    ends = [*(entry.key.start for entry in entries), len(source.text)][1:]
    return {
        entry.key.text: Section(entry.key.start, end)
        for entry, end in zip(entries, ends, strict=True)
    }


@lru_cache(maxsize=1)  # a change asks for what was there more than once
def _whole(source: Source) -> Mapping:
    root, problems = read_nodes(source, max_nodes=MAX_NODES)
    if problems:
        raise ProblemsError(problems)
    return root


def _layout(text: str, name: SectionName, section: Section) -> _Layout:
    start, end = section
    colon = text.index(":", start + len(name) - 1, end) + 1
    body = text.find("\n", colon, end) + 1 or end
    first = _FIRST_ITEM.search(text, body, end)
    if first is None:
        empty = block_end(text, body, end, len(OWN_INDENT))
        return _Layout(start, colon, body, OWN_INDENT, None, empty, alone=False)
    indent = first[1]
    last = max(first.start(), text.rfind(f"\n{indent}- ", body, end) + 1)
    behind = block_end(text, last, end, len(indent))
    return _Layout(start, colon, body, indent, last, behind, last == first.start())


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


class _Tail(Excerpt):
    """The end of a section under a header of its own."""

    def __init__(self, whole: Source, section: Section, header: str) -> None:
        super().__init__(whole, section)
        self.text = header + self.text
        self._offset -= len(header)


def _check_dropped(source: Source, new: str, name: SectionName) -> None:
    """Hold a text that had to be read as a whole against what it was: one entry less."""
    if cut_sections(source.text) is not None:
        return
    before: dict[str, Any] = plain_data(_whole(source))
    after = _data(Source(source.file, new)) if new.strip() else {}
    rest = before[name][:-1] or None
    if after is None or (after.get(name) or None) != rest:
        raise _unsafe(source.file)
    if before | {name: None} != after | {name: None}:
        raise _unsafe(source.file)


def _data(source: Source) -> dict[str, Any] | None:
    try:
        data: dict[str, Any] = plain_data(_whole(source))
    except ProblemsError:
        return None
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
