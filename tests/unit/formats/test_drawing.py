"""Drawings: names of marked places that leave curve, dots and other names to be seen."""

from __future__ import annotations

from itertools import pairwise

import pytest

from eggfold.formats.drawing import TYPE, ChartText, Dot, Stroke, draw, rough_width
from eggfold.pages.page import Plot

FALLING = Plot(
    "H",
    "skin, mm",
    "lift, g",
    tuple((x / 10, 0.2 - x / 100) for x in range(41)),
    ((2.0, 0.0, "2 mm: +0.00 g"), (2.35, -0.035, "neutral at 2.35 mm")),
)
STEPS = Plot(
    "H",
    "days",
    "litres",
    ((0.0, 15.0), (2.0, 0.0), (21.0, 22.0), (42.0, 29.0), (44.0, 12.0), (80.0, 0.0)),
    ((2.0, 15.0, "first"), (44.0, 29.0, "Reed arm"), (80.0, 12.0, "Long bank")),
    stepped=True,
)


def area(label: ChartText) -> tuple[float, float, float, float]:
    left = label.x - (rough_width(label.text) if label.anchor == "end" else 0)
    return left, label.y - TYPE * 0.75, left + rough_width(label.text), label.y


@pytest.mark.parametrize("plot", [FALLING, STEPS], ids=["curve", "steps"])
@pytest.mark.parametrize("width", [260.0, 550.0])
def test_names_hide_nothing(plot: Plot, width: float) -> None:
    shapes = draw(plot, width).shapes
    names = [area(s) for s in shapes if isinstance(s, ChartText) and s.clear]
    assert len(names) == len(plot.marks)
    curve = next(s for s in shapes if isinstance(s, Stroke) and s.weight > 1)
    along = [
        (x0 + (x1 - x0) * i / 50, y0 + (y1 - y0) * i / 50)
        for (x0, y0), (x1, y1) in pairwise(curve.points)
        for i in range(51)
    ]
    seen = along + [(s.x, s.y) for s in shapes if isinstance(s, Dot)]
    for left, top, right, bottom in names:
        assert not [(x, y) for x, y in seen if left < x < right and top < y < bottom]
    for i, (left, top, right, bottom) in enumerate(names):
        for other in names[:i]:
            assert left >= other[2] or other[0] >= right or top >= other[3] or other[1] >= bottom
