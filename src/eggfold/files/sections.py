"""A long file cut into its top-level sections without reading what stands in them.

Reading YAML costs about 65 µs for each pair, so a notebook of a few seasons would keep every command
waiting. Where each line of a text is plainly whole in itself (a comment, a key, a list item, a value
that ends on its line), a key in the first column starts a section and nothing else can. A text with
any other line is not cut.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from eggfold.errors import Place
from eggfold.files.source import Source

_BREAKS_OR_CONTROLS = re.compile("\r(?!\n)|[\x00-\x09\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff]")
_BEGINNING = re.compile(r"(?:\ *(?:#[^\n]*)?\r?\n)*(?:[a-z_]+:|\ *(?:#[^\n]*)?\r?\Z)")
"""Comments, then a key in the first column, or nothing."""
_TOP_KEY = re.compile(r"^([a-z_]+):", re.MULTILINE)
_FIRST = r"[^\s\"'\[\]{}#&*!|>%@`,?:-]"
_QUOTED = r"\"(?:[^\"\\\n]|\\.)*\"|'(?:[^'\n]|'')*'"
IN_FLOW = rf"(?:{_QUOTED}|{_FIRST}(?:[^#:,\[\]{{}}\n]|:(?=[^\s,\[\]{{}}])|(?<=\S)\#)*)"
IN_BLOCK = rf"(?:{_QUOTED}|{_FIRST}(?:[^#:\n]|:(?=\S)|(?<=\S)\#)*)"
KEY = rf"(?:{_QUOTED}|{_FIRST}[^#:,\[\]{{}}\n]*)"


def _flow_of(value: str) -> str:
    return rf"\{{\ *(?:{KEY}:\ +{value}\ *(?:,\ *|(?=\}})))*\}}"


_FLOW = _flow_of(rf"(?:{IN_FLOW}|{_flow_of(IN_FLOW)})")
_REST = r"\ *(?:(?<=\s)\#[^\n]*)?\r?$"


@lru_cache(maxsize=1)
def _odd_line() -> re.Pattern[str]:
    """Return the pattern of the start of a line that is not plainly whole in itself."""
    lines = (
        rf"\ *(?:\#[^\n]*)?\r?$"
        rf"|[a-z_]+:(?:\ +\[\])?{_REST}"
        rf"|(?:\ *-\ +(?:{KEY}:\ +)?|\ +{KEY}:\ +){_FLOW}{_REST}"
        rf"|(?:\ *-|)\ +{KEY}:(?:\ +{IN_BLOCK})?{_REST}"
    )
    return re.compile(rf"^(?!{lines})", re.MULTILINE)


class Section(NamedTuple):
    """Where a key's text starts and ends: from the key to the next key in the first column."""

    start: int
    end: int


@lru_cache(maxsize=4)
def cut_sections(text: str) -> dict[str, Section] | None:
    """Return the top-level sections of a text by key, None where it has to be read as a whole."""
    if _BREAKS_OR_CONTROLS.search(text) or not _BEGINNING.match(text) or _odd_line().search(text):
        return None
    found = list(_TOP_KEY.finditer(text))
    ends = [*(m.start() for m in found), len(text)][1:]
    cut = {m[1]: Section(m.start(), end) for m, end in zip(found, ends, strict=True)}
    return cut if len(cut) == len(found) else None


class Excerpt(Source):
    """A part of a text, whose places are those in the whole."""

    def __init__(self, whole: Source, section: Section) -> None:
        super().__init__(whole.file, whole.text[section.start : section.end])
        self._whole = whole
        self._offset = section.start

    def place(self, index: int) -> Place:
        """Return the line and column of a character in the whole text."""
        return self._whole.place(self._offset + index)

    def around(self, place: Place) -> tuple[str, int]:
        """Return the line of a place, and the caret."""
        return self._whole.around(place)
