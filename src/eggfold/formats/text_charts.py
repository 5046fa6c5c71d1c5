"""Curves and timelines in plain characters, on an axis that any terminal can show."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Callable, Iterable, Iterator
from string import ascii_lowercase, ascii_uppercase
from typing import TypeVar

from eggfold.formats.characters import clean
from eggfold.pages.page import Plot, Span, Strip
from eggfold.records import NamedTuple

NARROWEST, WIDEST = 60, 120
"""The columns a chart takes at least and at most."""
GAP = 2
"""Spaces between a timeline's labels and its bars."""
HEIGHT = 15
"""Rows of a curve, without its axis; house default."""
TICKS_UP, TICKS_ALONG = 5, 6

LETTERS = ascii_uppercase + ascii_lowercase
MORE = "#"
"""What stands for marks after the last letter."""
CURVE, RISE, ZERO = "*", "|", "."
_PLAIN = str.maketrans({"–": "-", "−": "-", "°": "deg ", "×": "x", "±": "+/-", "²": "2", "³": "3"})

T = TypeVar("T")
_Placed = tuple[int, str]
"""A text and the column at which it begins."""


class _Axis(NamedTuple):
    """Where values stand: a range spread over so many columns, and its ticks with their texts."""

    low: float
    high: float
    columns: int
    ticks: tuple[tuple[float, str], ...]

    def share(self, value: float) -> float:
        """Return how far along the axis a value lies."""
        return (value - self.low) / (self.high - self.low)

    def point(self, value: float) -> int:
        """Return the column that stands for a value, the first and the last for the axis's ends."""
        return round(self.share(value) * (self.columns - 1))

    def edge(self, value: float) -> int:
        """Return the edge between columns that is nearest to a value, from 0 at the left."""
        return round(self.share(value) * self.columns)

    def column(self, value: float) -> int:
        """Return the column right of a value's edge, at the end of the axis the last one."""
        return min(self.columns - 1, self.edge(value))

    def rule(self, marked: Iterable[int]) -> str:
        """Return the axis as a line, crossed where it is marked."""
        crossed = set(marked)
        return "".join("+" if i in crossed else "-" for i in range(self.columns))


def _held(width: int) -> int:
    return min(max(width, NARROWEST), WIDEST)


def _line(parts: Iterable[_Placed]) -> str:
    """Return texts at their columns."""
    line = ""
    for at, text in parts:
        line = line.ljust(at) + text
    return line


def plot_lines(plot: Plot, width: int) -> Iterator[str]:
    """Yield a plot as lines of ASCII, at least 60 and at most 120 wide, its marks named below."""
    ups = [*(y for _, y in plot.points), *(y for _, y, _ in plot.marks)]
    y_axis = _round_axis(ups, TICKS_UP, HEIGHT)
    margin = max(len(text) for _, text in y_axis.ticks)
    alongs = [*(x for x, _ in plot.points), *(x for x, *_ in plot.marks)]
    x_axis = _round_axis(alongs, TICKS_ALONG, _held(width) - margin - 2)
    rows = list(_drawn(plot, x_axis, y_axis))
    labels = {_row(y_axis, y): text for y, text in y_axis.ticks}
    yield _plain(plot.y_title)
    for i, row in enumerate(rows):
        edge = "+" if i in labels else "|"
        yield f"{labels.get(i, ''):>{margin}} {edge}{''.join(row)}".rstrip()
    yield from _foot(plot, x_axis, margin)
    for i, (_, _, label) in enumerate(plot.marks):
        yield f"{' ' * (margin + 2)}{_letter(i)} = {label}"


def round_step(least: float) -> float:
    """Return the smallest of 1, 2, 5, 10, … that is no less."""
    scale: float = 10.0 ** math.floor(math.log10(least))
    return next(m * scale for m in (1, 2, 5, 10) if m * scale >= least * (1 - 1e-9))


def _round_axis(values: list[float], most_ticks: int, columns: int) -> _Axis:
    """Return an axis that runs from round number to round number."""
    low, high = min(values), max(values)
    if not high > low:
        low, high = low - 0.5, high + 0.5
    step = round_step((high - low) / (most_ticks - 1))
    low, high = math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
    ticks = [low + i * step for i in range(round((high - low) / step) + 1)]
    return _Axis(low, high, columns, tuple((tick, _tick_text(tick, step)) for tick in ticks))


def _tick_text(value: float, step: float) -> str:
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{value if abs(value) > step / 1e6 else 0:.{decimals}f}"


def _row(axis: _Axis, y: float) -> int:
    """Return the row of a value; the first is the top."""
    return round((1 - axis.share(y)) * (HEIGHT - 1))


def _drawn(plot: Plot, x_axis: _Axis, y_axis: _Axis) -> list[list[str]]:
    """Return the rows between the axes: the line of zero, the curve over it, the marks on both."""
    rows = [[" "] * x_axis.columns for _ in range(HEIGHT)]
    if y_axis.low < 0 < y_axis.high:
        rows[_row(y_axis, 0)] = [ZERO] * x_axis.columns
    before: int | None = None
    first, last = (x_axis.point(plot.points[i][0]) for i in (0, -1))
    for column in range(first, last + 1):
        x = x_axis.low + column / (x_axis.columns - 1) * (x_axis.high - x_axis.low)
        row = _row(y_axis, _height_at(plot, x))
        for between in _between(before, row):
            rows[between][column] = RISE
        rows[row][column] = CURVE
        before = row
    for i, (x, y, _) in enumerate(plot.marks):
        rows[_row(y_axis, y)][x_axis.point(x)] = _letter(i)
    return rows


def _between(before: int | None, row: int) -> range:
    """Return the rows a steep curve passes from one column to the next."""
    if before is None:
        return range(0)
    return range(min(before, row) + 1, max(before, row))


def _height_at(plot: Plot, x: float) -> float:
    """Return the curve at x, straight between points or held until the next; its ends go on."""
    points = plot.points
    i = 0
    while i + 1 < len(points) and points[i + 1][0] <= x:
        i += 1
    (x0, y0), (x1, y1) = points[i], points[min(i + 1, len(points) - 1)]
    if plot.stepped or x <= x0 or x1 <= x0:
        return y0
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def _foot(plot: Plot, axis: _Axis, margin: int) -> Iterator[str]:
    """Yield the x axis with its ticks, their values and the title."""
    left = margin + 2
    values = [" "] * (axis.columns + margin + 8)
    end = 0
    for x, text in axis.ticks:
        start = max(left + axis.point(x) - len(text) // 2, end)
        start = min(start, left + axis.columns - len(text))
        values[start : start + len(text)] = text
        end = start + len(text) + 1
    yield f"{' ' * margin} +{axis.rule(axis.point(x) for x, _ in axis.ticks)}"
    yield "".join(values).rstrip()
    yield f"{' ' * left}{_plain(plot.x_title):^{axis.columns}}".rstrip()


def _letter(i: int) -> str:
    return LETTERS[i] if i < len(LETTERS) else MORE


def _plain(text: str) -> str:
    return text.translate(_PLAIN).encode("ascii", "replace").decode()


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


def _bar(axis: _Axis, span: Span) -> _Bar:
    """Return the columns from a span's start up to its end, at least one."""
    first = axis.column(span.start)
    point = None if span.point is None else axis.column(span.point)
    return _Bar(first, max(first, axis.edge(span.end) - 1), clean(span.label), point)


def timeline_lines(strip: Strip, width: int) -> Iterator[str]:
    """Yield the lines of a strip: a bar a span, the axis with its ticks, and what it measures."""
    width = _held(width)
    labels = [clean(row.label) for row in strip.rows]
    left = min(max(map(len, labels), default=0), width // 3)
    axis = _timeline_axis(strip, width - left - GAP)
    for row, label in zip(strip.rows, labels, strict=True):
        words = _wrapped(label, max(left, 1))
        bars = [_bar(axis, span) for span in sorted(row.spans, key=lambda s: (s.start, s.end))]
        yield from _side_by_side(words, _row_lines(bars, axis.columns), left)
    yield from _side_by_side([], _axis_lines(strip, axis), left)


def _timeline_axis(strip: Strip, columns: int) -> _Axis:
    values = [value for value, _ in strip.ticks]
    values += [
        value for row in strip.rows for span in row.spans for value in (span.start, span.end)
    ]
    low, high = min(values, default=0.0), max(values, default=1.0)
    ticks = tuple((value, clean(text)) for value, text in strip.ticks)
    return _Axis(low, high if high > low else low + 1, columns, ticks)


def _wrapped(text: str, columns: int) -> list[str]:
    return textwrap.wrap(text, columns, break_on_hyphens=False)


def _side_by_side(words: list[str], lines: list[str], left: int) -> Iterator[str]:
    for i in range(max(len(words), len(lines))):
        word = words[i] if i < len(words) else ""
        line = lines[i] if i < len(lines) else ""
        yield f"{word:{left}}{' ' * GAP}{line}".rstrip()


def _row_lines(bars: Iterable[_Bar], columns: int) -> list[str]:
    """Return a row's bars, those that overlap under one another, each with its labels below it."""
    lanes = _laned(bars, lambda before, bar: before.last < bar.first)
    return [line for lane in lanes for line in _lane_lines(lane, columns)]


def _laned(parts: Iterable[T], leaves_room: Callable[[T, T], bool]) -> list[list[T]]:
    """Put each part on the first line whose last part leaves it room."""
    lines: list[list[T]] = []
    for part in parts:
        free = next((line for line in lines if leaves_room(line[-1], part)), None)
        if free is None:
            lines.append([part])
        else:
            free.append(part)
    return lines


def _lane_lines(lane: list[_Bar], columns: int) -> list[str]:
    outside = [bar for bar in lane if bar.label and not bar.holds_label]
    labels = [
        (min(bar.first, columns - len(part)), part)
        for bar in outside
        for part in _wrapped(bar.label, columns)
    ]
    # each label keeps a space from the one before it
    lines = _laned(labels, lambda before, label: before[0] + len(before[1]) < label[0])
    return [_line((bar.first, bar.drawn()) for bar in lane), *map(_line, lines)]


def _axis_lines(strip: Strip, axis: _Axis) -> list[str]:
    ticks = [(axis.column(value), text) for value, text in axis.ticks]
    return [
        axis.rule(column for column, _ in ticks),
        _line(_tick_labels(ticks, axis.columns)),
        *_wrapped(clean(strip.axis_title), axis.columns),
    ]


def _tick_labels(ticks: list[_Placed], columns: int) -> list[_Placed]:
    """Return the labels that find room, both ends of the axis before the others."""
    kept: list[_Placed] = []
    for column, text in [*ticks[:1], *ticks[:0:-1][:1], *ticks[1:-1]]:
        at = max(0, min(column - len(text) // 2, columns - len(text)))
        if all(at > a + len(t) or at + len(text) < a for a, t in kept):
            kept.append((at, text))
    return sorted(kept)
