"""Blocks as records of cells, for the formats that have nothing to draw with."""

from __future__ import annotations

from collections.abc import Iterator

from eggfold.pages.figures import number_text
from eggfold.pages.page import Block, Facts, Lines, Plot, Strip, Table

Record = tuple[str, ...]


def block_records(block: Block) -> Iterator[Record]:
    """Yield a block's cells, headings first."""
    if isinstance(block, Table):
        yield tuple(column.title for column in block.columns)
        yield from block.rows
    elif isinstance(block, Facts):
        yield from block.rows
    elif isinstance(block, Lines):
        yield from ((item,) for item in block.items)
    elif isinstance(block, Plot):
        yield from plot_records(block)
    elif isinstance(block, Strip):
        yield from strip_records(block)


def plot_records(plot: Plot) -> Iterator[Record]:
    """Yield a curve's points, then its named points."""
    yield plot.x_title, plot.y_title, "point"
    for x, y in plot.points:
        yield number_text(x, 6), number_text(y, 6), ""
    for x, y, name in plot.marks:
        yield number_text(x, 6), number_text(y, 6), name


def strip_records(strip: Strip) -> Iterator[Record]:
    """Yield a strip's spans, one after the other."""
    yield "row", f"from, {strip.axis_title}", "to", "point", "label"
    for row in strip.rows:
        for span in row.spans:
            point = "" if span.point is None else number_text(span.point, 6)
            yield row.label, number_text(span.start, 6), number_text(span.end, 6), point, span.label
