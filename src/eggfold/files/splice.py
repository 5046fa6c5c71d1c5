"""Replacing stretches of a text so that all else stays as it was written."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from eggfold.load.gate import LINE_BREAK

_LINE = re.compile(r"[^\n]*\n|[^\n]+")


class Splice(NamedTuple):
    """A stretch of a text and what stands there instead."""

    start: int
    end: int
    text: str


def spliced(text: str, splices: Iterable[Splice]) -> str:
    """Return the text with all stretches replaced."""
    parts: list[str] = []
    at = 0
    for start, end, new in sorted(splices):
        parts += [text[at:start], new]
        at = max(at, end)
    return "".join([*parts, text[at:]])


def newline_of(text: str) -> str:
    """Return the line break that a text uses."""
    found = LINE_BREAK.search(text)
    return found[0] if found else "\n"


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
