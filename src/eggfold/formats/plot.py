"""A curve in plain characters."""

from __future__ import annotations

import math
from collections.abc import Iterator
from string import ascii_lowercase, ascii_uppercase
from typing import NamedTuple

from eggfold.pages.page import Plot

NARROWEST, WIDEST = 60, 120
HEIGHT = 15
"""Rows of the drawing, without its axis; house default."""
TICKS_UP, TICKS_ALONG = 5, 6

LETTERS = ascii_uppercase + ascii_lowercase
MORE = "#"
"""What stands for marks after the last letter."""
CURVE, RISE, ZERO = "*", "|", "."
_PLAIN = str.maketrans({"–": "-", "−": "-", "°": "deg ", "×": "x", "±": "+/-", "²": "2", "³": "3"})


def plot_lines(plot: Plot, width: int) -> Iterator[str]:
    """Yield a plot as lines of ASCII, at least 60 and at most 120 wide, its marks named below."""
    width = min(max(width, NARROWEST), WIDEST)
    x_axis = _axis([x for x, _ in plot.points], [x for x, *_ in plot.marks], TICKS_ALONG)
    y_axis = _axis([y for _, y in plot.points], [y for _, y, _ in plot.marks], TICKS_UP)
    margin = max(len(_tick_text(y, y_axis.step)) for y in y_axis.ticks)
    canvas = _Canvas(width - margin - 2, x_axis, y_axis)
    canvas.draw_zero()
    canvas.draw_curve(plot)
    for i, (x, y, _) in enumerate(plot.marks):
        canvas.put(x, y, _letter(i))
    labels = {canvas.row(y): _tick_text(y, y_axis.step) for y in y_axis.ticks}
    yield _plain(plot.y_title)
    for i, row in enumerate(canvas.rows):
        edge = "+" if i in labels else "|"
        yield f"{labels.get(i, ''):>{margin}} {edge}{''.join(row)}".rstrip()
    yield from _foot(plot, canvas, margin)
    for i, (_, _, label) in enumerate(plot.marks):
        yield f"{' ' * (margin + 2)}{_letter(i)} = {label}"


class _Axis(NamedTuple):
    """From where to where an axis runs, in whole steps."""

    low: float
    high: float
    step: float

    @property
    def ticks(self) -> list[float]:
        count = round((self.high - self.low) / self.step)
        return [self.low + i * self.step for i in range(count + 1)]

    def share(self, value: float) -> float:
        return (value - self.low) / (self.high - self.low)


def _axis(values: list[float], marks: list[float], most_ticks: int) -> _Axis:
    low, high = min([*values, *marks]), max([*values, *marks])
    if not high > low:
        low, high = low - 0.5, high + 0.5
    step = _round_step((high - low) / (most_ticks - 1))
    return _Axis(math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step, step)


def _round_step(least: float) -> float:
    """Return the smallest of 1, 2, 5, 10, … that is no less."""
    scale = 10.0 ** math.floor(math.log10(least))
    return next(m * scale for m in (1, 2, 5, 10) if m * scale >= least * (1 - 1e-9))


def _tick_text(value: float, step: float) -> str:
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{value if abs(value) > step / 1e6 else 0:.{decimals}f}"


class _Canvas:
    """Rows of characters between two axes; the first row is the top."""

    def __init__(self, columns: int, x_axis: _Axis, y_axis: _Axis) -> None:
        self.x_axis, self.y_axis = x_axis, y_axis
        self.rows = [[" "] * columns for _ in range(HEIGHT)]

    def column(self, x: float) -> int:
        return round(self.x_axis.share(x) * (len(self.rows[0]) - 1))

    def row(self, y: float) -> int:
        return round((1 - self.y_axis.share(y)) * (HEIGHT - 1))

    def put(self, x: float, y: float, character: str) -> None:
        self.rows[self.row(y)][self.column(x)] = character

    def draw_zero(self) -> None:
        if self.y_axis.low < 0 < self.y_axis.high:
            self.rows[self.row(0)] = [ZERO] * len(self.rows[0])

    def draw_curve(self, plot: Plot) -> None:
        before: int | None = None
        first, last = self.column(plot.points[0][0]), self.column(plot.points[-1][0])
        for column in range(first, last + 1):
            x = self.x_axis.low + column / (len(self.rows[0]) - 1) * (
                self.x_axis.high - self.x_axis.low
            )
            row = self.row(_height_at(plot, x))
            for between in _between(before, row):
                self.rows[between][column] = RISE
            self.rows[row][column] = CURVE
            before = row


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


def _foot(plot: Plot, canvas: _Canvas, margin: int) -> Iterator[str]:
    """Yield the x axis with its ticks, their values and the title."""
    columns = len(canvas.rows[0])
    line, values = ["-"] * columns, [" "] * (columns + margin + 8)
    end = 0
    for x in canvas.x_axis.ticks:
        at = canvas.column(x)
        line[at] = "+"
        text = _tick_text(x, canvas.x_axis.step)
        start = max(margin + 2 + at - len(text) // 2, end)
        start = min(start, margin + 2 + columns - len(text))
        values[start : start + len(text)] = text
        end = start + len(text) + 1
    yield f"{' ' * margin} +{''.join(line)}"
    yield "".join(values).rstrip()
    yield f"{' ' * (margin + 2)}{_plain(plot.x_title):^{columns}}".rstrip()


def _letter(i: int) -> str:
    return LETTERS[i] if i < len(LETTERS) else MORE


def _plain(text: str) -> str:
    return text.translate(_PLAIN).encode("ascii", "replace").decode()
