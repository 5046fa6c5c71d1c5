"""A section whose lines are each whole in themselves, read line by line: the same tree, far sooner.

What a line alone cannot decide (a key twice, an indent that fits nothing, an escape) is left to the
YAML reader, and so is every text that it would refuse.
"""

from __future__ import annotations

import re
from functools import lru_cache

from eggfold.errors import Problem
from eggfold.files.nodes import Entry, Mapping, Node, Scalar, Sequence, read_nodes
from eggfold.files.sections import FLOW, IN_BLOCK, IN_FLOW, KEY, REST, Excerpt, flow_of

_HEADER = re.compile(rf"([a-z_]+):(\ +\[\])?{REST}\n?", re.MULTILINE)
LONGEST_LINE = 1000
"""YAML looks for a key's colon no further than 1024 characters ahead."""


@lru_cache(maxsize=1)
def _line_pattern() -> re.Pattern[str]:
    pair = rf"(?P<key>{KEY}):(?:\ +(?P<value>{IN_BLOCK}|{FLOW}))?"
    return re.compile(
        rf"(?P<indent>\ *)(?:(?P<dash>-\ +)(?:(?P<flow>{FLOW})|{pair})|{pair.replace('P<', 'P<own_')})"
        rf"{REST}\n?",
        re.MULTILINE,
    )


@lru_cache(maxsize=1)
def _pair_pattern() -> re.Pattern[str]:
    value = rf"{IN_FLOW}|{flow_of(IN_FLOW)}"
    return re.compile(rf"\ *(?P<key>{KEY}):\ +(?P<value>{value})\ *(?:,|(?=\}}))")


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
        key = Scalar(0, header.end(1), header[1], plain=True)
        value: Node = Scalar(key.end + 1, key.end + 1, "", plain=True)
        if self._items or header[2]:
            start = self._items[0].start if self._items else header.end(2) - 2
            value = Sequence(start, len(self._text), self._items)
        if self._items and header[2]:
            raise UndecidedError
        return Mapping(0, len(self._text), flow=False, entries={key.text: Entry(key, value)})

    def _line(self, at: int) -> int:
        end = self._text.find("\n", at) + 1 or len(self._text)
        bare = self._text[at:end].lstrip(" ")
        if bare.rstrip("\r\n") == "" or bare.startswith("#"):
            return end
        match = _line_pattern().match(self._text, at)
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
        if match["flow"]:
            self._open = []
            self._items.append(self._flow(start, match.end("flow")))
            return
        item = Mapping(start, match.end(), flow=False)
        self._items.append(item)
        self._open = [(start - at, item)]
        self._pair(item, match, "")

    def _continue(self, match: re.Match[str], indent: int) -> None:
        while self._open and self._open[-1][0] > indent:
            self._open.pop()
        if not self._open:
            raise UndecidedError
        column, mapping = self._open[-1]
        if column < indent:
            mapping = self._inner(mapping, match.end("indent"), indent)
        self._pair(mapping, match, "own_")

    def _inner(self, outer: Mapping, start: int, indent: int) -> Mapping:
        """Begin a mapping under a key that has nothing behind its colon."""
        last = list(outer.entries.values())[-1]
        if not isinstance(last.value, Scalar) or last.value.text or not last.value.plain:
            raise UndecidedError
        inner = Mapping(start, start, flow=False)
        last.value = inner
        self._open.append((indent, inner))
        return inner

    def _pair(self, mapping: Mapping, match: re.Match[str], prefix: str) -> None:
        key = self._scalar(*match.span(f"{prefix}key"))
        start, end = match.span(f"{prefix}value")
        value: Node
        if start < 0:
            value = Scalar(key.end + 1, key.end + 1, "", plain=True)
        elif self._text[start] == "{":
            value = self._flow(start, end)
        else:
            value = self._scalar(start, end)
        _add(mapping, key, value)

    def _flow(self, start: int, end: int) -> Mapping:
        mapping = Mapping(start, end, flow=True)
        at = start + 1
        while match := _pair_pattern().match(self._text, at, end):
            key = self._scalar(*match.span("key"))
            inner = self._text[match.start("value")] == "{"
            span = match.span("value")
            _add(mapping, key, self._flow(*span) if inner else self._scalar(*span))
            at = match.end()
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


def _add(mapping: Mapping, key: Scalar, value: Node) -> None:
    if key.text in mapping.entries or (key.text == "<<" and key.plain):
        raise UndecidedError
    mapping.entries[key.text] = Entry(key, value)
