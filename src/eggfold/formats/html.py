"""Pages as one HTML file that needs nothing else: no script, no link, readable on a phone."""

from __future__ import annotations

import re
import textwrap
from base64 import b64encode
from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from html import escape
from pathlib import Path

from eggfold.errors import NoAnswerError
from eggfold.formats.characters import clean, hold_figures
from eggfold.formats.drawing import DOT as DOT_RADIUS
from eggfold.formats.drawing import TYPE, Box, ChartText, Dot, Drawing, Shape, Stroke, draw
from eggfold.formats.registry import Setting, Written
from eggfold.pages.page import (
    TICK,
    Block,
    Bowl,
    Column,
    Facts,
    Lines,
    Loads,
    Page,
    Plot,
    Scoop,
    Strip,
    Table,
)
from eggfold.reference.paper import DEFAULT_SHEET, LABEL_EDGE_MM, MM, PAPERS, front_pt

MARGIN_MM = 10
UNBROKEN = 20
"""Letters of a word after which it may be broken."""
WIDE = 4
"""Columns from which a table is laid out row by row on a phone."""
LABEL_SIZES_PT = (11.0, 10.0, 9.0, 8.0, 7.0, 6.5, 6.0, 5.5, 5.0)
LABEL_LETTER, LABEL_LINE = 0.54, 1.28
"""Width of a letter and height of a line of a label, as shares of its type, on the large side."""
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
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'{scripts}">
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


@cache
def _script() -> str:
    """Return what keeps the ticks of a card; without it the boxes still tick."""
    return Path(__file__).with_name("ticks.js").read_text("utf-8")


def _has_bowl(pages: tuple[Page, ...]) -> bool:
    return any(isinstance(block, Bowl) for page in pages for block in page.blocks)


def write_pages(pages: tuple[Page, ...], setting: Setting) -> Written:
    """Return one document, each page an article that prints on a sheet of its own."""
    paper = setting.paper or DEFAULT_SHEET
    if setting.grid:
        body = ["<main>\n", *_label_sheets(pages, paper, setting.grid)]
        return Written("".join((_head(pages, paper, 0), *body, FOOT)))
    many = len(pages) > 1
    parts = [_head(pages, paper, MARGIN_MM), *(_contents(pages) if many else ()), "<main>\n"]
    for i, page in enumerate(pages, 1):
        parts += _article(page, f"page-{i}", 2 if many else 1, paper)
    if _has_bowl(pages):
        parts.append(f"<script>{_script()}</script>\n")
    return Written("".join((*parts, FOOT)))


def _head(pages: tuple[Page, ...], paper: str, margin: int) -> str:
    style = Path(__file__).with_name("page.css").read_text("utf-8")
    title = " · ".join(dict.fromkeys(clean(page.title) for page in pages))[:200]
    width, height = PAPERS[paper]
    scripts = ""
    if _has_bowl(pages):
        digest = b64encode(sha256(_script().encode()).digest()).decode()
        scripts = f"; script-src 'sha256-{digest}'"
    return HEAD.format(
        title=escape(title),
        style=style,
        width=width,
        height=height,
        margin=margin,
        scripts=scripts,
    )


def shown(text: str) -> str:
    """Return text as HTML shows it: figures held together, words of no end breakable."""
    text = hold_figures(clean(text))
    if len(text) <= UNBROKEN:
        return escape(text)
    return "<wbr>".join(map(escape, _LONG.split(text)))


def plain(text: str) -> str:
    """Return text as an attribute's value holds it."""
    return escape(hold_figures(clean(text)))


def _block_class(block: int, front: int | None) -> str:
    """Return what the style sheet calls a block: the back of a card begins overleaf."""
    if front is None or block < front:
        return "block"
    return "block back overleaf" if block == front else "block back"


def _contents(pages: tuple[Page, ...]) -> Iterator[str]:
    yield '<h1 class="contents">Contents</h1>\n<nav aria-label="Contents">\n<ul>\n'
    for i, page in enumerate(pages, 1):
        words = f"{shown(page.title)}, {shown(page.aside)}" if page.aside else shown(page.title)
        yield f'<li><a href="#page-{i}">{words}</a></li>\n'
    yield "</ul>\n</nav>\n"


def _article(page: Page, name: str, level: int, paper: str) -> Iterator[str]:
    """Yield a page under its identifier, its title a heading of some level."""
    style = "" if page.front is None else f' style="--type: {front_pt(paper):g}pt"'
    kept = f' data-card="{plain(f"{page.corner} {page.aside}")}"' if page.front else ""
    yield f'<article id="{name}" aria-labelledby="{name}-title"{style}{kept}>\n'
    yield f'<header>\n<h{level} class="title" id="{name}-title">{shown(page.title)}</h{level}>\n'
    yield f'<p class="aside">{shown(page.aside)}</p>\n</header>\n'
    yield from (f'<p class="alert">{shown(alert)}</p>\n' for alert in page.alerts)
    if page.front:
        yield BAR
    for i, block in enumerate(page.blocks):
        yield f'<section class="{_block_class(i, page.front)}">\n'
        yield from _block(block, f"{name}-{i + 1}", level + 1)
        yield "</section>\n"
    if page.corner:
        yield f'<p class="corner">{shown(page.corner)}</p>\n'
    yield "</article>\n"


def _block(block: Block, name: str, level: int) -> Iterator[str]:
    yield f'<h{level} class="heading" id="{name}">{shown(block.heading)}</h{level}>\n'
    if isinstance(block, Table):
        yield from _table(block, name)
    elif isinstance(block, Bowl):
        yield from _bowl(block)
    elif isinstance(block, Facts):
        yield f'<table class="facts" role="table" aria-labelledby="{name}">\n<tbody role="rowgroup">\n'
        for label, value in block.rows:
            head = f'<th role="rowheader" scope="row">{shown(label)}</th>'
            yield f'<tr role="row">{head}<td role="cell">{shown(value)}</td></tr>\n'
        yield "</tbody>\n</table>\n"
    elif isinstance(block, Loads):
        yield from _loads(block)
    elif isinstance(block, Lines):
        yield "<ul>\n"
        yield from (f"<li>{shown(item)}</li>\n" for item in block.items)
        yield "</ul>\n"
    elif isinstance(block, Plot | Strip):
        yield _svg_text(draw(block, DRAWN_PT), clean(block.heading), f"{name}-figure") + "\n"


BAR = """\
<div class="bar" hidden><strong>Bowl <span class="number">1</span></strong> <span class="began"></span>
<button type="button" class="anew">new bowl</button><span class="told" role="status"></span></div>
"""


def _bowl(block: Bowl) -> Iterator[str]:
    """Yield a row to tick for each weight, then the tub with its scoops, and what they add up to."""
    yield f'<p class="trial">{shown(block.trial)}</p>\n<ul class="ticks">\n'
    for row in block.rows:
        how = f'<span class="how">{shown(row.how)} <i>{shown(row.trial)}</i></span>'
        yield f"<li>{_tick(row.amount, shown(row.name))}{how}</li>\n"
    tub = block.tub
    how = f'<span class="how">{shown(tub.how)}</span>'
    yield f"<li>{_tick(tub.whole.text, shown(tub.name))}{how}</li>\n</ul>\n"
    yield '<ul class="tub">\n'
    yield f"<li>{_tick(tub.at_once.text, shown(tub.start), tub.at_once.grams)}</li>\n"
    for scoops, end in (
        (tub.to_expected, f"{tub.expected}, as expected"),
        (tub.to_end, f"{tub.whole.text}, {tub.empty}"),
    ):
        yield f'<li class="scoops">{_scoops(scoops)}<span class="how">{shown(end)}</span></li>\n'
    yield '</ul>\n<p class="sum" hidden>in the bowl <b class="weight">0 g</b></p>\n'
    yield from (f"<p>{shown(remark)}</p>\n" for remark in (tub.stiff, tub.sure) if remark)


def _loads(block: Loads) -> Iterator[str]:
    """Yield each size with its time, then a box for each of its loads."""
    yield '<ul class="tub loads">\n'
    for row in block.rows:
        how = f'<span class="how">{shown(row.loads)}</span>' if row.loads else ""
        time = (
            f'<b class="weight">{shown(row.time)}</b> <span class="name">{shown(row.name)}</span>'
        )
        yield f'<li class="scoops">{time}{how}</li>\n'
        if row.boxes:
            boxes = [_tick("", shown(block.cut)), *[_tick("", "")] * (row.boxes - 1)]
            yield f'<li class="scoops">{" ".join(boxes)}</li>\n'
    yield "</ul>\n"
    if any(row.boxes for row in block.rows):
        yield f"<p>{shown(f'{block.cut[0].upper()}{block.cut[1:]}: {block.until}.')}</p>\n"


def _scoops(scoops: tuple[Scoop, ...]) -> str:
    return " ".join(_tick(f"+{scoop.text}", "", scoop.grams) for scoop in scoops)


def _tick(weight: str, words: str, grams: float | None = None) -> str:
    """Return a box with a weight and what it is of; grams are added up where they go from the tub."""
    adds = "" if grams is None else f' data-g="{grams:g}"'
    text = f' <span class="name">{words}</span>' if words else ""
    heavy = f' <b class="weight">{shown(weight)}</b>' if weight else ""
    return f'<label><input type="checkbox"{adds}>{heavy}{text}</label>'


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


def _svg_text(drawing: Drawing, title: str, name: str) -> str:
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
        (side / count - 2 * LABEL_EDGE_MM) * MM
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
