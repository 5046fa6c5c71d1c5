"""A strip of spans in plain characters: bars on a shared axis that any terminal can show."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from eggfold.formats.characters import clean
from eggfold.formats.columns import GAP
from eggfold.pages.page import Span, Strip

NARROWEST, WIDEST = 60, 120
"""The columns a strip takes at least and at most."""


class _Axis(NamedTuple):
    """Where values stand: the whole range spread over so many columns."""

    low: float
    high: float
    columns: int

    def edge(self, value: float) -> int:
        """Return the edge between columns that is nearest to a value, from 0 at the left."""
        return round((value - self.low) / (self.high - self.low) * self.columns)

    def column(self, value: float) -> int:
        """Return the column right of a value's edge, at the end of the axis the last one."""
        return min(self.columns - 1, self.edge(value))

    def bar(self, span: Span) -> _Bar:
        """Return the columns from a span's start up to its end, at least one."""
        first = self.column(span.start)
        point = None if span.point is None else self.column(span.point)
        return _Bar(first, max(first, self.edge(span.end) - 1), clean(span.label), point)


class _Bar(NamedTuple):
    """A span in columns."""

    first: int
    last: int
    label: str
    point: int | None

    @property
    def holds_label(self) -> bool:
        """Whether the label stands inside the bar."""
        return self.point is None and len(self.label) <= self.last - self.first - 1

    def drawn(self) -> str:
        """Return the bar, its label inside if there is room, its point as ``o``."""
        width = self.last - self.first + 1
        inside = self.label if self.holds_label else ""
        bar = "|" if width == 1 else f"[{inside.ljust(width - 2, '-')}]"
        if self.point is None:
            return bar
        at = min(max(self.point - self.first, 0), width - 1)
        return f"{bar[:at]}o{bar[at + 1 :]}"


def strip_lines(strip: Strip, width: int) -> Iterator[str]:
    """Yield the lines of a strip: a bar a span, the axis with its ticks, and what it measures."""
    width = min(max(width, NARROWEST), WIDEST)
    labels = [clean(row.label) for row in strip.rows]
    left = min(max(map(len, labels), default=0), width // 3)
    axis = _axis(strip, width - left - GAP)
    for row, label in zip(strip.rows, labels, strict=True):
        words = _wrapped(label, max(left, 1))
        bars = [axis.bar(span) for span in sorted(row.spans, key=lambda s: (s.start, s.end))]
        yield from _side_by_side(words, _row_lines(bars, axis.columns), left)
    yield from _side_by_side([], _axis_lines(strip, axis), left)


def _axis(strip: Strip, columns: int) -> _Axis:
    values = [value for value, _ in strip.ticks]
    values += [
        value for row in strip.rows for span in row.spans for value in (span.start, span.end)
    ]
    low, high = min(values, default=0.0), max(values, default=1.0)
    return _Axis(low, high if high > low else low + 1, columns)


def _wrapped(text: str, columns: int) -> list[str]:
    return textwrap.wrap(text, columns, break_on_hyphens=False)


def _side_by_side(words: list[str], lines: list[str], left: int) -> Iterator[str]:
    for i in range(max(len(words), len(lines))):
        word = words[i] if i < len(words) else ""
        line = lines[i] if i < len(lines) else ""
        yield f"{word:{left}}{' ' * GAP}{line}".rstrip()


def _row_lines(bars: Iterable[_Bar], columns: int) -> list[str]:
    """Return a row's bars, those that overlap under one another, each with its labels below it."""
    lanes: list[list[_Bar]] = []
    for bar in bars:
        free = next((lane for lane in lanes if lane[-1].last < bar.first), None)
        if free is None:
            lanes.append([bar])
        else:
            free.append(bar)
    return [line for lane in lanes for line in _lane_lines(lane, columns)]


def _lane_lines(lane: list[_Bar], columns: int) -> list[str]:
    outside = [bar for bar in lane if bar.label and not bar.holds_label]
    labels = [
        (min(bar.first, columns - len(part)), part)
        for bar in outside
        for part in _wrapped(bar.label, columns)
    ]
    return [_line((bar.first, bar.drawn()) for bar in lane), *map(_line, _stacked(labels))]


def _stacked(labels: Iterable[tuple[int, str]]) -> list[list[tuple[int, str]]]:
    """Put each label on the first line where it keeps a space from the one before it."""
    lines: list[list[tuple[int, str]]] = []
    for at, text in labels:
        free = next((line for line in lines if _end(line) < at), None)
        if free is None:
            lines.append([(at, text)])
        else:
            free.append((at, text))
    return lines


def _end(line: list[tuple[int, str]]) -> int:
    at, text = line[-1]
    return at + len(text)


def _line(parts: Iterable[tuple[int, str]]) -> str:
    """Return texts at their columns."""
    line = ""
    for at, text in parts:
        line = line.ljust(at) + text
    return line


def _axis_lines(strip: Strip, axis: _Axis) -> list[str]:
    ticks = [(axis.column(value), clean(text)) for value, text in strip.ticks]
    marked = {column for column, _ in ticks}
    rule = "".join("+" if i in marked else "-" for i in range(axis.columns))
    return [
        rule,
        _line(_tick_labels(ticks, axis.columns)),
        *_wrapped(clean(strip.axis_title), axis.columns),
    ]


def _tick_labels(ticks: list[tuple[int, str]], columns: int) -> list[tuple[int, str]]:
    """Return the labels that find room, both ends of the axis before the others."""
    kept: list[tuple[int, str]] = []
    for column, text in [*ticks[:1], *ticks[:0:-1][:1], *ticks[1:-1]]:
        at = max(0, min(column - len(text) // 2, columns - len(text)))
        if all(at > a + len(t) or at + len(text) < a for a, t in kept):
            kept.append((at, text))
    return sorted(kept)
