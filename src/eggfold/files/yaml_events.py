"""The steps of any YAML text, through ruamel.yaml, and what it finds wrong with a text."""

from __future__ import annotations

import re
from collections.abc import Iterator
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
from eggfold.files.events import Event, Kind, Refusal, refusal
from eggfold.files.source import Source
from eggfold.files.tabs import parts_words


class StrayTabError(ProblemsError):
    """The reader cannot go on at a tab."""

    def __init__(self, source: Source, text: str, at: int) -> None:
        hint = "a space" if parts_words(text, at) else "use spaces"
        super().__init__([source.problem(at, "tab", "a tab cannot stand here", hint)])
        self.at = at


def yaml_events(source: Source, text: str | None = None) -> Iterator[Event]:
    """Yield the steps of the one document that a text may hold; raises ProblemsError.

    ``text`` is read instead of the source's own; its places must be the same.
    """
    text = source.text if text is None else text
    documents, at = 0, 0
    try:
        for event in YAML(typ="safe", pure=True).parse(text):
            at = event.start_mark.index
            if isinstance(event, DocumentStartEvent):
                documents += 1
                _check_document(source, event, documents)
            elif isinstance(event, NodeEvent):
                yield _begun(event)
            elif isinstance(event, CollectionEndEvent):
                yield Event("end", at, event.end_mark.index)
    except MarkedYAMLError as error:
        raise _syntax_error(source, text, error) from error
    except ReaderError as error:
        raise ProblemsError([_character_problem(source)]) from error
    except (RecursionError, AssertionError, ValueError, IndexError) as error:
        where = min(at, len(source.text))
        problem = source.problem(where, "not-yaml", "this is not valid YAML")
        raise ProblemsError([problem]) from error


def _begun(event: Any) -> Event:
    start, end = event.start_mark.index, event.end_mark.index
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


def _check_document(source: Source, event: Any, number: int) -> None:
    at = event.start_mark.index
    if event.version or event.tags:
        directive = re.search(r"^%", source.text, re.MULTILINE)
        where = directive.start() if directive else at
        raise refusal(source, where, "a % directive has no meaning here", "leave the line out")
    if number > 1:
        raise refusal(source, at, "one file holds one document", "put it in its own file")


_SENTENCES = (
    ("mapping values are not allowed", "a second colon in one value", "put the text in quotes"),
    ("could not find expected ':'", "a key without its colon", "key: value"),
    ("found unexpected end of stream", "a quote that is never closed", "close it"),
    ("expected ',' or", "a bracket that is never closed, or a comma left out", None),
    ("expected <block end>", "this does not line up with the lines above", "use the same indent"),
    ("found unknown escape", "a backslash that means nothing inside double quotes", "'…'"),
)


def _syntax_error(source: Source, text: str, error: MarkedYAMLError) -> ProblemsError:
    mark = error.problem_mark or error.context_mark
    index = min(mark.index, len(text)) if mark else 0
    before = text[:index]
    if text[index : index + 1] == "\t" or before.endswith("\t"):
        return StrayTabError(source, text, len(before.rstrip("\t")))
    sentence = _syntax_sentence(error.problem or "", before, text[index : index + 1])
    return ProblemsError([source.problem(index, "not-yaml", *sentence)])


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


def _character_problem(source: Source) -> Problem:
    found = _NOT_IN_YAML.search(source.text)
    index = found.start() if found else 0
    character = source.text[index : index + 1]
    message = f"the control character U+{ord(character or ' '):04X} cannot stand in YAML"
    return source.problem(index, "control-character", message, "delete it")
