"""A table in plain characters, fitted to a width."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from eggfold.formats.characters import clean, hold_figures
from eggfold.formats.columns import GAP, side_by_side
from eggfold.pages.page import Column, Table

TIGHT = 1
"""Spaces between columns where there is no room for more."""
NARROWEST = 10
"""The narrowest a column of words becomes."""
LONGEST_FIGURE = 16
"""A figure with its unit that is longer may be folded."""


def table_lines(block: Table, width: int) -> Iterator[str]:
    """Yield the lines of a table; columns that do not fit go into a second table below."""
    rows = [tuple(clean(c) for c in row) for row in block.rows]
    widths, gap = _column_widths(block.columns, rows, width)
    parts = list(_parts(block.columns, rows, widths, width))
    if len(parts) == 1:
        yield from _grid(block.columns, rows, widths, gap)
        return
    for i, part in enumerate(parts):
        if i:
            yield ""
        columns = tuple(block.columns[c] for c in part)
        cells = [tuple(row[c] for c in part) for row in rows]
        yield from _grid(columns, cells, *_column_widths(columns, cells, width))


def _grid(
    columns: tuple[Column, ...], rows: list[tuple[str, ...]], widths: list[int], gap: int
) -> Iterator[str]:
    aligns = [column.align for column in columns]
    yield from side_by_side(tuple(column.title for column in columns), widths, aligns, gap)
    yield "-" * _across(widths, gap)
    for row in rows:
        yield from side_by_side(row, widths, aligns, gap)


def _across(widths: list[int], gap: int) -> int:
    return sum(widths) + gap * (len(widths) - 1)


def _parts(
    columns: tuple[Column, ...], rows: list[tuple[str, ...]], widths: list[int], width: int
) -> Iterator[list[int]]:
    """Deal the columns that do not fit over several tables, each led by the names of the rows."""
    heads = list(range(next((i for i, c in enumerate(columns) if c.align == "right"), 0)))
    part = list(heads)
    for i in range(len(heads), len(columns)):
        if part[-1:] != heads[-1:] and _across([widths[c] for c in (*part, i)], TIGHT) > width:
            yield part
            heads = [c for c in heads if any(map(str.isalnum, "".join(row[c] for row in rows)))]
            part = list(heads)
        part.append(i)
    yield part


def _column_widths(
    columns: tuple[Column, ...], rows: list[tuple[str, ...]], width: int
) -> tuple[list[int], int]:
    """Return a width for each column, and the gap between them.

    Headings fold first, then words, then the gap tightens; figures keep their width.
    """
    body = [max([len(row[i]) for row in rows], default=0) for i in range(len(columns))]
    folded = [max(map(len, hold_figures(c.title).split(" "))) for c in columns]
    least = [max(*pair, 1) for pair in zip(body, folded, strict=True)]
    widths = [max(w, len(c.title)) for w, c in zip(least, columns, strict=True)]
    gaps = len(columns) - 1
    _narrow(widths, least, width - GAP * gaps)
    if _across(widths, GAP) <= width:
        return widths, GAP
    words = [
        min(w, max(NARROWEST, _longest_figure(row[i] for row in rows))) if c.align == "left" else w
        for i, (w, c) in enumerate(zip(least, columns, strict=True))
    ]
    _narrow(widths, words, width - GAP * gaps)
    if _across(widths, GAP) <= width:
        return widths, GAP
    _narrow(widths, words, width - TIGHT * gaps)
    return widths, TIGHT


def _longest_figure(cells: Iterable[str]) -> int:
    """Return the width of the longest figure with its unit; what is longer is no figure."""
    held = (word for cell in cells for word in hold_figures(cell).split(" "))
    return max((len(w) for w in held if "\u00a0" in w and len(w) <= LONGEST_FIGURE), default=0)


def _narrow(widths: list[int], least: list[int], room: int) -> None:
    """Take from the widest column that can give until all fit, or none can give more."""
    while sum(widths) > room:
        giving = [i for i, w in enumerate(widths) if w > least[i]]
        if not giving:
            return
        widths[max(giving, key=lambda i: widths[i] - least[i])] -= 1
