"""A page as plain text of a given width."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator

from eggfold.formats.plot import plot_lines
from eggfold.pages.page import Column, Facts, Lines, Page, Plot, Table

GAP = 2
NARROWEST = 10
_UNITS = "g|kg|ml|l|mm|s|°C|K|degC|g/ml|g/g|egg|eggs|dry"
_FIGURE = re.compile(rf"(?<=[0-9±×]) (?=(?:{_UNITS})\b|%|[0-9])|(?<=kg) (?=dry)")
UNSAFE = re.compile(
    "[\x00-\x1f\x7f-\x9f\u2028\u2029\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff]"
)


def clean(text: str) -> str:
    """Return text with control, line-separator and bidirectional characters shown as U+FFFD."""
    return UNSAFE.sub("\ufffd", text) if not text.isascii() or not text.isprintable() else text


def page_text(page: Page, width: int = 80) -> str:
    """Return a page as lines of at most ``width`` characters."""
    return "\n".join(_page_lines(page, width)) + "\n"


def _page_lines(page: Page, width: int) -> Iterator[str]:
    for alert in page.alerts:
        yield from _wrapped(f"!! {clean(alert)}", width, "   ")
    title, aside = clean(page.title), clean(page.aside)
    room = width - len(aside) - GAP
    if len(title) <= room:
        yield f"{title}{' ' * (width - len(title) - len(aside))}{aside}"
    else:
        yield from _wrapped(title, width, "")
        yield aside.rjust(width)
    yield "=" * width
    for block in page.blocks:
        yield ""
        yield from _wrapped(block.heading, width, "  ")
        if isinstance(block, Table):
            yield from _table(block, width)
        elif isinstance(block, Facts):
            yield from _facts(block, width)
        elif isinstance(block, Lines):
            yield from _lines(block, width)
        elif isinstance(block, Plot):
            yield from map(clean, plot_lines(block, width))


def _lines(block: Lines, width: int) -> Iterator[str]:
    for item in block.items:
        yield from _wrapped(f"- {clean(item)}", width, "  ")


def _facts(block: Facts, width: int) -> Iterator[str]:
    label_width = min(max(len(clean(label)) for label, _ in block.rows), width // 3)
    for label, value in block.rows:
        yield from _side_by_side(
            (clean(label), clean(value)), (label_width, width - label_width - GAP)
        )


def _table(block: Table, width: int) -> Iterator[str]:
    cells = [tuple(clean(c) for c in row) for row in block.rows]
    widths = _column_widths(block.columns, cells, width)
    aligns = [column.align for column in block.columns]
    titles = tuple(column.title for column in block.columns)
    yield from _side_by_side(titles, widths, aligns)
    yield "-" * (sum(widths) + GAP * (len(widths) - 1))
    for row in cells:
        yield from _side_by_side(row, widths, aligns)


def _column_widths(
    columns: tuple[Column, ...], rows: list[tuple[str, ...]], width: int
) -> list[int]:
    """Return a width for each column: headings fold first, then words; figures keep theirs."""
    body = [max([len(row[i]) for row in rows], default=0) for i in range(len(columns))]
    folded = [max(map(len, _FIGURE.sub("\u00a0", c.title).split(" "))) for c in columns]
    least = [max(*pair, 1) for pair in zip(body, folded, strict=True)]
    widths = [max(w, len(c.title)) for w, c in zip(least, columns, strict=True)]
    room = width - GAP * (len(columns) - 1)
    _narrow(widths, least, room)
    words = [
        min(w, NARROWEST) if c.align == "left" else w for w, c in zip(least, columns, strict=True)
    ]
    _narrow(widths, words, room)
    return widths


def _narrow(widths: list[int], least: list[int], room: int) -> None:
    """Take from the widest column that can give until all fit, or none can give more."""
    while sum(widths) > room:
        giving = [i for i, w in enumerate(widths) if w > least[i]]
        if not giving:
            return
        widths[max(giving, key=lambda i: widths[i] - least[i])] -= 1


def _side_by_side(
    cells: tuple[str, ...], widths: Iterable[int], aligns: Iterable[str] | None = None
) -> Iterator[str]:
    widths = list(widths)
    aligns = list(aligns) if aligns else ["left"] * len(cells)
    if all(len(cell) <= w for cell, w in zip(cells, widths, strict=True)):
        yield _line(cells, widths, aligns)
        return
    columns = [_cell_lines(cell, w) for cell, w in zip(cells, widths, strict=True)]
    height = max(len(column) for column in columns)
    for i in range(height):
        parts = tuple(column[i] if i < len(column) else "" for column in columns)
        yield _line(parts, widths, aligns)


def _line(cells: tuple[str, ...], widths: list[int], aligns: list[str]) -> str:
    padded = (
        cell.rjust(w) if align == "right" else cell.ljust(w)
        for cell, w, align in zip(cells, widths, aligns, strict=True)
    )
    return (" " * GAP).join(padded).rstrip()


def _cell_lines(text: str, width: int) -> list[str]:
    """Wrap a cell without parting a figure from its unit."""
    if len(text) <= width:
        return [text]
    held = _FIGURE.sub("\u00a0", text)
    lines = textwrap.wrap(held, width, break_on_hyphens=False) or [""]
    return [line.replace("\u00a0", " ") for line in lines]


def _wrapped(text: str, width: int, indent: str) -> Iterator[str]:
    if len(text) <= width:
        yield text
        return
    held = _FIGURE.sub("\u00a0", text)
    for line in textwrap.wrap(held, width, subsequent_indent=indent, break_on_hyphens=False):
        yield line.replace("\u00a0", " ")
