"""Pages as CSV (RFC 4180): page, section, what is told of it, cells; all records equally long."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator
from unicodedata import category, normalize

from eggfold.formats.characters import clean
from eggfold.formats.registry import Setting, Written
from eggfold.pages.figures import number_text
from eggfold.pages.page import Block, Facts, Lines, Page, Plot, Strip, Table

Record = tuple[str, ...]

ALERT = "WARNING"
_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")
_SPLIT = re.compile(r"([,;\t])")
_FILLERS = "\u115f\u1160\u2800\u3164\uffa0"
"""Letters and signs that show nothing."""


def write_pages(pages: Iterable[Page], setting: Setting) -> Written:  # noqa: ARG001 - one signature for all formats
    """Return pages as records with CRLF."""
    records = [record for page in pages for record in _page_records(page)]
    width = max(map(len, records), default=3)
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(["page", "section", "detail", *(f"cell {i}" for i in range(1, width - 2))])
    for record in records:
        writer.writerow([*map(cell_text, record), *[""] * (width - len(record))])
    return Written(stream.getvalue())


def cell_text(text: str) -> str:
    """Return a cell that no spreadsheet takes for a formula, also where it splits it once more."""
    # looked at before the cleaning, so that a tab is still seen
    parts = _SPLIT.split(text)
    return clean("".join(f"'{part}" if _is_formula(part) else part for part in parts))


def _is_formula(text: str) -> bool:
    """Tell whether text begins like a formula, its sign in any form and behind what is not seen."""
    first = next((c for c in text if category(c)[0] not in "CZM" and c not in _FILLERS), "")
    sign = normalize("NFKC", first) in {"=", "+", "-", "@"}
    return sign and not _NUMBER.fullmatch(text.strip(" "))


def _page_records(page: Page) -> Iterator[Record]:
    yield page.title, "", "", page.aside
    for alert in page.alerts:
        yield page.title, ALERT, "", alert
    for block in page.blocks:
        section, _, detail = block.heading.partition("  ")
        for record in block_records(block):
            yield page.title, section, detail.strip(), *record
    if page.corner:
        yield page.title, "", "", page.corner


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
