"""The fenced blocks of a Markdown page."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

_FENCE = re.compile(r"^```(\{?\w*\}?)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_NAMED = re.compile(r"# file: (\S+)\n")


class Block(NamedTuple):
    """One fenced block: its language, its text and the line it starts in."""

    page: Path
    line: int
    language: str
    text: str

    @property
    def file(self) -> str | None:
        """The file name that the first line gives the block."""
        named = _NAMED.match(self.text)
        return named[1] if named else None

    @property
    def runs(self) -> list[tuple[str, str]]:
        """The commands of a console block, each with the output that follows it."""
        _, *parts = re.split(r"^\$ ", self.text, flags=re.MULTILINE)
        return [(command, output) for command, _, output in (p.partition("\n") for p in parts)]


def read_blocks(page: Path) -> list[Block]:
    """Return the blocks of a page, in order."""
    return list(_blocks(page, page.read_text(encoding="utf-8")))


def _blocks(page: Path, text: str) -> Iterator[Block]:
    for match in _FENCE.finditer(text):
        line = text.count("\n", 0, match.start()) + 1
        yield Block(page, line, match[1], match[2])
