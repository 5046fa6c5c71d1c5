"""Plots and strips as plain shapes, for every format that can draw; y runs down, in points."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Literal

from eggfold.formats.characters import clean
from eggfold.formats.text_charts import round_step
from eggfold.pages.figures import number_text
from eggfold.pages.page import Plot, Span, Strip
from eggfold.records import NamedTuple

TYPE = 8.0
"""Height of the letters."""
LETTER, CAPITAL, BROAD = 0.55, 0.75, 1.0
"""Widths of letters as shares of their height, on the wide side; each format has its own type."""
ROW = 22.0
STRIP_TOP, STRIP_FOOT = 1.8 * TYPE, 2 * TYPE
"""Room for a strip's title above its rows, and for its axis below."""
PLOT_SHARE, PLOT_HEIGHT = 0.5, 160.0
"""Height of a plot: this share of its width, at most so much."""
DOT = 2.2
GAP = 5.0
"""Between a dot and its name."""

Anchor = Literal["start", "middle", "end"]
_Point = tuple[float, float]
_Area = tuple[float, float, float, float]
"""Left, top, right and bottom."""


class Stroke(NamedTuple):
    """A line through points."""

    points: tuple[tuple[float, float], ...]
    weight: float = 0.6
    dashed: bool = False


class Dot(NamedTuple):
    """A filled circle."""

    x: float
    y: float


class Box(NamedTuple):
    """A framed bar, light enough to write on."""

    x: float
    y: float
    width: float
    height: float


class ChartText(NamedTuple):
    """A line of text; ``y`` is its foot. ``clear`` keeps what lies under it away from it."""

    x: float
    y: float
    text: str
    anchor: Anchor = "start"
    clear: bool = False


Shape = Stroke | Dot | Box | ChartText


class Drawing(NamedTuple):
    """Shapes in a frame, and in words what they show."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    words: str


class _Frame(NamedTuple):
    """Where the data lie and how they are scaled."""

    left: float
    top: float
    right: float
    bottom: float
    x_range: tuple[float, float]
    y_range: tuple[float, float]

    def x(self, value: float) -> float:
        low, high = self.x_range
        return self.left + (value - low) / (high - low) * (self.right - self.left)

    def y(self, value: float) -> float:
        low, high = self.y_range
        return self.bottom - (value - low) / (high - low) * (self.bottom - self.top)


def draw(figure: Plot | Strip, width: float) -> Drawing:
    """Return a plot or a strip, so many points wide."""
    return _draw_plot(figure, width) if isinstance(figure, Plot) else draw_strip(figure, width)


def rows_within(height: float) -> int:
    """Return how many rows of a strip a height holds, at least one."""
    return max(1, math.floor((height - STRIP_TOP - STRIP_FOOT) / ROW + 1e-9))


def ticks(low: float, high: float, most: int = 6) -> list[float]:
    """Return round numbers between two: steps of 1, 2 or 5 times a power of ten."""
    step = round_step((high - low) / most)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [i * step for i in range(first, last + 1)]


def rough_width(text: str) -> float:
    """Return about how wide a text is, rather more than less."""
    return TYPE * sum(map(_letter_width, text))


def fit(text: str, room: float) -> str:
    """Return as much of a text as fits, an ellipsis for the rest."""
    text = clean(text)
    if rough_width(text) <= room:
        return text
    kept, used = 0, TYPE * BROAD
    while kept < len(text) and used + TYPE * _letter_width(text[kept]) <= room:
        used += TYPE * _letter_width(text[kept])
        kept += 1
    return f"{text[:kept]}…"


def _letter_width(letter: str) -> float:
    if letter in "MWmw@%" or letter > "\u2000":
        return BROAD
    return CAPITAL if letter.isupper() else LETTER


def _around(values: list[float]) -> tuple[float, float]:
    """Return a range that is never empty."""
    low, high = min(values, default=0.0), max(values, default=1.0)
    margin = max(abs(low), 1.0) * 0.5 if high - low < 1e-9 * max(abs(low), abs(high), 1e-300) else 0
    return low - margin, high + margin


def _draw_plot(plot: Plot, width: float) -> Drawing:
    height = min(width * PLOT_SHARE, PLOT_HEIGHT)
    named = [(x, y) for x, y, _ in plot.marks]
    x_range = _around([x for x, _ in (*plot.points, *named)])
    y_range = _around([y for _, y in (*plot.points, *named)])
    y_ticks = [(value, number_text(value)) for value in ticks(*y_range, 5)]
    left = max((rough_width(text) for _, text in y_ticks), default=0.0) + 8
    frame = _Frame(left, TYPE * 2, width - 14, height - TYPE * 3.2, x_range, y_range)
    shapes: list[Shape] = list(_axes(frame, plot, y_ticks))
    line: list[_Point] = []
    if plot.points:
        points = _stepped(plot.points) if plot.stepped else plot.points
        line = [(frame.x(x), frame.y(y)) for x, y in points]
        shapes.append(Stroke(tuple(line), 1.4))
    shapes += _marks(frame, plot, line)
    return Drawing(width, height, tuple(shapes), _plot_words(plot))


def _axes(frame: _Frame, plot: Plot, y_ticks: list[tuple[float, str]]) -> Iterator[Shape]:
    corner = (frame.left, frame.bottom)
    yield Stroke(((frame.left, frame.top), corner, (frame.right, frame.bottom)), 0.8)
    for value, text in y_ticks:
        y = frame.y(value)
        yield Stroke(((frame.left, y), (frame.right, y)), 0.3, dashed=True)
        yield ChartText(frame.left - 4, y + TYPE / 3, text, "end")
    for value in ticks(*frame.x_range):
        x = frame.x(value)
        yield Stroke(((x, frame.bottom), (x, frame.bottom + 3)))
        yield ChartText(x, frame.bottom + TYPE + 4, number_text(value), "middle")
    yield ChartText(0, TYPE, fit(plot.y_title, frame.right))
    yield ChartText(frame.right, frame.bottom + TYPE * 2.6, fit(plot.x_title, frame.right), "end")


def _marks(frame: _Frame, plot: Plot, line: list[_Point]) -> Iterator[Shape]:
    """Yield the names of marked places where they hide neither curve, dot nor name, then the dots."""
    dots = [(frame.x(x), frame.y(y)) for x, y, _ in plot.marks]
    drawn = [*_along(line), *dots]
    taken: list[_Area] = []
    for dot, (*_, name) in zip(dots, plot.marks, strict=True):
        places = list(_places(frame, dot, name))
        label = min(places, key=lambda place: _hidden(_area(place), drawn, taken))
        taken.append(_area(label))
        yield label
    yield from (Dot(x, y) for x, y in dots)


def _places(frame: _Frame, dot: _Point, name: str) -> Iterator[ChartText]:
    """Yield where a name may stand: beside its dot above and below, the side with more room first."""
    x, y = dot
    sides: list[Anchor] = ["start", "end"] if 2 * x < frame.left + frame.right else ["end", "start"]
    texts = {
        "start": fit(name, frame.right - x - GAP),
        "end": fit(name, x - GAP - frame.left),
    }
    whole = [side for side in sides if texts[side] == clean(name)] or sides[:1]
    above = y - GAP - TYPE > frame.top
    for foot in [y - GAP] * above + [y + GAP + TYPE]:
        for side in whole:
            yield ChartText(
                x + GAP if side == "start" else x - GAP, foot, texts[side], side, clear=True
            )


def _area(label: ChartText) -> _Area:
    width = rough_width(label.text)
    left = label.x if label.anchor == "start" else label.x - width
    return left, label.y - TYPE, left + width, label.y + TYPE / 4


def _hidden(area: _Area, drawn: list[_Point], taken: list[_Area]) -> float:
    """Return how much a name would hide: points, and names as much as all points together."""
    left, top, right, bottom = area
    points = sum(left <= x <= right and top <= y <= bottom for x, y in drawn)
    names = sum(left < a[2] and a[0] < right and top < a[3] and a[1] < bottom for a in taken)
    return points + names * len(drawn)


def _along(line: list[_Point]) -> Iterator[_Point]:
    """Yield points along a line, closer to each other than a letter is high."""
    for (x0, y0), (x1, y1) in pairwise(line):
        steps = max(1, math.ceil(max(abs(x1 - x0), abs(y1 - y0)) / (TYPE / 4)))
        yield from ((x0 + (x1 - x0) * i / steps, y0 + (y1 - y0) * i / steps) for i in range(steps))
    yield from line[-1:]


def _stepped(points: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    steps = [(x, y) for (_, y), (x, _) in pairwise(points)]
    return points[0], *(p for pair in zip(steps, points[1:], strict=True) for p in pair)


def _plot_words(plot: Plot) -> str:
    words = f"{plot.y_title} over {plot.x_title}"
    if plot.points:
        (x0, y0), (x1, y1) = plot.points[0], plot.points[-1]
        words += (
            f", from {number_text(y0)} at {number_text(x0)} to {number_text(y1)} "
            f"at {number_text(x1)}"
        )
    named = "; ".join(f"{name}: {number_text(y)} at {number_text(x)}" for x, y, name in plot.marks)
    return clean(f"{words}. {named}" if named else f"{words}.")


def draw_strip(strip: Strip, width: float, rows: slice = slice(None)) -> Drawing:
    """Return some rows of a strip, laid out as all of it is, with its title and its axis."""
    shown = strip.rows[rows]
    ends = [v for row in strip.rows for s in row.spans for v in (s.start, s.end)]
    longest = max((rough_width(clean(row.label)) for row in strip.rows), default=0.0)
    left = min(longest + 8, width * 0.35)
    top = STRIP_TOP
    bottom = top + ROW * len(shown)
    x_range = _around([*ends, *(v for v, _ in strip.ticks)])
    frame = _Frame(left, top, width - 14, bottom, x_range, (0.0, 1.0))
    shapes: list[Shape] = [ChartText(0, TYPE, fit(strip.axis_title, width))]
    for value, text in strip.ticks:
        x = frame.x(value)
        shapes.append(Stroke(((x, top), (x, bottom + 3)), 0.3, dashed=True))
        shapes.append(ChartText(x, bottom + TYPE + 4, clean(text), "middle"))
    for i, row in enumerate(shown):
        foot = top + ROW * i
        shapes.append(ChartText(0, foot + ROW / 2 + TYPE / 3, fit(row.label, left - 6)))
        for span in row.spans:
            shapes += _span(frame, span, foot)
    shapes.append(Stroke(((left, bottom), (frame.right, bottom)), 0.8))
    words = _strip_words(strip._replace(rows=shown))
    return Drawing(width, bottom + STRIP_FOOT, tuple(shapes), words)


def _span(frame: _Frame, span: Span, top: float) -> Iterator[Shape]:
    start, end = frame.x(span.start), frame.x(span.end)
    yield Box(start, top + 4, max(end - start, 0.8), ROW - 8)
    if span.point is not None:
        x = frame.x(span.point)
        yield Stroke(((x, top + 2), (x, top + ROW - 2)), 1.4)
        yield Dot(x, top + ROW / 2)
    if span.label:
        yield from _span_label(frame, span, top)


def _span_label(frame: _Frame, span: Span, top: float) -> Iterator[Shape]:
    """Write inside the bar where that is free and wide enough, else beside it."""
    start, end, foot = frame.x(span.start), frame.x(span.end), top + ROW / 2 + TYPE / 3
    needed = rough_width(clean(span.label))
    if needed + 4 <= end - start and span.point is None:
        yield ChartText(start + 3, foot, clean(span.label))
    elif needed <= frame.right - end:
        yield ChartText(end + 4, foot, clean(span.label))
    elif needed <= start - frame.left:
        yield ChartText(start - 4, foot, clean(span.label), "end")
    else:
        yield ChartText(start + 3, foot, fit(span.label, max(end - start - 4, TYPE)))


def _strip_words(strip: Strip) -> str:
    rows = (
        f"{row.label}: "
        + ", ".join(
            f"{s.label + ' ' if s.label else ''}{number_text(s.start)} to {number_text(s.end)}"
            + ("" if s.point is None else f", at {number_text(s.point)}")
            for s in row.spans
        )
        for row in strip.rows
    )
    return clean(f"{strip.axis_title}. {'; '.join(rows)}.")
