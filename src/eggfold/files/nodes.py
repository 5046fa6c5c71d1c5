"""YAML text to a tree of nodes that know their place.

A scalar stays the text it was written as; the models decide what it means. What a recipe has no use
for (tags, anchors, aliases, merge keys, directives, a second document) is refused at its place, and
the limits on nodes and levels hold while reading, so hostile text stops early.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from eggfold.amounts import comma_hint
from eggfold.errors import Problem, ProblemsError
from eggfold.files.events import Event, StrayTabError, refusal
from eggfold.files.source import MEBIBYTE, Source
from eggfold.files.tabs import parts_words, spaced
from eggfold.files.telling import MOST_TOLD
from eggfold.files.text_events import text_events

MAX_NODES = 20_000
MAX_LEVELS = 50
MOST_READ_AGAIN = MEBIBYTE // 4
"""Characters that are read once more because of tabs; behind that, a tab hides what follows."""


@dataclass(slots=True)
class Node:
    """A value, where its text starts, and its length: small numbers take no memory of their own."""

    start: int
    size: int

    @property
    def end(self) -> int:
        """Where its text ends."""
        return self.start + self.size


@dataclass(slots=True)
class Scalar(Node):
    """A text, and whether it stood without quotes."""

    text: str
    plain: bool


@dataclass(slots=True)
class Sequence(Node):
    """A list."""

    items: list[Node] = field(default_factory=list)


@dataclass(slots=True)
class Entry:
    """A key and its value."""

    key: Scalar
    value: Node


@dataclass(slots=True)
class Mapping(Node):
    """Keys and values, in order."""

    flow: bool
    entries: dict[str, Entry] = field(default_factory=dict)


def read_nodes(source: Source, *, max_nodes: int = MAX_NODES) -> tuple[Mapping, list[Problem]]:
    """Read a whole text as one mapping.

    Returns the tree and the problems that leave the rest readable (duplicate keys, decimal commas,
    tabs between words); raises ProblemsError where nothing can be read.
    """
    text, tabs, read_again = source.text, list[Problem](), 0
    while True:
        try:
            root, problems = read_events(source, text_events(source, text), max_nodes)
        except ProblemsError as error:
            tab = error.at if isinstance(error, StrayTabError) else 0
            read_again += tab
            if not parts_words(text, tab) or read_again > MOST_READ_AGAIN:
                raise ProblemsError([*tabs, *error.problems]) from error
            tabs += error.problems
            text = spaced(text, tab)
        else:
            return root, tabs + problems


def read_events(
    source: Source, events: Iterator[Event], max_nodes: int
) -> tuple[Mapping, list[Problem]]:
    """Build the tree of a text from its steps, with the problems that leave it readable."""
    builder = _Builder(source, events, max_nodes)
    root = builder.document()
    if not isinstance(root, Mapping):
        start = root.start if root else 0
        message = "the file is empty" if root is None else "keys and values are wanted here"
        raise ProblemsError([source.problem(start, "wrong-shape", message, "name: My mix")])
    return root, builder.problems


class _Builder:
    """Builds the tree from a text's steps."""

    def __init__(self, source: Source, events: Iterator[Event], max_nodes: int) -> None:
        self.source = source
        self.problems: list[Problem] = []
        self._left = max_nodes
        self._events = events

    def document(self) -> Node | None:
        """Read all there is."""
        root: Node | None = None
        for event in self._events:
            root = self._node(event, 1)
        return None if root is None or _is_empty(root) else root

    def _node(self, event: Event, level: int) -> Node:
        start, size = event.start, event.end - event.start
        self._left -= 1
        if self._left < 0:
            raise self._stop(start, "too-many-nodes", "the file has too many entries")
        if level > MAX_LEVELS:
            raise self._stop(start, "too-deep", f"more than {MAX_LEVELS} levels inside each other")
        if event.refused:
            raise refusal(self.source, start, *event.refused)
        if event.kind == "scalar":
            return Scalar(start, size, event.text, event.plain)
        if event.kind == "sequence":
            return self._sequence(Sequence(start, size), level)
        return self._mapping(Mapping(start, size, event.flow), level)

    def _sequence(self, node: Sequence, level: int) -> Sequence:
        for event in self._events:
            if event.kind == "end":
                node.size = event.end - node.start
                return node
            item = self._node(event, level + 1)
            if not (node.items and self._decimal_comma(node.items[-1], item)):
                node.items.append(item)
        return node

    def _mapping(self, node: Mapping, level: int) -> Mapping:
        last: Entry | None = None
        for event in self._events:
            if event.kind == "end":
                node.size = event.end - node.start
                return node
            key = self._key(event, level)
            entry = Entry(key, self._node(next(self._events), level + 1))
            split = last is not None and node.flow and _is_empty(entry.value)
            if split and last and self._decimal_comma(last.value, key):
                continue
            last = entry
            self._add(node, entry)
        return node

    def _key(self, event: Event, level: int) -> Scalar:
        key = self._node(event, level + 1)
        if not isinstance(key, Scalar):
            raise refusal(self.source, key.start, "a list or mapping cannot be a key", None)
        if key.text == "<<" and key.plain:
            message = "a merge key has no meaning here"
            raise refusal(self.source, key.start, message, "write the keys out")
        return key

    def _add(self, node: Mapping, entry: Entry) -> None:
        first = node.entries.setdefault(entry.key.text, entry)
        if first is not entry:
            line = self.source.place(first.key.start).line
            message = f"'{entry.key.text}' stands here a second time"
            self._note(entry.key.start, "duplicate-key", message, f"the first is in line {line}")

    def _decimal_comma(self, value: Node, rest: Node) -> bool:
        """Tell whether ``0,7 ml`` fell into two entries, and note it once, at the number."""
        if not (isinstance(value, Scalar) and isinstance(rest, Scalar)):
            return False
        whole = value.plain and re.fullmatch(r"[0-9]+|[1-9][0-9]{0,2}(?:\.[0-9]{3})+", value.text)
        between = self.source.text[value.end : rest.start]
        if not (whole and rest.plain and between == "," and re.match(r"[0-9]", rest.text)):
            return False
        message = f"'{value.text},{rest.text}' falls into two entries at the comma"
        self._note(value.start, "decimal-comma", message, comma_hint(value.text, rest.text))
        value.text = f"{value.text.replace('.', '')}.{rest.text}"
        value.size = rest.end - value.start
        return True

    def _note(self, index: int, code: str, message: str, hint: str | None) -> None:
        """Remember a problem, though no more than can be told."""
        if len(self.problems) <= MOST_TOLD:
            self.problems.append(self.source.problem(index, code, message, hint))

    def _stop(self, index: int, code: str, message: str) -> ProblemsError:
        return ProblemsError([self.source.problem(index, code, message)])


def _is_empty(node: Node) -> bool:
    return isinstance(node, Scalar) and node.plain and not node.text


def plain_data(node: Node) -> Any:
    """Return a tree as text, tuples and dicts; an empty value is None."""
    if isinstance(node, Scalar):
        return node.text if node.text or not node.plain else None
    if isinstance(node, Sequence):
        return tuple(plain_data(item) for item in node.items)
    assert isinstance(node, Mapping)  # noqa: S101 - the three kinds of node
    return {key: plain_data(entry.value) for key, entry in node.entries.items()}


def spelt_out(node: Node) -> Iterator[str]:
    """Yield what a tree says piece by piece, the same however it is written."""
    if isinstance(node, Scalar):
        yield "~" if _is_empty(node) else repr(node.text)
    elif isinstance(node, Sequence):
        yield "["
        for item in node.items:
            yield from spelt_out(item)
        yield "]"
    elif isinstance(node, Mapping):
        yield "{"
        for key, entry in node.entries.items():
            yield repr(key)
            yield from spelt_out(entry.value)
        yield "}"
