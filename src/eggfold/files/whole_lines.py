"""The steps of a text whose lines are each whole in themselves: the same as YAML's, far sooner.

YAML's reader takes about 60 µs for a pair, so a shelf or a notebook of a few seasons would keep every
command waiting. Where no key, value or bracket outlasts its line, the indent alone says what belongs
where. What a line alone cannot decide (an escape, a text over several lines, an indent that fits
nothing, a tab) is left to that reader, and so is what it would refuse.
"""

from __future__ import annotations

import re
from collections.abc import Generator, Iterator
from typing import Literal

from eggfold.files.events import BEGINNING, Block, Event, Resume

LONGEST_KEY = 1000
"""YAML looks for a key's colon no further than 1024 characters ahead."""

_CONTROLS = re.compile(
    "[\x00-\x09\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]|\r(?!\n)"
)
_FIRST = r"[^ \r\n\"'\[\]{}#&*!|>%@`,?:-]"
_QUOTED = r"\"[^\"\\\n]*+\"|'(?:[^'\n]++|'')*+'"
_BLOCK = rf"{_QUOTED}|{_FIRST}(?:[^#:\r\n]++|:(?=[^ \r\n])|(?<=[^ ])\#)*+"
_FLOW = rf"{_QUOTED}|{_FIRST}(?:[^#:,\[\]{{}}\r\n]++|:(?=[^ \r\n,\[\]{{}}])|(?<=[^ ])\#)*+"
_LINE = re.compile(
    rf"(?P<indent> *)(?P<dash>- +)?(?P<text>{_BLOCK})?(?P<colon> *:(?=[ \r\n]|\Z))? *"
)
_IN_BLOCK = re.compile(_BLOCK)
_IN_FLOW = re.compile(_FLOW)
_SPACES = re.compile(" *")
_REST = re.compile(r" *(?:(?<= )#[^\n]*)?\r?\n?\Z")

Steps = Generator[Event, None, int]
"""Steps, and where the text goes on behind them."""


class UndecidedError(Exception):
    """A line needs YAML's reader."""


class HardLineError(UndecidedError):
    """A line needs YAML's reader: where that has to begin, and where the line ends.

    It begins a line with words sooner, for a value of that line may go on in the hard one.
    """

    def __init__(self, begin: Resume, end: int) -> None:
        super().__init__()
        self.begin = begin
        self.end = end


def line_events(text: str) -> Iterator[Event]:
    """Yield the steps of a text; raises HardLineError at a line that cannot be read alone."""
    return LineReader(text).events(BEGINNING)


class LineReader:
    """Follows the lines of a text and what is open at each."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._open: list[Block] = []
        self._empty: int | None = None
        """Behind the colon of the key in the line above, where nothing stands there."""
        self._control = -1
        """The first control behind some place, or the end."""

    def events(self, begin: Resume) -> Iterator[Event]:
        """Yield the steps from a line on, of each line when the next with words is another's.

        Raises HardLineError at a line that cannot be read alone.
        """
        self._open, self._empty = [*begin.open], begin.empty
        at, before, steps = begin.at, BEGINNING, list[Event]()
        while at < len(self._text):
            end = self._text.find("\n", at) + 1 or len(self._text)
            here = Resume(at, (*self._open,), self._empty) if self._open else BEGINNING
            try:
                new = [*self._line(at, end)]
            except UndecidedError as error:
                raise HardLineError(before if steps else here, end) from error
            if new:
                yield from steps
                before, steps = here, new
            at = end
        yield from steps
        yield from self._close(-1, len(self._text))

    def _line(self, at: int, end: int) -> Iterator[Event]:
        if self._text.startswith("...", at) or self._next_control(at) < end:
            raise UndecidedError
        match = _LINE.match(self._text, at, end)
        assert match  # noqa: S101 - every part of the pattern may be missing
        if not match["dash"] and not match["text"]:
            self._check_rest(match.end("indent"), end, blank=True)
            return
        if not self._open:
            yield self._begin("mapping", match.end("indent"), at)
        yield from self._words(match, at, end)

    def _next_control(self, at: int) -> int:
        if self._control < at:
            match = _CONTROLS.search(self._text, at)
            self._control = match.start() if match else len(self._text)
        return self._control

    def _words(self, match: re.Match[str], at: int, end: int) -> Iterator[Event]:
        start = match.end("indent")
        if not match["dash"]:
            yield from self._before_key(start - at, start)
            yield from self._pair(match, start, end)
            return
        yield from self._before_item(start - at, start)
        start = match.end("dash")
        if match["colon"]:
            yield self._begin("mapping", start, at)
            yield from self._pair(match, start, end)
        else:
            yield from self._value(start, end)

    def _begin(self, kind: Literal["sequence", "mapping"], start: int, line: int) -> Event:
        self._open.append(Block(start - line, kind))
        self._empty = None
        return Event(kind, start, start)

    def _before_key(self, column: int, start: int) -> Iterator[Event]:
        """Make a mapping at a column the innermost that is open."""
        if self._empty is not None and self._open[-1].column < column:
            yield self._begin("mapping", start, start - column)
            return
        yield from self._close(column, start)
        if self._open and self._open[-1] == (column, "sequence"):
            self._open.pop()
            yield Event("end", start, start)
        if not self._open or self._open[-1] != (column, "mapping"):
            raise UndecidedError

    def _before_item(self, column: int, start: int) -> Iterator[Event]:
        """Make a list at a column the innermost that is open."""
        if self._empty is not None and self._open[-1].column <= column:
            yield self._begin("sequence", start, start - column)
            return
        yield from self._close(column, start)
        if not self._open or self._open[-1] != (column, "sequence"):
            raise UndecidedError

    def _close(self, column: int, start: int) -> Iterator[Event]:
        """End what stands further in than a column."""
        if self._empty is not None:
            yield Event("scalar", self._empty, self._empty, plain=True)
            self._empty = None
        while self._open and self._open[-1].column > column:
            self._open.pop()
            yield Event("end", start, start)

    def _pair(self, match: re.Match[str], start: int, end: int) -> Iterator[Event]:
        if not match["text"] or not match["colon"] or match.end("text") - start > LONGEST_KEY:
            raise UndecidedError
        yield self._scalar(start, match.end("text"))
        if match.end() == end or self._text[match.end()] in "\r\n#":
            self._check_rest(match.end(), end)
            self._empty = match.end("colon")
        else:
            yield from self._value(match.end(), end)

    def _value(self, start: int, end: int) -> Iterator[Event]:
        if self._text[start : start + 1] in ("{", "["):
            behind = yield from self._flow(start)
        elif match := _IN_BLOCK.match(self._text, start, end):
            yield self._scalar(start, match.end())
            behind = match.end()
        else:
            raise UndecidedError
        self._check_rest(behind, end)

    def _flow(self, start: int) -> Steps:
        """Yield what stands in brackets."""
        kind: Literal["sequence", "mapping"]
        kind, closing = ("mapping", "}") if self._text[start] == "{" else ("sequence", "]")
        yield Event(kind, start, start + 1, flow=True)
        at = self._behind_spaces(start + 1)
        while self._text[at : at + 1] != closing:
            at = yield from self._flow_pair(at) if kind == "mapping" else self._flow_value(at)
            at = self._behind_spaces(at)
            if self._text[at : at + 1] == ",":
                at = self._behind_spaces(at + 1)
            elif self._text[at : at + 1] != closing:
                raise UndecidedError
        yield Event("end", at, at + 1)
        return at + 1

    def _flow_pair(self, start: int) -> Steps:
        match = _IN_FLOW.match(self._text, start)
        if match is None:
            raise UndecidedError
        yield self._scalar(start, match.end())
        colon = self._behind_spaces(match.end())
        if not self._text.startswith(":", colon):
            yield Event("scalar", colon, colon, plain=True)
            return colon
        if not self._text.startswith(" ", colon + 1) or colon - start > LONGEST_KEY:
            raise UndecidedError
        at = self._behind_spaces(colon + 1)
        if self._text[at : at + 1] in (",", "}"):
            yield Event("scalar", colon + 1, colon + 1, plain=True)
            return at
        return (yield from self._flow_value(at))

    def _flow_value(self, start: int) -> Steps:
        if self._text[start : start + 1] in ("{", "["):
            return (yield from self._flow(start))
        match = _IN_FLOW.match(self._text, start)
        if match is None:
            raise UndecidedError
        yield self._scalar(start, match.end())
        return match.end()

    def _behind_spaces(self, at: int) -> int:
        match = _SPACES.match(self._text, at)
        return match.end() if match else at

    def _check_rest(self, at: int, end: int, *, blank: bool = False) -> None:
        """Hold that nothing but a comment ends a line; in a blank one it may stand anywhere."""
        if blank and self._text.startswith("#", at):
            return
        if not _REST.match(self._text, at, end):
            raise UndecidedError

    def _scalar(self, start: int, end: int) -> Event:
        text = self._text[start:end]
        if text[0] == '"':
            return Event("scalar", start, end, text[1:-1])
        if text[0] == "'":
            return Event("scalar", start, end, text[1:-1].replace("''", "'"))
        text = text.rstrip(" ")
        if text == "<<":
            raise UndecidedError
        return Event("scalar", start, start + len(text), text, plain=True)
