"""A section whose lines are each whole in themselves, read line by line: the same tree, far sooner.

The cut into sections has shown that a key, a value or a brace never outlasts its line. What a line
alone cannot decide (a key twice, an indent that fits nothing, an escape) is left to the YAML reader,
and so is every text that it would refuse.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from eggfold.errors import Problem
from eggfold.files.nodes import Entry, Mapping, Node, Scalar, Sequence, read_nodes
from eggfold.files.sections import IN_BLOCK, IN_FLOW, KEY, Excerpt

LONGEST_LINE = 1000
"""YAML looks for a key's colon no further than 1024 characters ahead."""

_HEADER = re.compile(r"([a-z_]+):\ *(\[\])?[^\n]*\n?")


class _Patterns(NamedTuple):
    line: re.Pattern[str]
    in_block: re.Pattern[str]
    key: re.Pattern[str]
    in_flow: re.Pattern[str]
    comma: re.Pattern[str]


@lru_cache(maxsize=1)
def _patterns() -> _Patterns:
    return _Patterns(
        re.compile(rf"(?P<indent>\ *)(?P<dash>-\ +)?(?:(?P<key>{KEY}):(?=\s|\Z))?\ *"),
        re.compile(IN_BLOCK),
        re.compile(rf"\ *({KEY}):\ +"),
        re.compile(IN_FLOW),
        re.compile(r"\ *,?\ *"),
    )


class UndecidedError(Exception):
    """A line needs the YAML reader."""


def read_section(excerpt: Excerpt, max_nodes: int) -> tuple[Mapping, list[Problem]]:
    """Read a section that was cut out; raises ProblemsError as read_nodes does."""
    try:
        return read_whole_lines(excerpt.text), []
    except UndecidedError:
        return read_nodes(excerpt, max_nodes=max_nodes)


def read_whole_lines(text: str) -> Mapping:
    """Read a section's lines; raises UndecidedError where one cannot be read alone."""
    return _Lines(text).root()


class _Lines:
    """Builds a section's tree from its lines."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._patterns = _patterns()
        self._items: list[Node] = []
        self._dash: int | None = None
        self._open: list[tuple[int, Mapping]] = []
        """The mappings that a line may go on with, and their columns: an entry's, one inside it."""

    def root(self) -> Mapping:
        """Read all lines."""
        header = _HEADER.match(self._text)
        if header is None:
            raise UndecidedError
        at = header.end()
        while at < len(self._text):
            at = self._line(at)
        if self._items and header[2]:
            raise UndecidedError
        key = Scalar(0, header.end(1), header[1], plain=True)
        value: Node = _nothing_behind(key)
        if self._items or header[2]:
            value = Sequence(key.end + 1, len(self._text), self._items)
        return Mapping(0, len(self._text), flow=False, entries={key.text: Entry(key, value)})

    def _line(self, at: int) -> int:
        end = self._text.find("\n", at) + 1 or len(self._text)
        bare = self._text[at:end].strip(" \r\n")
        if not bare or bare.startswith("#"):
            return end
        match = self._patterns.line.match(self._text, at, end)
        if match is None or end - at > LONGEST_LINE:
            raise UndecidedError
        indent = match.end("indent") - at
        if match["dash"]:
            self._item(match, at, indent)
        else:
            self._continue(match, indent)
        return end

    def _item(self, match: re.Match[str], at: int, indent: int) -> None:
        if self._dash not in (None, indent):
            raise UndecidedError
        self._dash = indent
        start = match.end("dash")
        self._open = []
        if match["key"] is None:
            self._items.append(self._flow(start))
            return
        item = Mapping(start, match.end(), flow=False)
        self._items.append(item)
        self._open.append((start - at, item))
        self._pair(item, match)

    def _continue(self, match: re.Match[str], indent: int) -> None:
        while self._open and self._open[-1][0] > indent:
            self._open.pop()
        if not self._open or match["key"] is None:
            raise UndecidedError
        column, mapping = self._open[-1]
        if column < indent:
            mapping = self._inner(mapping, match.end("indent"), indent)
        self._pair(mapping, match)

    def _inner(self, outer: Mapping, start: int, indent: int) -> Mapping:
        """Begin a mapping under a key that has nothing behind its colon."""
        last = list(outer.entries.values())[-1]
        if not isinstance(last.value, Scalar) or last.value.text or not last.value.plain:
            raise UndecidedError
        inner = Mapping(start, start, flow=False)
        last.value = inner
        self._open.append((indent, inner))
        return inner

    def _pair(self, mapping: Mapping, match: re.Match[str]) -> None:
        key = self._scalar(*match.span("key"))
        at = match.end()
        if self._text.startswith("{", at):
            _add(mapping, key, self._flow(at))
        elif value := self._patterns.in_block.match(self._text, at):
            _add(mapping, key, self._scalar(*value.span()))
        else:
            _add(mapping, key, _nothing_behind(key))

    def _flow(self, start: int) -> Mapping:
        if not self._text.startswith("{", start):
            raise UndecidedError
        mapping = Mapping(start, start, flow=True)
        at = start + 1
        while match := self._patterns.key.match(self._text, at):
            key = self._scalar(*match.span(1))
            if self._text.startswith("{", match.end()):
                inner = self._flow(match.end())
                _add(mapping, key, inner)
                at = inner.end
            elif value := self._patterns.in_flow.match(self._text, match.end()):
                _add(mapping, key, self._scalar(*value.span()))
                at = value.end()
            else:
                raise UndecidedError
            if comma := self._patterns.comma.match(self._text, at):
                at = comma.end()
        end = self._text.find("}", at) + 1
        if self._text[at:end].strip(" ") != "}":
            raise UndecidedError
        mapping.end = end
        return mapping

    def _scalar(self, start: int, end: int) -> Scalar:
        text = self._text[start:end].rstrip(" \r")
        if text[0] == '"':
            if "\\" in text:
                raise UndecidedError
            return Scalar(start, end, text[1:-1], plain=False)
        if text[0] == "'":
            return Scalar(start, end, text[1:-1].replace("''", "'"), plain=False)
        return Scalar(start, start + len(text), text, plain=True)


def _nothing_behind(key: Scalar) -> Scalar:
    return Scalar(key.end + 1, key.end + 1, "", plain=True)


def _add(mapping: Mapping, key: Scalar, value: Node) -> None:
    if key.text in mapping.entries or (key.text == "<<" and key.plain):
        raise UndecidedError
    mapping.entries[key.text] = Entry(key, value)
