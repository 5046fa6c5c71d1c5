"""Cells side by side in plain characters, folded where they are wider than their column."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

from eggfold.formats.characters import hold_figures

GAP = 2
"""Spaces between columns."""


def side_by_side(
    cells: tuple[str, ...],
    widths: Iterable[int],
    aligns: Iterable[str] | None = None,
    gap: int = GAP,
) -> Iterator[str]:
    """Yield the lines of cells that stand beside one another, each folded to its width."""
    widths = list(widths)
    aligns = list(aligns) if aligns else ["left"] * len(cells)
    if all(len(cell) <= w for cell, w in zip(cells, widths, strict=True)):
        yield _line(cells, widths, aligns, gap)
        return
    columns = [_cell_lines(cell, w) for cell, w in zip(cells, widths, strict=True)]
    height = max(len(column) for column in columns)
    for i in range(height):
        parts = tuple(column[i] if i < len(column) else "" for column in columns)
        yield _line(parts, widths, aligns, gap)


def _line(cells: tuple[str, ...], widths: list[int], aligns: list[str], gap: int) -> str:
    padded = (
        cell.rjust(w) if align == "right" else cell.ljust(w)
        for cell, w, align in zip(cells, widths, aligns, strict=True)
    )
    return (" " * gap).join(padded).rstrip()


def _cell_lines(text: str, width: int) -> list[str]:
    """Wrap a cell without parting a figure from its unit."""
    if len(text) <= width:
        return [text]
    held = hold_figures(text)
    lines = textwrap.wrap(held, width, break_on_hyphens=False) or [""]
    return [line.replace("\u00a0", " ") for line in lines]


def wrapped(text: str, width: int, indent: str) -> Iterator[str]:
    """Yield a text as lines, those after the first indented, without parting a figure from its unit."""
    if len(text) <= width:
        yield text
        return
    held = hold_figures(text)
    for line in textwrap.wrap(held, width, subsequent_indent=indent, break_on_hyphens=False):
        yield line.replace("\u00a0", " ")
