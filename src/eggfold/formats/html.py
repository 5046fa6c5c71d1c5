"""Pages as one HTML file that needs nothing else: no script, no link, readable on a phone."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Iterator
from html import escape
from pathlib import Path
from typing import Literal, NamedTuple

from eggfold.errors import NoAnswerError
from eggfold.formats.characters import clean, hold_figures
from eggfold.formats.drawing import DOT as DOT_RADIUS
from eggfold.formats.drawing import TYPE, Box, ChartText, Dot, Drawing, Shape, Stroke, draw
from eggfold.formats.plain_text import page_text
from eggfold.formats.registry import Setting, Written
from eggfold.pages.page import TICK, Block, Column, Facts, Lines, Page, Plot, Strip, Table, running
from eggfold.reference.paper import DEFAULT_SHEET, PAPERS

MARGIN_MM = 10
POINTS_PER_MM = 72 / 25.4
SIZES_PT = (11.0, 10.5, 10.0, 9.5, 9.0, 8.5, 8.0, 7.5, 7.0)
LEAST_PT = SIZES_PT[-1]
LARGE_PT = 8.5
"""Type beside which the back is a table."""
BACK, BACK_COLUMNS = 0.86, 2
"""Type of a card's back as a share of the front's, and its columns; as in the style sheet."""
UNEVEN = 1.15
"""How much taller the back is than its text: its columns do not end alike, and a browser folds
short cells before long ones."""
LETTER = 0.52
"""Width of a letter as a share of the type's height, as a page of words has it."""
LINE, ROW, HEADING = 1.27, 0.34, 1.5
"""Heights of a line, and of the air that a row and a heading add, as shares of the type's."""
RULED = set(" -=")
"""What the lines of a text consist of that are air or a rule in print."""
UNBROKEN = 20
"""Letters of a word after which it may be broken."""
WIDE = 4
"""Columns from which a table is laid out row by row on a phone."""
EDGE_MM = 3.5
LABEL_SIZES_PT = (11.0, 10.0, 9.0, 8.0, 7.0, 6.5, 6.0, 5.5, 5.0)
LABEL_LETTER, LABEL_LINE = 0.54, 1.28
"""The same two of a label's text, which is short words and figures."""
LABEL_TITLE = 1.3
BOX = "\u2610"
DRAWN_PT = 260.0
"""A phone's width, so that the letters of a drawing are legible there."""
HEAD = """\
<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="format-detection" content="telephone=no">
<title>{title}</title>
<style>
{style}@page {{ size: {width:g}mm {height:g}mm; margin: {margin}mm; }}
</style>
</head>
<body>
"""


_LONG = re.compile(rf"(?<=[^\s\u00a0]{{{UNBROKEN}}})(?=[^\s\u00a0])")

FOOT = "</main>\n</body>\n</html>\n"


class _Place(NamedTuple):
    """Where an element stands: the page's identifier and the level of its heading."""

    page: str
    level: int


class _Print(NamedTuple):
    """A page's type, the block where its back begins, and where the back stands."""

    size_pt: float | None
    front: int
    back: Literal["below", "running", "overleaf"] = "below"

    def classes(self, block: int) -> str:
        """Return what the style sheet calls a block."""
        if block < self.front:
            return "block"
        if self.back == "running":
            return "block foot"
        return (
            "block back overleaf"
            if (self.back, block) == ("overleaf", self.front)
            else "block back"
        )


def write_pages(pages: tuple[Page, ...], setting: Setting) -> Written:
    """Return one document, each page an article that prints on a sheet of its own."""
    paper = setting.paper or DEFAULT_SHEET
    if setting.grid:
        body = ["<main>\n", *_label_sheets(pages, paper, setting.grid)]
        return Written("".join((_head(pages, paper, 0), *body, FOOT)))
    many = len(pages) > 1
    parts = [_head(pages, paper, MARGIN_MM), *(_contents(pages) if many else ()), "<main>\n"]
    for i, page in enumerate(pages, 1):
        parts += _article(page, _Place(f"page-{i}", 2 if many else 1), PAPERS[paper])
    return Written("".join((*parts, FOOT)))


def _head(pages: tuple[Page, ...], paper: str, margin: int) -> str:
    style = Path(__file__).with_name("page.css").read_text("utf-8")
    title = " · ".join(dict.fromkeys(clean(page.title) for page in pages))[:200]
    width, height = PAPERS[paper]
    return HEAD.format(title=escape(title), style=style, width=width, height=height, margin=margin)


def shown(text: str) -> str:
    """Return text as HTML shows it: figures held together, words of no end breakable."""
    text = hold_figures(clean(text))
    if len(text) <= UNBROKEN:
        return escape(text)
    return "<wbr>".join(map(escape, _LONG.split(text)))


def plain(text: str) -> str:
    """Return text as an attribute's value holds it."""
    return escape(hold_figures(clean(text)))


def print_of(page: Page, paper_mm: tuple[float, float]) -> _Print:
    """Return how a page should print: a card on one sheet, its back overleaf where it must.

    The table of the back is set as such where the type is large all the same.
    """
    if page.front is None:
        return _Print(None, len(page.blocks))
    front = page._replace(blocks=page.blocks[: page.front])
    blocks = page.blocks[page.front :]
    tables, text = Page("", "", blocks), Page("", "", tuple(map(running, blocks)))

    def columns(width: float) -> float:
        return _height(tables, width / BACK_COLUMNS - 1) * UNEVEN / BACK_COLUMNS

    size = _print_size_pt(front, columns, paper_mm)
    if size is not None and size >= LARGE_PT:
        return _Print(size, page.front)
    size = _print_size_pt(front, lambda width: _height(text, width), paper_mm)
    if size is not None:
        return _Print(size, page.front, "running")
    size = _print_size_pt(front, None, paper_mm)
    return _Print(size or LEAST_PT, page.front, "overleaf")


def _print_size_pt(
    front: Page, back: Callable[[float], float] | None, paper_mm: tuple[float, float]
) -> float | None:
    """Return the largest type in which a card should print on one sheet, or None.

    ``back`` tells how high the back is for a width, both as shares of its own type's height.
    """
    width, height = ((side - 2 * MARGIN_MM) * POINTS_PER_MM for side in paper_mm)
    if sum(map(_rows, front.blocks)) * LINE * LEAST_PT > height:
        return None
    for size in SIZES_PT:
        used = _height(front, width / size) * size
        if back and used <= height:
            used += (back(width / (size * BACK)) + HEADING) * size * BACK
        if used <= height:
            return size
    return None


def _height(page: Page, width: float) -> float:
    """Return about how high a page is as shares of the type's height, as its width is."""
    printed = page_text(page, int(width / LETTER)).splitlines()
    lines = sum(bool(set(line) - RULED) for line in printed)
    air = sum(HEADING + ROW * _rows(block) for block in page.blocks)
    return lines * LINE + air


def _rows(block: Block) -> int:
    return len(block.rows) + 1 if isinstance(block, Table | Facts) else 0


def _contents(pages: tuple[Page, ...]) -> Iterator[str]:
    yield '<h1 class="contents">Contents</h1>\n<nav aria-label="Contents">\n<ul>\n'
    for i, page in enumerate(pages, 1):
        words = f"{shown(page.title)}, {shown(page.aside)}" if page.aside else shown(page.title)
        yield f'<li><a href="#page-{i}">{words}</a></li>\n'
    yield "</ul>\n</nav>\n"


def _article(page: Page, place: _Place, paper_mm: tuple[float, float]) -> Iterator[str]:
    level, name = place.level, place.page
    printed = print_of(page, paper_mm)
    style = f' style="--type: {printed.size_pt:g}pt"' if printed.size_pt else ""
    yield f'<article id="{name}" aria-labelledby="{name}-title"{style}>\n'
    yield f'<header>\n<h{level} class="title" id="{name}-title">{shown(page.title)}</h{level}>\n'
    yield f'<p class="aside">{shown(page.aside)}</p>\n</header>\n'
    yield from (f'<p class="alert">{shown(alert)}</p>\n' for alert in page.alerts)
    for i, block in enumerate(page.blocks):
        yield f'<section class="{printed.classes(i)}">\n'
        yield from _block(block, f"{name}-{i + 1}", level + 1)
        yield "</section>\n"
    if page.corner:
        yield f'<p class="corner">{shown(page.corner)}</p>\n'
    yield "</article>\n"


def _block(block: Block, name: str, level: int) -> Iterator[str]:
    yield f'<h{level} class="heading" id="{name}">{shown(block.heading)}</h{level}>\n'
    if isinstance(block, Table):
        yield from _table(block, name)
    elif isinstance(block, Facts):
        yield f'<table class="facts" role="table" aria-labelledby="{name}">\n<tbody role="rowgroup">\n'
        for label, value in block.rows:
            head = f'<th role="rowheader" scope="row">{shown(label)}</th>'
            yield f'<tr role="row">{head}<td role="cell">{shown(value)}</td></tr>\n'
        yield "</tbody>\n</table>\n"
    elif isinstance(block, Lines):
        yield "<ul>\n"
        yield from (f"<li>{shown(item)}</li>\n" for item in block.items)
        yield "</ul>\n"
    elif isinstance(block, Plot | Strip):
        yield svg_text(draw(block, DRAWN_PT), clean(block.heading), f"{name}-figure") + "\n"


def _table(table: Table, name: str) -> Iterator[str]:
    # the roles keep it a table for a screen reader where the phone's layout is rows of blocks
    wide = ' class="wide"' if len(table.columns) >= WIDE else ""
    yield f'<table{wide} role="table" aria-labelledby="{name}">\n<thead role="rowgroup">\n<tr role="row">'
    for column in table.columns:
        yield f'<th role="columnheader" scope="col"{_side(column)}>{shown(column.title)}</th>'
    yield '</tr>\n</thead>\n<tbody role="rowgroup">\n'
    for row in table.rows:
        name_at = next((i for i, cell in enumerate(row) if cell != TICK), 0)
        yield '<tr role="row">'
        for i, (cell, column) in enumerate(zip(row, table.columns, strict=True)):
            if i == name_at:
                yield f'<th role="rowheader" scope="row"{_side(column)}>{shown(cell)}</th>'
            elif cell == TICK:
                yield f'<td role="cell" class="tick" data-head="{plain(column.title)}">{BOX}</td>'
            else:
                head = f' data-head="{plain(column.title)}"'
                yield f'<td role="cell"{_side(column)}{head}>{shown(cell)}</td>'
        yield "</tr>\n"
    yield "</tbody>\n</table>\n"


def _side(column: Column) -> str:
    return ' class="right"' if column.align == "right" else ""


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


def _label_sheets(pages: tuple[Page, ...], paper: str, grid: tuple[int, int]) -> Iterator[str]:
    """Yield the sheets; raises NoAnswerError where the labels are too small."""
    columns, rows = grid
    size = _label_size_pt(pages, paper, grid)
    width, height = PAPERS[paper]
    style = f"--columns: {columns}; --rows: {rows}; --type: {size:g}pt; --wide: {width:g}mm; --high: {height:g}mm"
    yield '<h1 class="contents">Labels</h1>\n'
    for start in range(0, len(pages), columns * rows):
        yield f'<div class="labels" style="{style}">\n'
        for i, page in enumerate(pages[start : start + columns * rows], start + 1):
            yield from _label(page, f"label-{i}")
        yield "</div>\n"


def _label(page: Page, name: str) -> Iterator[str]:
    yield f'<article class="label" aria-labelledby="{name}">\n'
    yield f'<h2 id="{name}">{shown(page.title)}</h2>\n<p class="aside">{shown(page.aside)}</p>\n'
    for block in page.blocks:
        yield f'<p class="notice">{shown(block.heading)}</p>\n'
        if isinstance(block, Facts):
            facts = (f"<div><dt>{shown(k)}</dt> <dd>{shown(v)}</dd></div>" for k, v in block.rows)
            yield f"<dl>{' '.join(facts)}</dl>\n"
    yield "</article>\n"


def _label_size_pt(pages: tuple[Page, ...], paper: str, grid: tuple[int, int]) -> float:
    """Return the largest type in which all labels should fit."""
    width, height = (
        (side / count - 2 * EDGE_MM) * POINTS_PER_MM
        for side, count in zip(PAPERS[paper], grid, strict=True)
    )
    for size in LABEL_SIZES_PT:
        letters = int(width / (size * LABEL_LETTER))
        if letters > 8 and all(
            _label_lines(p, letters) * LABEL_LINE * size <= height for p in pages
        ):
            return size
    raise NoAnswerError(
        f"labels {grid[0]} by {grid[1]} on {paper.upper()} are too small for their text; "
        "choose a coarser --grid"
    )


def _label_lines(page: Page, letters: int) -> float:
    title = len(textwrap.wrap(page.title, max(8, int(letters / LABEL_TITLE)))) * LABEL_TITLE
    rows = [f"{k} {v}" for block in page.blocks if isinstance(block, Facts) for k, v in block.rows]
    return title + 2.2 + len(textwrap.wrap("   ".join(rows), letters))
