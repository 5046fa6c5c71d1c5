"""YAML text to a tree of nodes that know their place.

The library reads, this builds: its C reader first; where that refuses, its pure one decides, which
knows more of YAML 1.2 and is many times slower. A scalar stays the text it was written as; the models
decide what it means. What these files have no use for (tags, anchors, aliases, merge keys, directives,
a second document) is refused at its place, and the limits on nodes and levels hold while reading, so
hostile text stops early.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NoReturn

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    CollectionStartEvent,
    DocumentStartEvent,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
)
from ruamel.yaml.main import CParser  # type: ignore[attr-defined]  # None without its wheel
from ruamel.yaml.reader import Reader, ReaderError
from ruamel.yaml.scanner import Scanner, ScannerError

from eggfold.amounts import comma_hint
from eggfold.errors import Problem, ProblemsError
from eggfold.load.gate import LONGEST_NAME, MOST_TOLD, Source

if TYPE_CHECKING:
    from eggfold.load.line_heads import TidyText


MAX_NODES = 20_000
MAX_NODES_KEPT = 500_000
"""The same for a shelf and a notebook, which grow over the years."""
MAX_LEVELS = 50
MOST_READ_SLOWLY = 32 * 1024
"""Characters of a text that the pure reader may decide on, about 2 µs each."""
MOST_KEPT_READ_SLOWLY = 256 * 1024
MOST_TIDIED = 4 * MOST_READ_SLOWLY
"""Characters of a text whose lines' heads are written out."""


@dataclass(slots=True, eq=False, repr=False)
class Node:
    """A value, where its text starts, and its length: small numbers take no memory of their own."""

    start: int
    size: int

    @property
    def end(self) -> int:
        """Where its text ends."""
        return self.start + self.size


@dataclass(slots=True, eq=False, repr=False)
class Scalar(Node):
    """A text, and whether it stood without quotes."""

    text: str
    plain: bool

    @property
    def is_empty(self) -> bool:
        """Whether nothing stands there; its place is then that of its key."""
        return self.plain and not self.text


@dataclass(slots=True, eq=False, repr=False)
class Sequence(Node):
    """A list."""

    items: list[Node] = field(default_factory=list)


@dataclass(slots=True, eq=False, repr=False)
class Entry:
    """A key and its value."""

    key: Scalar
    value: Node


@dataclass(slots=True, eq=False, repr=False)
class Mapping(Node):
    """Keys and values, in order."""

    flow: bool
    entries: dict[str, Entry] = field(default_factory=dict)


class UnreadableError(ProblemsError):
    """A reader of the library cannot read on; the other may."""


def read_nodes(
    source: Source, *, kept: bool = False, whole: Collection[str] | None = None
) -> tuple[Mapping, list[Problem]]:
    """Read a text as one mapping; ``kept`` is a shelf or a notebook.

    Returns the tree and the problems that leave the rest readable (duplicate keys, decimal commas,
    long names); raises ProblemsError where nothing can be read. Of top-level keys that are not among
    ``whole`` only the outline is kept: where the value stands, and the items of a list.
    """
    _refuse_characters(source)
    try:
        root, problems, is_astray = _read_as_written(source, whole, kept=kept)
    except UnreadableError:
        if tidy := _one_meaning(source):
            return _read_tidy(source, tidy, whole, kept=kept)
        raise
    if is_astray and (tidy := _one_meaning(source)):
        return _read_tidy(source, tidy, whole, kept=kept)
    return root, problems


def _read_as_written(
    source: Source, whole: Collection[str] | None, *, kept: bool
) -> tuple[Mapping, list[Problem], bool]:
    max_nodes = MAX_NODES_KEPT if kept else MAX_NODES
    builder = _Builder(source, max_nodes, whole, kept=kept)
    if CParser is None:
        return *builder.read(_slow_events(source.text)), builder.is_astray
    try:
        return *builder.read(_quick_events(source.text)), builder.is_astray
    except UnreadableError as error:
        complaint = error
    if len(source.text) > (MOST_KEPT_READ_SLOWLY if kept else MOST_READ_SLOWLY):
        raise complaint
    builder = _Builder(source, MAX_NODES, whole, kept=kept)
    try:
        return *builder.read(_slow_events(source.text)), builder.is_astray
    except ProblemsError as error:
        if kept and error.problems[0].code == "too-many-nodes":
            raise complaint from None
        raise


def _one_meaning(source: Source) -> TidyText | None:
    """Return a text with the heads of its lines written out, where that can be read in one way only."""
    if len(source.text) > MOST_READ_SLOWLY:
        return None
    from eggfold.load.line_heads import tidy_texts  # noqa: PLC0415 - few files need it

    found: dict[str, TidyText] = {}
    for tidy in tidy_texts(source.text, MOST_TIDIED):
        try:
            root, problems = _read_tidy(source, tidy, None, kept=False)
        except ProblemsError:
            continue
        if not any(problem.code == "duplicate-key" for problem in problems):
            found.setdefault("".join(spelt_out(root)), tidy)
    return next(iter(found.values())) if len(found) == 1 else None


def _read_tidy(
    source: Source, tidy: TidyText, whole: Collection[str] | None, *, kept: bool
) -> tuple[Mapping, list[Problem]]:
    def read(events: Iterator[Any]) -> tuple[Mapping, list[Problem]]:
        moved = _moved(events, tidy.places)
        return _Builder(source, MAX_NODES, whole, kept=kept).read(moved)

    if CParser is not None:
        with suppress(UnreadableError):
            return read(_quick_events(tidy.text))
    return read(_slow_events(tidy.text))


def _moved(events: Iterator[Any], places: list[int]) -> Iterator[Any]:
    """Yield events with the places that their marks had in another text."""
    for event in events:
        event.start_mark = _Moved(places[event.start_mark.index])
        event.end_mark = _Moved(places[event.end_mark.index])
        yield event


@dataclass(slots=True, eq=False, repr=False)
class _Moved:
    """A mark in the text that a user wrote."""

    index: int


_NOT_HERE = re.compile(
    r"\A(?:[ \t]*(?:#[^\r\n]*)?(?:\r\n?|\n))*(?P<directive>%)"
    "|(?<![^\n\r])\ufeff|[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]"
)
_LINE_BREAKS = "\x85\u2028\u2029"


def _refuse_characters(source: Source) -> None:
    """Refuse what YAML cannot carry, what it takes for line breaks, and a directive at the top."""
    found = _NOT_HERE.search(source.text)
    if found is None:
        return
    if found["directive"]:
        message = "a % directive has no meaning here"
        raise _stop(source, found.start("directive"), "yaml-feature", message, "leave the line out")
    number = f"{ord(found[0]):04X}"
    message = f"the control character U+{number} cannot stand in YAML"
    hint = (
        f'delete it, or write "\\u{number}" in quotes' if found[0] in _LINE_BREAKS else "delete it"
    )
    raise _stop(source, found.start(), "control-character", message, hint)


def _stop(
    source: Source, index: int, code: str, message: str, hint: str | None = None
) -> ProblemsError:
    return ProblemsError([source.problem(index, code, message, hint)])


class _Builder:
    """Builds the tree from a reader's events."""

    def __init__(
        self, source: Source, max_nodes: int, whole: Collection[str] | None, *, kept: bool
    ) -> None:
        self._source = source
        self._events: Iterator[Any] = iter(())
        self._kept = kept
        self._max_nodes = max_nodes
        self._whole = whole
        self._problems: list[Problem] = []
        self._at = 0
        """Where the event before started."""
        self._nodes = 0
        """How many have come."""
        self.is_astray = False
        """Whether a key begins with what a line begins with, and so is no key."""

    def read(self, events: Iterator[Any]) -> tuple[Mapping, list[Problem]]:
        """Read all there is; raises UnreadableError where the reader cannot go on."""
        self._events = events
        try:
            root = self._document()
        except MarkedYAMLError as error:
            raise self._complaint(error) from error
        except (ReaderError, RecursionError, AssertionError, ValueError, IndexError) as error:
            raise self._unreadable(self._at, "not-yaml", "this is not valid YAML") from error
        if isinstance(root, Mapping):
            return root, self._problems
        if root is not None and not _is_empty(root):
            message = "keys and values are wanted here"
            raise _stop(self._source, root.start, "wrong-shape", message, "name: My mix")
        if self._kept:  # a new one, or one whose notes were all taken back
            return Mapping(0, 0, flow=False), []
        raise _stop(self._source, 0, "wrong-shape", "the file is empty", "name: My mix")

    def _document(self) -> Node | None:
        root: Node | None = None
        documents = 0
        for event in self._events:
            if isinstance(event, DocumentStartEvent):
                documents += 1
                if documents > 1:
                    message = "one file holds one document"
                    at = event.start_mark.index
                    raise self._refusal(at, message, "put it in its own file")
            elif isinstance(event, NodeEvent):
                root = self._node(event, 1)
        return root

    def _node(self, event: Any, level: int) -> Node:
        start, size = self._begin(event, level)
        if isinstance(event, ScalarEvent):
            text = event.value
            plain = not event.style
            if plain and "\t" in text:  # a tab between words is a space
                text = text.replace("\t", " ")
            if plain and text[:1] in _CURLY and text[-1:] in _CURLY[text[0]] and len(text) > 1:
                text = text[1:-1]
            return Scalar(start, size, text, plain)
        if isinstance(event, MappingStartEvent):
            return self._mapping(Mapping(start, size, bool(event.flow_style)), level)
        return self._sequence(Sequence(start, size), level)

    def _begin(self, event: Any, level: int) -> tuple[int, int]:
        """Count a node and refuse what has no meaning here; return its place and length."""
        self._at = start = event.start_mark.index
        self._nodes += 1
        if self._nodes > self._max_nodes:
            raise _stop(self._source, start, "too-many-nodes", "the file has too many entries")
        if level > MAX_LEVELS:
            message = f"more than {MAX_LEVELS} levels inside each other"
            raise _stop(self._source, start, "too-deep", message)
        if isinstance(event, AliasEvent):
            raise self._refusal(start, *REFUSED["alias"])
        if event.anchor is not None:
            raise self._refusal(start, *REFUSED["anchor"])
        if event.tag is not None:
            raise self._refusal(start, *REFUSED["tag"])
        return start, event.end_mark.index - start

    def _sequence(self, node: Sequence, level: int) -> Sequence:
        for event in self._events:
            if isinstance(event, CollectionEndEvent):
                node.size = event.end_mark.index - node.start
                return node
            item = self._node(event, level + 1)
            if not (node.items and self._decimal_comma(node.items[-1], item)):
                node.items.append(item)
        return node

    def _mapping(self, node: Mapping, level: int) -> Mapping:
        last: Entry | None = None
        for event in self._events:
            if isinstance(event, CollectionEndEvent):
                node.size = event.end_mark.index - node.start
                return node
            key = self._key(event, level)
            is_doubtful = key.plain and key.text[:1] in _STRAY and not node.flow
            if is_doubtful and re.match(_STRAY_KEY, key.text):
                self.is_astray = True
            entry = Entry(key, self._value(key, next(self._events), level))
            split = last is not None and node.flow and _is_empty(entry.value)
            if split and last and self._decimal_comma(last.value, key):
                continue
            last = entry
            self._add(node, entry)
        return node

    def _key(self, event: Any, level: int) -> Scalar:
        key = self._node(event, level + 1)
        if not isinstance(key, Scalar):
            message = "a list or mapping cannot be a key"
            raise self._refusal(key.start, message)
        if key.text == "<<" and key.plain:
            message = "a merge key has no meaning here"
            raise self._refusal(key.start, message, "write the keys out")
        return key

    def _value(self, key: Scalar, event: Any, level: int) -> Node:
        if level > 1 or self._whole is None or key.text in self._whole:
            node = self._node(event, level + 1)
            return self._glued_list(node) if isinstance(node, Scalar) and node.plain else node
        if not isinstance(event, CollectionStartEvent) or isinstance(event, MappingStartEvent):
            return self._passed(event, level + 1)
        node = Sequence(*self._begin(event, level + 1))
        for item in self._events:
            if isinstance(item, CollectionEndEvent):
                node.size = item.end_mark.index - node.start
                break
            node.items.append(self._passed(item, level + 2))
        return node

    def _glued_list(self, node: Scalar) -> Node:
        """Return the list that lines with a mark of their own mean, whose items are glued to it."""
        mark, text = node.text[:1], self._source.text
        if mark not in _GLUED or len(node.text) < 2:
            return node
        first = max(text.rfind("\n", 0, node.start), text.rfind("\r", 0, node.start)) + 1
        if text[first : node.start].strip(" "):
            return node
        items: list[Node] = []
        for line in re.finditer(r"[^\r\n]+", text[node.start : node.end]):
            item = re.fullmatch(_ITEM, line[0])
            if item is None or item[1] != mark:
                return node
            at = node.start + line.start() + item.start(2)
            items.append(Scalar(at, len(item[2]), item[2], plain=True))
        return Sequence(node.start, node.size, items)

    def _passed(self, event: Any, level: int) -> Node:
        """Follow a value to its end, and keep only where it stands."""
        start, size = self._begin(event, level)
        if isinstance(event, ScalarEvent):
            return Scalar(start, size, event.value, not event.style)
        depth = 1
        while depth:
            event = next(self._events)
            if isinstance(event, CollectionEndEvent):
                depth -= 1
            else:
                self._begin(event, level + depth)
                depth += isinstance(event, CollectionStartEvent)
        return Node(start, event.end_mark.index - start)

    def _add(self, node: Mapping, entry: Entry) -> None:
        key = entry.key
        if len(key.text) > LONGEST_NAME:
            message = f"a name of more than {LONGEST_NAME} characters"
            self._note(key.start, "long-name", message, "shorten it")
            return
        first = node.entries.setdefault(key.text, entry)
        if first is not entry:
            line = self._source.place(first.key.start).line
            message = f"'{key.text}' stands here a second time"
            self._note(key.start, "duplicate-key", message, f"the first is in line {line}")

    def _decimal_comma(self, value: Node, rest: Node) -> bool:
        """Tell whether ``0,7 ml`` fell into two entries, and note it once, at the number."""
        if not (isinstance(value, Scalar) and isinstance(rest, Scalar)):
            return False
        if not (value.plain and rest.plain and re.fullmatch(_COMMA_BEFORE, value.text)):
            return False
        between = self._source.text[value.end : rest.start]
        if between != "," or not re.match("[0-9]", rest.text):
            return False
        message = f"'{value.text},{rest.text}' falls into two entries at the comma"
        self._note(value.start, "decimal-comma", message, comma_hint(value.text, rest.text))
        value.text = f"{value.text.replace('.', '')}.{rest.text}"
        value.size = rest.end - value.start
        return True

    def _note(self, index: int, code: str, message: str, hint: str | None) -> None:
        """Remember a problem, though no more than can be told."""
        if len(self._problems) <= MOST_TOLD:
            self._problems.append(self._source.problem(index, code, message, hint))

    def _refusal(self, index: int, message: str, hint: str | None = None) -> ProblemsError:
        return _stop(self._source, index, "yaml-feature", message, hint)

    def _unreadable(
        self, index: int, code: str, message: str, hint: str | None = None
    ) -> UnreadableError:
        return UnreadableError([self._source.problem(index, code, message, hint)])

    def _complaint(self, error: MarkedYAMLError) -> ProblemsError:
        """Return what a reader finds wrong in words of our own."""
        text, mark = self._source.text, error.problem_mark or error.context_mark
        at = min(mark.index, len(text)) if mark else 0
        words = error.problem or ""
        if words in REFUSED and not text.startswith(("* ", "*\t"), at):
            return self._refusal(at, *REFUSED[words])
        if text.startswith("\t", at):
            return self._unreadable(at, "tab", "a tab cannot stand here", "use spaces")
        if dash := _glued_dash(text, at):
            return self._unreadable(*dash)
        line = text[max(text.rfind("\n", 0, at), text.rfind("\r", 0, at)) + 1 : at]
        return self._unreadable(at, "not-yaml", *_sentence(words, line, text[at : at + 1]))


REFUSED = {
    "alias": ("an alias has no meaning here", "write the value out"),
    "anchor": ("an anchor has no meaning here", "write the value out"),
    "tag": ("a tag has no meaning here", "write the value alone"),
}
"""What of YAML has no meaning in these files, and what to do instead."""

_CURLY = {"“": "”“", "„": "“”", "‘": "’", "«": "»"}
"""Quotes that a word processor puts for straight ones, and what ends each."""
_GLUED = ("-", "–", "—", "•")
_STRAY = frozenset((*_GLUED, "\xa0"))
_STRAY_KEY = r"\xa0|[-–—•] *(?:[a-z_]+$|[{\"'])"
_ITEM = r" *([-–—•]) *([^ ].*?) *"

_COMMA_BEFORE = r"[0-9]+|[1-9][0-9]{0,2}(?:\.[0-9]{3})+"

_ASKEW = "this does not line up with the lines above", "use the same indent"
_SENTENCES = (
    ("mapping values are not allowed", "a second colon in one value", "put the text in quotes"),
    ("could not find expected ':'", "a key without its colon", "key: value"),
    ("found unexpected end of stream", "a quote that is never closed", "close it"),
    (
        "expected ',' or",
        "a bracket that is never closed, or a comma left out",
        "close it; put a text with a colon or a bracket in quotes",
    ),
    ("expected <block end>", *_ASKEW),
    ("did not find expected key", *_ASKEW),
    ("did not find expected '-'", *_ASKEW),
    ("found unknown escape", "a backslash that means nothing inside double quotes", "'…'"),
)


def _sentence(words: str, before: str, character: str) -> tuple[str, str | None]:
    """Return what is wrong and what to try, by a reader's own words and the line before the place."""
    if "cannot start any token" in words:
        return f"a value cannot start with {character}", "put the text in quotes"
    if "mapping values" in words and ": " not in before:
        message = "this key is taken for more of the line above"
        return message, "the indent of the keys beside it, and a space behind every colon"
    for part, message, hint in _SENTENCES:
        if part in words:
            return message, hint
    return "this is not valid YAML", None


_DASHED = r"(?m)^ *(-(?=[^-\s])|[–—•] *|\* +)([^\r\n]{1,60})"
LINES_BEFORE = 2
"""So many lines above the place where reading ends a dash may have led it astray."""


def _glued_dash(text: str, at: int) -> tuple[int, str, str, str] | None:
    """Return the problem of an item whose dash is glued to it or another, near where reading ended."""
    start = at
    for _ in range(LINES_BEFORE + 1):
        start = max(text.rfind("\n", 0, start), 0)
    end = text.find("\n", at)
    found = re.compile(_DASHED).search(text, start, len(text) if end < 0 else end)
    if found is None:
        return None
    message = "an item begins with a hyphen and a space"
    return found.start(1), "not-yaml", message, f"- {found[2].strip()}"


def _is_empty(node: Node) -> bool:
    return isinstance(node, Scalar) and node.is_empty


def plain_data(node: Node) -> Any:
    """Return a tree as text, tuples and dicts; an empty value is None."""
    if isinstance(node, Scalar):
        return None if node.is_empty else node.text
    if isinstance(node, Sequence):
        return tuple(plain_data(item) for item in node.items)
    assert isinstance(node, Mapping)  # noqa: S101 - the three kinds of node
    return {key: plain_data(entry.value) for key, entry in node.entries.items()}


def scalars_in(node: Node) -> Iterator[Scalar]:
    """Yield every key and value of a tree."""
    if isinstance(node, Scalar):
        yield node
    elif isinstance(node, Sequence):
        for item in node.items:
            yield from scalars_in(item)
    elif isinstance(node, Mapping):
        for entry in node.entries.values():
            yield entry.key
            yield from scalars_in(entry.value)


def spelt_out(node: Node) -> Iterator[str]:
    """Yield what a tree says piece by piece, the same however it is written."""
    if isinstance(node, Scalar):
        yield "~" if node.is_empty else repr(node.text)
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


def _quick_events(text: str) -> Iterator[Any]:
    """Return the events of a text that the C reader finds."""
    return iter(CParser(text).get_event, None)


def _slow_events(text: str) -> Iterator[Any]:
    """Yield the events of a text that the pure reader finds."""
    yaml = YAML(typ="safe", pure=True)
    yaml.Scanner = _Scanner
    if "\t" in text:
        yaml.Reader, yaml.Scanner = _TabReader, _TabScanner
    for event in yaml.parse(text):
        if isinstance(event, ScalarEvent) and re.search(_SURROGATE, event.value):
            problem = "found invalid Unicode character escape code"
            raise ScannerError(None, None, problem, event.start_mark)
        yield event


_SURROGATE = "[\ud800-\udfff]"


class _Scanner(Scanner):
    """The pure reader's scanner, which does not read on at what is refused: hostile text makes it long."""

    def fetch_tag(self) -> NoReturn:
        """Refuse a tag."""
        raise self._refused("tag")

    def fetch_anchor(self) -> NoReturn:
        """Refuse an anchor."""
        raise self._refused("anchor")

    def fetch_alias(self) -> NoReturn:
        """Refuse an alias."""
        raise self._refused("alias")

    def _refused(self, what: str) -> ScannerError:
        return ScannerError(None, None, what, self.reader.get_mark())


class _TabReader(Reader):
    """The pure reader, for which a tab can be a space."""

    tabs_are_spaces = False

    def peek(self, index: int = 0) -> str:
        """Return a character further on."""
        found: str = super().peek(index)
        return " " if found == "\t" and self.tabs_are_spaces else found


class _TabScanner(_Scanner):
    """The same for a text with tabs, which the C reader takes for spaces between the words of a line."""

    reader: _TabReader

    def scan_to_next_token(self) -> None:
        """Pass over tabs too, but where a key or an item may begin."""
        super().scan_to_next_token()
        while self.reader.peek() == "\t" and not self.allow_simple_key:
            self.reader.forward()
            super().scan_to_next_token()

    def scan_plain(self) -> Any:
        """Read a text without quotes, whose lines are indented by spaces."""
        mark = self.reader.get_mark()
        token = self._with_tabs_as_spaces(super().scan_plain)
        least = 0 if self.flow_level else self.indent + 1
        indent = re.compile(rf"[\r\n] {{0,{least - 1}}}(\t)") if least else None
        if indent and (tab := indent.search(self.reader.buffer, mark.index, self.reader.index)):
            mark.index = tab.start(1)
            raise ScannerError(None, None, "found a tab character in an indent", mark)
        return token

    def scan_block_scalar_indicators(self, start_mark: Any) -> Any:
        """Read the mark of a block text."""
        return self._with_tabs_as_spaces(super().scan_block_scalar_indicators, start_mark)

    def scan_block_scalar_ignored_line(self, start_mark: Any) -> Any:
        """Pass over what stands behind the mark of a block text."""
        return self._with_tabs_as_spaces(super().scan_block_scalar_ignored_line, start_mark)

    def _with_tabs_as_spaces(self, scan: Callable[..., Any], *arguments: Any) -> Any:
        self.reader.tabs_are_spaces = True
        found = scan(*arguments)
        self.reader.tabs_are_spaces = False
        return found


_PLAIN = r"[^\W_](?:[\w .()/%+'&°×-]*[\w.()/%+'&°×-])?"
_ESCAPED = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def scalar_text(text: str) -> str:
    """Return a text as a plain scalar where that is safe everywhere, else in double quotes."""
    if re.fullmatch(_PLAIN, text):
        return text
    return f'"{"".join(_escaped(character) for character in text)}"'


def _escaped(character: str) -> str:
    if character in _ESCAPED:
        return _ESCAPED[character]
    if character == " " or (character.isprintable() and character != "\ufeff"):
        return character
    code = ord(character)
    if code > 0xFFFF:
        return f"\\U{code:08X}"
    return f"\\u{code:04X}"
