"""Labels in HTML: a grid that prints on the whole sheet, a list on a phone."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator

from eggfold.errors import NoAnswerError
from eggfold.pages.page import Facts, Page
from eggfold.reference.papers import PAPERS

EDGE_MM = 3.5
POINTS_PER_MM = 72 / 25.4
SIZES_PT = (11.0, 10.0, 9.0, 8.0, 7.0, 6.5, 6.0, 5.5, 5.0)
LETTER, LINE = 0.54, 1.28
"""Width of a letter and height of a line as shares of the type's height."""
TITLE = 1.3

Shown = Callable[[str], str]


def sheets_html(
    pages: tuple[Page, ...], paper: str, grid: tuple[int, int], shown: Shown
) -> Iterator[str]:
    """Yield the sheets; ``shown`` escapes. Raises NoAnswerError where the labels are too small."""
    columns, rows = grid
    size = _size_pt(pages, paper, grid)
    width, height = PAPERS[paper]
    style = f"--columns: {columns}; --rows: {rows}; --type: {size:g}pt; --wide: {width:g}mm; --high: {height:g}mm"
    yield '<h1 class="contents">Labels</h1>\n'
    for start in range(0, len(pages), columns * rows):
        yield f'<div class="labels" style="{style}">\n'
        for i, page in enumerate(pages[start : start + columns * rows], start + 1):
            yield from _label(page, f"label-{i}", shown)
        yield "</div>\n"


def _label(page: Page, name: str, shown: Shown) -> Iterator[str]:
    yield f'<article class="label" aria-labelledby="{name}">\n'
    yield f'<h2 id="{name}">{shown(page.title)}</h2>\n<p class="aside">{shown(page.aside)}</p>\n'
    for block in page.blocks:
        yield f'<p class="notice">{shown(block.heading)}</p>\n'
        if isinstance(block, Facts):
            facts = (f"<div><dt>{shown(k)}</dt> <dd>{shown(v)}</dd></div>" for k, v in block.rows)
            yield f"<dl>{' '.join(facts)}</dl>\n"
    yield "</article>\n"


def _size_pt(pages: tuple[Page, ...], paper: str, grid: tuple[int, int]) -> float:
    """Return the largest type in which all labels should fit."""
    width, height = (
        (side / count - 2 * EDGE_MM) * POINTS_PER_MM
        for side, count in zip(PAPERS[paper], grid, strict=True)
    )
    for size in SIZES_PT:
        letters = int(width / (size * LETTER))
        if letters > 8 and all(_lines(p, letters) * LINE * size <= height for p in pages):
            return size
    raise NoAnswerError(
        f"labels {grid[0]} by {grid[1]} on {paper.upper()} are too small for their text; "
        "choose a coarser --grid"
    )


def _lines(page: Page, letters: int) -> float:
    title = len(textwrap.wrap(page.title, max(8, int(letters / TITLE)))) * TITLE
    rows = [f"{k} {v}" for block in page.blocks if isinstance(block, Facts) for k, v in block.rows]
    return title + 2.2 + len(textwrap.wrap("   ".join(rows), letters))
