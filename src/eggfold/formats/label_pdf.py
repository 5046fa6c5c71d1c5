"""Labels on sheets of paper: the whole sheet divided evenly, as sticker sheets are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from eggfold.errors import NoAnswerError
from eggfold.formats.pdf_blocks import (
    DESCENT,
    LEADING,
    Band,
    BlockFrame,
    Rule,
    Words,
    block_bands,
    title_bands,
    wrap,
)
from eggfold.formats.sheets import MARGIN, MM, PlacedBlock, Sheet
from eggfold.formats.typeface import Typeface
from eggfold.pages.page import Facts, Page
from eggfold.reference.papers import PAPERS

EDGE = 3.5 * MM
"""What stays free along a label's edges: printers pull a sheet in a little askew."""
ROW_SIZES = (12.0, 11.0, 10.0, 9.0, 8.0, 7.0)
"""Types in which each fact has a row of its own [pt]."""
RUN_SIZES = (8.0, 7.0, 6.5, 6.0, 5.5, 5.0)
"""Types in which the facts of a small label run on [pt]."""

Cell = tuple[float, float]


def lay_out_labels(
    pages: tuple[Page, ...], face: Typeface, paper: str, grid: tuple[int, int]
) -> tuple[str, list[Sheet]]:
    """Return the paper and its sheets, all labels in one type; NoAnswerError where none fits."""
    cell = _cell(paper, grid)
    labels = _labels(pages, face, cell)
    if labels is None:
        raise NoAnswerError(_sentence(pages, face, paper, grid))
    size, bands = labels
    in_all = grid[0] * grid[1]
    sheets = []
    for start in range(0, len(pages), in_all):
        placed = _placed(bands[start : start + in_all], size, grid[0], cell)
        sheets.append(Sheet(start, tuple(placed), footed=False))
    return paper, sheets


def _cell(paper: str, grid: tuple[int, int]) -> Cell:
    width, height = PAPERS[paper]
    return width * MM / grid[0], height * MM / grid[1]


def _labels(
    pages: tuple[Page, ...], face: Typeface, cell: Cell
) -> tuple[float, list[list[Band]]] | None:
    """Return the largest type that all labels fit in, and their bands."""
    width, height = (side - 2 * EDGE for side in cell)
    ways = [(size, False) for size in ROW_SIZES] + [(size, True) for size in RUN_SIZES]
    for size, run_on in ways:
        if width / size < 1:
            continue
        frame = BlockFrame(face, width / size)
        labels = [list(_label(page, frame, run_on=run_on)) for page in pages]
        if all(sum(band.height for band in bands) * size <= height for bands in labels):
            return size, labels
    return None


def _label(page: Page, frame: BlockFrame, *, run_on: bool) -> Iterator[Band]:
    yield from title_bands(page, frame)
    for block in page.blocks:
        if run_on and isinstance(block, Facts):
            yield _lines_band(frame, block.heading, bold=True)
            facts = (f"{label}: {value}" for label, value in block.rows)
            yield _lines_band(frame, " · ".join(facts))
        else:
            yield from block_bands(block, frame)


def _lines_band(frame: BlockFrame, text: str, *, bold: bool = False) -> Band:
    lines = wrap(frame.face.legible(text), frame.width, bold=bold)
    words = (Words(0, 1 + i * LEADING, line, bold=bold) for i, line in enumerate(lines))
    return Band(len(lines) * LEADING + DESCENT / 2, tuple(words))


def _placed(
    labels: Iterable[list[Band]], size: float, columns: int, cell: Cell
) -> Iterator[PlacedBlock]:
    width, height = cell
    for i, bands in enumerate(labels):
        x, y = (i % columns) * width - MARGIN, (i // columns) * height - MARGIN
        yield PlacedBlock(y, 1.0, Band(0.0, rules=(Rule(0, width, 0, 0.25, height),)), x)
        y += EDGE
        for band in bands:
            yield PlacedBlock(y, size, band._replace(mark=""), x + EDGE)
            y += band.height * size


def _sentence(pages: tuple[Page, ...], face: Typeface, paper: str, grid: tuple[int, int]) -> str:
    """Return how small the labels are, and the most that fit."""
    width, height = (side / MM for side in _cell(paper, grid))
    small = (
        f"labels of {width:.0f} × {height:.0f} mm on {paper.upper()} are too small for their text"
    )
    for columns in range(grid[0], 0, -1):
        for rows in range(grid[1], 0, -1):
            if _labels(pages, face, _cell(paper, (columns, rows))):
                return f"{small}; --grid {columns}x{rows} fits"
    return f"{small}; no grid on this paper fits"
