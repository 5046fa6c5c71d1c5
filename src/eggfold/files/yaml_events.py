"""The steps of any YAML text, through ruamel.yaml, and what it finds wrong with a text."""

from __future__ import annotations

import re
from collections.abc import Generator, Iterator
from contextlib import closing
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    DocumentStartEvent,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
)
from ruamel.yaml.reader import ReaderError

from eggfold.errors import Problem, ProblemsError
from eggfold.files.events import BEGINNING, Event, Kind, Refusal, Resume, StrayTabError, refusal
from eggfold.files.source import Source
from eggfold.files.stretch import Nesting, Stretch
from eggfold.files.tabs import parts_words

MOST_STEPS = 60_000
"""Steps of a text that are read here, about 20 µs each: far more than anybody writes by hand."""

STEPS_TO_BEGIN = 8
"""Steps that take as long as to begin a stretch."""


def yaml_events(source: Source, text: str | None = None) -> Iterator[Event]:
    """Yield the steps of the one document that a text may hold; raises ProblemsError.

    ``text`` is read instead of the source's own; its places must be the same.
    """
    return YamlReader(source, source.text if text is None else text).events(BEGINNING, None)


class YamlReader:
    """Reads a text, or stretches of it that begin and end with lines."""

    def __init__(self, source: Source, text: str) -> None:
        self._source = source
        self._text = text
        self._yaml = YAML(typ="safe", pure=True)
        self._left = MOST_STEPS

    def events(
        self, begin: Resume, hard_line_end: int | None
    ) -> Generator[Event, None, Resume | None]:
        """Yield the steps from a line on, up to the first plain line behind a hard one.

        Returns where the plain line starts; None at the end of the text, which is where a reading
        goes on to that has no hard line. Raises ProblemsError.
        """
        stretch, nesting = Stretch(self._text, begin), Nesting(self._text, begin)
        self._left -= STEPS_TO_BEGIN
        at = begin.at
        try:
            for event in self._parsed(stretch):
                at, column = stretch.place(event.start_mark), event.start_mark.column
                step = _step(event, at, stretch.place(event.end_mark))
                line = at - column
                is_behind = hard_line_end is not None and line >= hard_line_end
                if is_behind and nesting.is_plain(step, line):
                    return nesting.resume(line)
                nesting.follow(step, column)
                self._count(at)
                yield step
        except MarkedYAMLError as error:
            raise self._syntax_error(error, stretch) from error
        except ReaderError as error:
            raise ProblemsError([self._character_problem()]) from error
        except (RecursionError, AssertionError, ValueError, IndexError) as error:
            raise self._stop(at, "not-yaml", "this is not valid YAML") from error
        return None

    def _parsed(self, stretch: Stretch) -> Iterator[Any]:
        """Yield the events of lists, mappings and texts behind what a stretch begins with."""
        documents, made_up = 0, stretch.made_up
        with closing(stretch), closing(self._yaml.parse(stretch)) as events:
            for event in events:
                if isinstance(event, DocumentStartEvent):
                    documents += 1
                    self._check_document(event, stretch.place(event.start_mark), documents)
                elif isinstance(event, (NodeEvent, CollectionEndEvent)):
                    if made_up:
                        made_up -= 1
                    else:
                        yield event

    def _count(self, at: int) -> None:
        self._left -= 1
        if self._left < 0:
            message = "too many entries are written in more than plain lines"
            hint = "one line for each key: value"
            raise self._stop(at, "too-many-nodes", message, hint)

    def _check_document(self, event: Any, at: int, number: int) -> None:
        if event.version or event.tags:
            directive = re.search(r"^%", self._text, re.MULTILINE)
            where = directive.start() if directive else at
            message = "a % directive has no meaning here"
            raise refusal(self._source, where, message, "leave the line out")
        if number > 1:
            message = "one file holds one document"
            raise refusal(self._source, at, message, "put it in its own file")

    def _syntax_error(self, error: MarkedYAMLError, stretch: Stretch) -> ProblemsError:
        text, mark = self._text, error.problem_mark or error.context_mark
        at = min(stretch.place(mark), len(text)) if mark else 0
        before = text[:at]
        if text[at : at + 1] == "\t" or before.endswith("\t"):
            return self._stray_tab(len(before.rstrip("\t")))
        sentence = _syntax_sentence(error.problem or "", before, text[at : at + 1])
        return self._stop(at, "not-yaml", *sentence)

    def _stray_tab(self, at: int) -> StrayTabError:
        hint = "a space" if parts_words(self._text, at) else "use spaces"
        return StrayTabError(self._source.problem(at, "tab", "a tab cannot stand here", hint), at)

    def _character_problem(self) -> Problem:
        found = _NOT_IN_YAML.search(self._text)
        at = found.start() if found else 0
        character = self._text[at : at + 1]
        message = f"the control character U+{ord(character or ' '):04X} cannot stand in YAML"
        return self._source.problem(at, "control-character", message, "delete it")

    def _stop(self, at: int, code: str, message: str, hint: str | None = None) -> ProblemsError:
        return ProblemsError([self._source.problem(min(at, len(self._text)), code, message, hint)])


def _step(event: Any, start: int, end: int) -> Event:
    if isinstance(event, CollectionEndEvent):
        return Event("end", start, end)
    refused = _refused(event)
    if isinstance(event, ScalarEvent):
        return Event("scalar", start, end, event.value, not event.style, refused=refused)
    if isinstance(event, AliasEvent):
        return Event("alias", start, end, refused=refused)
    kind: Kind = "mapping" if isinstance(event, MappingStartEvent) else "sequence"
    return Event(kind, start, end, flow=bool(event.flow_style), refused=refused)


def _refused(event: Any) -> Refusal | None:
    if isinstance(event, AliasEvent):
        return "an alias has no meaning here", "write the value out"
    if event.anchor is not None:
        return "an anchor has no meaning here", "write the value out"
    if event.tag is not None:
        return "a tag has no meaning here", "write the value alone"
    return None


_SENTENCES = (
    ("mapping values are not allowed", "a second colon in one value", "put the text in quotes"),
    ("could not find expected ':'", "a key without its colon", "key: value"),
    ("found unexpected end of stream", "a quote that is never closed", "close it"),
    ("expected ',' or", "a bracket that is never closed, or a comma left out", None),
    ("expected <block end>", "this does not line up with the lines above", "use the same indent"),
    ("found unknown escape", "a backslash that means nothing inside double quotes", "'…'"),
)


def _syntax_sentence(problem: str, before: str, character: str) -> tuple[str, str | None]:
    """Return what is wrong and what to try, by the reader's own words."""
    if "cannot start any token" in problem:
        return f"a value cannot start with {character}", "put the text in quotes"
    if "mapping values" in problem and ": " not in before.rpartition("\n")[2]:
        message = "this key is taken for more of the line above"
        return message, "the indent of the keys beside it, and a space behind every colon"
    for words, message, hint in _SENTENCES:
        if words in problem:
            return message, hint
    return "this is not valid YAML", None


_NOT_IN_YAML = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
