"""YAML text to a tree of nodes that know their place, through ruamel.yaml's event stream.

A scalar stays the text it was written as; the models decide what it means. What a recipe has no use
for (tags, anchors, aliases, merge keys, directives, a second document) is refused at its place, and
the limits on nodes and levels hold while reading, so hostile text stops early.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)
from ruamel.yaml.reader import ReaderError

from eggfold.amounts import comma_hint
from eggfold.errors import Problem, ProblemsError
from eggfold.files.source import Source

MAX_NODES = 20_000
MAX_LEVELS = 50


@dataclass(slots=True)
class Node:
    """A value and where its text starts and ends."""

    start: int
    end: int


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

    Returns the tree and the problems that leave the rest readable (duplicate keys, decimal commas);
    raises ProblemsError where nothing can be read.
    """
    builder = _Builder(source, max_nodes)
    try:
        root = builder.document()
    except MarkedYAMLError as error:
        raise ProblemsError([_syntax_problem(source, error)]) from error
    except ReaderError as error:
        raise ProblemsError([_character_problem(source)]) from error
    except (RecursionError, AssertionError, ValueError, IndexError) as error:
        where = min(builder.at, len(source.text))
        problem = source.problem(where, "not-yaml", "this is not valid YAML")
        raise ProblemsError([problem]) from error
    if not isinstance(root, Mapping):
        start = root.start if root else 0
        message = "the file is empty" if root is None else "keys and values are wanted here"
        raise ProblemsError([source.problem(start, "wrong-shape", message, "name: My mix")])
    return root, builder.problems


class _Builder:
    """Builds the tree from ruamel.yaml's events."""

    def __init__(self, source: Source, max_nodes: int) -> None:
        self.source = source
        self.problems: list[Problem] = []
        self.at = 0
        self._left = max_nodes
        self._events: Iterator[Any] = iter(YAML(typ="safe", pure=True).parse(source.text))

    def document(self) -> Node | None:
        """Read the one document there may be."""
        root: Node | None = None
        documents = 0
        for event in self._events:
            self.at = event.start_mark.index
            if isinstance(event, DocumentStartEvent):
                documents += 1
                self._check_document(event, documents)
            elif isinstance(event, MappingStartEvent | SequenceStartEvent | ScalarEvent):
                root = self._node(event, 1)
        empty = isinstance(root, Scalar) and root.plain and not root.text
        return None if empty else root

    def _check_document(self, event: Any, number: int) -> None:
        if event.version or event.tags:
            directive = re.search(r"^%", self.source.text, re.MULTILINE)
            where = directive.start() if directive else self.at
            raise self._refused(where, "a % directive has no meaning here", "leave the line out")
        if number > 1:
            raise self._refused(self.at, "one file holds one document", "put it in its own file")

    def _node(self, event: Any, level: int) -> Node:
        start, end = event.start_mark.index, event.end_mark.index
        self.at = start
        self._left -= 1
        if self._left < 0:
            raise self._stop(start, "too-many-nodes", "the file has too many entries")
        if level > MAX_LEVELS:
            raise self._stop(start, "too-deep", f"more than {MAX_LEVELS} levels inside each other")
        if isinstance(event, AliasEvent):
            raise self._refused(start, "an alias has no meaning here", "write the value out")
        if event.anchor is not None:
            raise self._refused(start, "an anchor has no meaning here", "write the value out")
        if event.tag is not None:
            raise self._refused(start, "a tag has no meaning here", "write the value alone")
        if isinstance(event, ScalarEvent):
            return Scalar(start, end, event.value, event.style is None or not event.style)
        if isinstance(event, SequenceStartEvent):
            return self._sequence(Sequence(start, end), level)
        return self._mapping(Mapping(start, end, bool(event.flow_style)), level)

    def _sequence(self, node: Sequence, level: int) -> Sequence:
        for event in self._events:
            if isinstance(event, SequenceEndEvent):
                node.end = event.end_mark.index
                return node
            item = self._node(event, level + 1)
            if not (node.items and self._decimal_comma(node.items[-1], item)):
                node.items.append(item)
        return node

    def _mapping(self, node: Mapping, level: int) -> Mapping:
        last: Entry | None = None
        for event in self._events:
            if isinstance(event, MappingEndEvent):
                node.end = event.end_mark.index
                return node
            key = self._key(event, level)
            entry = Entry(key, self._node(next(self._events), level + 1))
            split = last is not None and node.flow and _is_empty(entry.value)
            if split and last and self._decimal_comma(last.value, key):
                continue
            last = entry
            self._add(node, entry)
        return node

    def _key(self, event: Any, level: int) -> Scalar:
        key = self._node(event, level + 1)
        if not isinstance(key, Scalar):
            raise self._refused(key.start, "a list or mapping cannot be a key", None)
        if key.text == "<<" and key.plain:
            raise self._refused(key.start, "a merge key has no meaning here", "write the keys out")
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
        whole = value.plain and re.fullmatch(r"[0-9]+", value.text)
        between = self.source.text[value.end : rest.start]
        if not (whole and rest.plain and between == "," and re.match(r"[0-9]", rest.text)):
            return False
        message = f"'{value.text},{rest.text}' falls into two entries at the comma"
        self._note(value.start, "decimal-comma", message, comma_hint(value.text, rest.text))
        value.text = f"{value.text}.{rest.text}"
        value.end = rest.end
        return True

    def _note(self, index: int, code: str, message: str, hint: str | None) -> None:
        self.problems.append(self.source.problem(index, code, message, hint))

    def _refused(self, index: int, message: str, hint: str | None) -> ProblemsError:
        return ProblemsError([self.source.problem(index, "yaml-feature", message, hint)])

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


_SENTENCES = (
    ("mapping values are not allowed", "a second colon in one value", "put the text in quotes"),
    ("could not find expected ':'", "a key without its colon", "key: value"),
    ("found unexpected end of stream", "a quote that is never closed", "close it"),
    ("expected ',' or", "a bracket that is never closed, or a comma left out", None),
    ("expected <block end>", "this does not line up with the lines above", "use the same indent"),
    ("found unknown escape", "a backslash that means nothing inside double quotes", "'…'"),
)


def _syntax_problem(source: Source, error: MarkedYAMLError) -> Problem:
    mark = error.problem_mark or error.context_mark
    index = min(mark.index, len(source.text)) if mark else 0
    problem = error.problem or ""
    before = source.text[:index]
    if source.text[index : index + 1] == "\t" or before.endswith("\t"):
        index = len(before.rstrip("\t"))
        return source.problem(index, "tab", "a tab cannot stand here", "use spaces")
    if "cannot start any token" in problem:
        character = source.text[index : index + 1]
        message = f"a value cannot start with {character}"
        return source.problem(index, "not-yaml", message, "put the text in quotes")
    if "mapping values" in problem and ": " not in before.rpartition("\n")[2]:
        message = "this key is taken for more of the line above"
        remedy = "the indent of the keys beside it, and a space behind every colon"
        return source.problem(index, "not-yaml", message, remedy)
    for words, message, hint in _SENTENCES:
        if words in problem:
            return source.problem(index, "not-yaml", f"{message}", hint)
    return source.problem(index, "not-yaml", "this is not valid YAML")


_NOT_IN_YAML = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def _character_problem(source: Source) -> Problem:
    found = _NOT_IN_YAML.search(source.text)
    index = found.start() if found else 0
    character = source.text[index : index + 1]
    message = f"the control character U+{ord(character or ' '):04X} cannot stand in YAML"
    return source.problem(index, "control-character", message, "delete it")
