"""A page as text of a given width, bold where that is wanted, plain otherwise."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Iterable, Iterator

from eggfold.formats.registry import Setting, Written
from eggfold.pages.page import Column, Facts, LabelSheet, Lines, Page, Plot, Strip, Table

GAP, TIGHT = 2, 1
NARROWEST = 10
LONGEST_FIGURE = 16
_UNITS = "g|kg|ml|l|mm|m²|cm³|s|°C|K|degC|g/ml|g/g|egg|eggs|dry|rod-hours|takes|oz|lb|fl|tsp|US|UK"
_FIGURE = re.compile(
    rf"(?<=[0-9±×]) (?=(?:{_UNITS})\b|%|[0-9])|(?<=_) (?=(?:{_UNITS})\b)"
    "|(?<=kg) (?=dry)|(?<=fl) (?=oz)|(?<=U[SK]) (?=tsp|fl)"
)
UNSAFE = re.compile(
    "[\x00-\x1f\x7f-\x9f\u2028\u2029\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff]"
)


def clean(text: str) -> str:
    """Return text with control, line-separator and bidirectional characters shown as U+FFFD."""
    return UNSAFE.sub("\ufffd", text) if not text.isascii() or not text.isprintable() else text


def hold_figures(text: str) -> str:
    """Return text in which no figure can part from its unit: the space between is a fixed one."""
    return _FIGURE.sub("\u00a0", text)


def write_pages(pages: Iterable[Page], setting: Setting) -> Written:
    """Return pages one under the other, an empty line between them; labels side by side."""
    if setting.grid:
        from eggfold.formats.label_sheet import sheet_text  # noqa: PLC0415 - it is made of these

        return Written(sheet_text(LabelSheet(tuple(pages), *setting.grid), setting.width))
    written = (page_text(page, setting.width, color=setting.color) for page in pages)
    return Written("\n".join(written))


def page_text(page: Page, width: int = 80, *, color: bool = False) -> str:
    """Return a page as lines of at most ``width`` characters."""
    return "\n".join(_page_lines(page, width, _bold if color else iter)) + "\n"


def _bold(lines: Iterable[str]) -> Iterator[str]:
    return (f"\x1b[1m{line}\x1b[0m" for line in lines)


def _page_lines(
    page: Page, width: int, strong: Callable[[Iterable[str]], Iterator[str]]
) -> Iterator[str]:
    for alert in page.alerts:
        yield from strong(_wrapped(f"!! {clean(alert)}", width, "   "))
    yield from strong(_title(clean(page.title), clean(page.aside), width))
    yield "=" * width
    for block in page.blocks:
        yield ""
        yield from strong(_wrapped(clean(block.heading), width, "  "))
        if isinstance(block, Table):
            yield from _table(block, width)
        elif isinstance(block, Facts):
            yield from _facts(block, width)
        elif isinstance(block, Lines):
            yield from _lines(block, width)
        elif isinstance(block, Strip):
            from eggfold.formats.strip import strip_lines  # noqa: PLC0415 - few pages have one

            yield from strip_lines(block, width)
        elif isinstance(block, Plot):
            from eggfold.formats.plot import plot_lines  # noqa: PLC0415 - few pages have one

            yield from map(clean, plot_lines(block, width))
    if page.corner:
        yield ""
        yield clean(page.corner).rjust(width)


def _title(title: str, aside: str, width: int) -> Iterator[str]:
    if len(title) <= width - len(aside) - GAP:
        yield f"{title}{' ' * (width - len(title) - len(aside))}{aside}"
    else:
        yield from _wrapped(title, width, "")
        yield from (line.rjust(width) for line in _wrapped(aside, width, ""))


def _lines(block: Lines, width: int) -> Iterator[str]:
    for item in block.items:
        yield from _wrapped(f"- {clean(item)}", width, "  ")


def _facts(block: Facts, width: int) -> Iterator[str]:
    labels = [clean(label) for label, _ in block.rows]
    words = max(len(word) for label in labels for word in label.split(" "))
    label_width = min(max(map(len, labels)), max(width // 3, min(words, width // 2)))
    for label, value in block.rows:
        yield from _side_by_side(
            (clean(label), clean(value)), (label_width, width - label_width - GAP)
        )


def _table(block: Table, width: int) -> Iterator[str]:
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
    yield from _side_by_side(tuple(column.title for column in columns), widths, aligns, gap)
    yield "-" * _across(widths, gap)
    for row in rows:
        yield from _side_by_side(row, widths, aligns, gap)


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
    folded = [max(map(len, _FIGURE.sub("\u00a0", c.title).split(" "))) for c in columns]
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
    held = (word for cell in cells for word in _FIGURE.sub("\u00a0", cell).split(" "))
    return max((len(w) for w in held if "\u00a0" in w and len(w) <= LONGEST_FIGURE), default=0)


def _narrow(widths: list[int], least: list[int], room: int) -> None:
    """Take from the widest column that can give until all fit, or none can give more."""
    while sum(widths) > room:
        giving = [i for i, w in enumerate(widths) if w > least[i]]
        if not giving:
            return
        widths[max(giving, key=lambda i: widths[i] - least[i])] -= 1


def _side_by_side(
    cells: tuple[str, ...],
    widths: Iterable[int],
    aligns: Iterable[str] | None = None,
    gap: int = GAP,
) -> Iterator[str]:
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
