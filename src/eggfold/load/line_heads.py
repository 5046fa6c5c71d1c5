"""The beginnings of lines as an editor, a word processor or a web page leaves them, put as YAML has them.

A tab or a hard space as indent, a dash glued to its item, another dash or a bullet for it, a colon glued to
its value: each is written out, and where that can be done in one way only, that is what was meant.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from eggfold.records import NamedTuple

WIDEST_TAB = 8
_LINE = re.compile(r"([ \t\xa0]*)((?:[-–—•*](?![-*])[ \t\xa0]*)?)([^\r\n]*(?:\r\n?|\n|\Z))")
_ITEM = re.compile(r"[-–—•*]")
_GLUED_COLON = re.compile(r"[a-z][a-z_]*:(?=[^\s:/])")
_BLOCK_TEXT = re.compile(r"[:-][ \t]*[|>][-+0-9]*[ \t]*(?:#[^\r\n]*)?$", re.MULTILINE)


class TidyText(NamedTuple):
    """A text with its lines' heads written out, and the place that each character of it had."""

    text: str
    places: list[int]


def tidy_texts(text: str, most: int) -> Iterator[TidyText]:
    """Yield the texts that may be meant, of ``most`` characters; none where block texts stand."""
    if _BLOCK_TEXT.search(text):
        return
    widths = range(1, WIDEST_TAB + 1) if "\t" in text else (1,)
    for tab in widths:
        for times in (1, 2):
            tidy = _tidied(text, tab, times, most)
            if tidy and tidy.text != text:
                yield tidy


def _tidied(text: str, tab: int, times: int, most: int) -> TidyText | None:
    """Return a text whose tabs reach so far and whose indents are so many times as wide.

    Twice as wide, there is room behind a glued dash for the space that was left out, and what stands
    under its item still lines up with it.
    """
    parts: list[str] = []
    places: list[int] = []
    for line in _LINE.finditer(text):
        head, rest = _head(line[1], line[2], line[3], tab, times), line[3]
        parts.append(head)
        places += [line.start(2)] * len(head)
        colon = _GLUED_COLON.match(rest)
        at = colon.end() if colon else 0
        if at:
            parts.append(f"{rest[:at]} ")
            places += range(line.start(3), line.start(3) + at + 1)
        parts.append(rest[at:])
        places += range(line.start(3) + at, line.end())
        if len(places) > most:
            return None
    return TidyText("".join(parts), [*places, len(text)])


def _head(indent: str, mark: str, rest: str, tab: int, times: int) -> str:
    first = len(indent.expandtabs(tab))
    if not _ITEM.match(mark) or (mark in ("-", "*") and not _is_glued_item(mark, rest)):
        return " " * (first * times) + mark
    behind = len(f"{indent}{mark}".expandtabs(tab)) - first
    return f"{' ' * (first * times)}-{' ' * max(1, behind * times - 1)}"


def _is_glued_item(mark: str, rest: str) -> bool:
    """Tell whether a dash without a space begins an item, and neither a number nor a text."""
    return (mark == "-" and rest[:1].isalpha()) or rest[:1] in ("{", '"', "'", "[", "“", "")
