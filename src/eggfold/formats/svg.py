"""Drawings as SVG inside a page, told in words to whoever cannot see them."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from eggfold.formats.drawing import DOT as DOT_RADIUS
from eggfold.formats.drawing import TYPE, Box, ChartText, Dot, Drawing, Shape, Stroke


def svg_text(drawing: Drawing, title: str, name: str) -> str:
    """Return a drawing; ``name`` makes its identifiers its own on the page."""
    shapes = "".join(_shape_text(shape) for shape in drawing.shapes)
    return (
        f'<svg viewBox="0 0 {drawing.width:g} {drawing.height:g}" role="img" '
        f'aria-labelledby="{name}-title {name}-words">'
        f'<title id="{name}-title">{escape(title)}</title>'
        f'<desc id="{name}-words">{escape(drawing.words)}</desc>{shapes}</svg>'
    )


def _shape_text(shape: Shape) -> str:
    match shape:
        case Stroke(points, weight, dashed):
            dashes = ' stroke-dasharray="2 2"' if dashed else ""
            places = " ".join(_pairs(points))
            return f'<polyline points="{places}" stroke-width="{weight:g}"{dashes}/>'
        case Dot(x, y):
            return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{DOT_RADIUS:g}"/>'
        case Box(x, y, width, height):
            return f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}"/>'
        case ChartText(x, y, text, anchor, clear):
            halo = ' class="clear"' if clear else ""
            return (
                f'<text{halo} x="{x:.1f}" y="{y:.1f}" font-size="{TYPE:g}" '
                f'text-anchor="{anchor}">{escape(text)}</text>'
            )


def _pairs(points: tuple[tuple[float, float], ...]) -> Iterator[str]:
    return (f"{x:.1f},{y:.1f}" for x, y in points)
