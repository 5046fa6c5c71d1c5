"""Bands laid onto sheets of paper: which type, which paper, what stands on which sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from eggfold.errors import NoAnswerError
from eggfold.formats.bands import (
    Band,
    Frame,
    NarrowError,
    block_bands,
    continued_band,
    title_bands,
)
from eggfold.formats.typeface import Typeface
from eggfold.nearest import one_of
from eggfold.pages.page import Page
from eggfold.reference.papers import DEFAULT_CARD, DEFAULT_SHEET, PAPERS

MM = 72 / 25.4
MARGIN = 9 * MM
FOOTER = 5 * MM
CARD_SIZES = tuple(size / 4 for size in range(28, 57))
"""Types of what must stand on one sheet [pt], from the least that is legible at arm's length."""
FLOW_SIZES = (12.0, 11.0, 10.0, 9.0, 8.0, 7.5, 7.0)
"""Types of what flows on [pt]: the fewest sheets, then the largest type."""
BACK_SIZES = FLOW_SIZES[4:]


class Placed(NamedTuple):
    """A band on a sheet: its top below the sheet's frame, and the size of its type [pt]."""

    y: float
    size: float
    band: Band


class Sheet(NamedTuple):
    """One side of paper."""

    page: int
    bands: tuple[Placed, ...]


class Area(NamedTuple):
    """The room inside the margins [pt]."""

    width: float
    height: float


def area_of(paper: str) -> Area:
    """Return the room that a paper leaves."""
    width, height = PAPERS[paper]
    return Area(width * MM - 2 * MARGIN, height * MM - 2 * MARGIN - FOOTER)


def choose_paper(pages: tuple[Page, ...], face: Typeface, asked: str | None) -> str:
    """Return the paper: the one asked for, else the smallest of the usual ones that fits.

    Raises NoAnswerError where another paper would fit and the one asked for does not.
    """
    if asked is not None:
        small = next((page for page in pages if not _fits(page, face, asked)), None)
        if small is not None and (better := _fitting(small, face)):
            raise NoAnswerError(f"{small.title}: {asked} is too small; it fits on {one_of(better)}")
        return asked
    cards = any(page.front is not None for page in pages)
    usual = (DEFAULT_CARD, DEFAULT_SHEET) if cards else (DEFAULT_SHEET,)
    fit = (paper for paper in usual if all(_fits(page, face, paper) for page in pages))
    return next(fit, usual[-1])


def lay_out(pages: tuple[Page, ...], face: Typeface, paper: str) -> list[Sheet]:
    """Return the sheets of a document; raises NoAnswerError where a table is too wide for it."""
    area = area_of(paper)
    sheets: list[Sheet] = []
    for number, page in enumerate(pages):
        try:
            sheets += [Sheet(number, bands) for bands in _sheets_of(page, face, area)]
        except NarrowError as error:
            better = _fitting(page, face)
            words = f"it fits on {one_of(better)}" if better else "choose fewer columns"
            raise NoAnswerError(f"{page.title}: too wide for {paper}; {words}") from error
    return sheets


def _fitting(page: Page, face: Typeface) -> list[str]:
    return [paper for paper in PAPERS if _fits(page, face, paper)]


def _fits(page: Page, face: Typeface, paper: str) -> bool:
    area = area_of(paper)
    if page.front is not None:
        return _card_size(page, face, area) is not None
    try:
        _flow(page, len(page.blocks), face, area, FLOW_SIZES[-1])
    except NarrowError:
        return False
    return True


def _card_size(page: Page, face: Typeface, area: Area) -> float | None:
    """Return the largest type in which the front stands on one sheet."""
    low, high = 0, len(CARD_SIZES)
    while low < high:
        middle = (low + high) // 2
        if _front_height(page, face, area, CARD_SIZES[middle]) <= area.height:
            low = middle + 1
        else:
            high = middle
    return CARD_SIZES[low - 1] if low else None


def _front_height(page: Page, face: Typeface, area: Area, size: float) -> float:
    try:
        bands = _bands(page, slice(0, page.front), Frame(face, area.width / size))
        return sum(band.height for band in bands) * size
    except NarrowError:
        return float("inf")


def _bands(page: Page, part: slice, frame: Frame) -> Iterator[Band]:
    if not part.start:
        yield from title_bands(page, frame)
    for block in page.blocks[part]:
        yield from block_bands(block, frame)


def _sheets_of(page: Page, face: Typeface, area: Area) -> Iterator[tuple[Placed, ...]]:
    size = _card_size(page, face, area) if page.front is not None else None
    if size is None:
        yield from _flowing(page, face, area)
        return
    front = list(_bands(page, slice(0, page.front), Frame(face, area.width / size)))
    placed = list(_stacked(front, size, 0.0))
    foot = sum(band.height for band in front) * size
    back_size, back = _back(page, face, area, min(size, BACK_SIZES[0]))
    if foot + sum(band.height for band in back) * back_size <= area.height:
        yield (*placed, *_stacked(back, back_size, foot))
        return
    yield tuple(placed)
    top = continued_band(page, Frame(face, area.width / back_size))
    yield from _paginate(back, top, back_size, area.height)


def _back(page: Page, face: Typeface, area: Area, most: float) -> tuple[float, list[Band]]:
    for size in BACK_SIZES:
        if size <= most:
            try:
                frame = Frame(face, area.width / size)
                return size, list(_bands(page, slice(page.front, None), frame))
            except NarrowError:
                continue
    raise NarrowError


def _flowing(page: Page, face: Typeface, area: Area) -> list[tuple[Placed, ...]]:
    """Return the sheets of a page that flows: as few as can be, then as large as can be."""
    best: list[tuple[Placed, ...]] | None = None
    for size in FLOW_SIZES:
        try:
            sheets = _flow(page, len(page.blocks), face, area, size)
        except NarrowError:
            continue
        if best is None or len(sheets) < len(best):
            best = sheets
        if len(best) == 1:
            break
    if best is None:
        raise NarrowError
    return best


def _flow(
    page: Page, blocks: int, face: Typeface, area: Area, size: float
) -> list[tuple[Placed, ...]]:
    frame = Frame(face, area.width / size)
    bands = list(_bands(page, slice(0, blocks), frame))
    return list(_paginate(bands, None, size, area.height, continued_band(page, frame)))


def _stacked(bands: Iterable[Band], size: float, y: float) -> Iterator[Placed]:
    for band in bands:
        yield Placed(y, size, band)
        y += band.height * size


def _paginate(
    bands: list[Band],
    top: Band | None,
    size: float,
    height: float,
    later: Band | None = None,
) -> Iterator[tuple[Placed, ...]]:
    """Yield sheets of bands; glued ones stay together, and a table's head is repeated."""
    later = later or top
    sheet = [top] if top else []
    begun = len(sheet)
    for group in _groups(bands):
        used = sum(band.height for band in sheet)
        needed = sum(band.height for band in group)
        if len(sheet) > begun and (used + needed) * size > height:
            yield tuple(_stacked(sheet, size, 0.0))
            sheet = [*([later] if later else []), *group[0].head]
            begun = len(sheet)
        sheet += group
    if len(sheet) > begun or not bands:
        yield tuple(_stacked(sheet, size, 0.0))


def _groups(bands: Iterable[Band]) -> Iterator[list[Band]]:
    group: list[Band] = []
    for band in bands:
        group.append(band)
        if not band.glued:
            yield group
            group = []
    if group:
        yield group
