"""Reading back what the formats wrote, with libraries that know nothing of eggfold."""

from __future__ import annotations

import csv
import io
import re
from html.parser import HTMLParser
from typing import TYPE_CHECKING, NamedTuple

from markdown_it import MarkdownIt
from pypdf import PdfReader

from eggfold.formats.characters import clean
from eggfold.formats.registry import Setting, Written, write_pages
from eggfold.pages.page import TICK, Bowl, Facts, Lines, Loads, Page, Table

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

DATE = "2026-01-01"
PAGE_FORMATS = ("text", "markdown", "html", "pdf")
VOID = {"meta", "br", "wbr", "input", "circle", "rect", "polyline"}


def write(form: str, *pages: Page, paper: str | None = None) -> Written:
    """Write pages on a fixed day; text so wide that no cell folds."""
    return write_pages(form, pages, Setting(DATE, paper, width=400))


def text_of(form: str, *pages: Page) -> str:
    """Return the readable text that a reader of the format finds."""
    body = write(form, *pages).body
    if isinstance(body, bytes):
        return pdf_text(body)
    readers = {"markdown": markdown_text, "html": html_text}
    return readers[form](body) if form in readers else body


def pdf_text(body: bytes) -> str:
    """Return the text of a PDF, sheet by sheet."""
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(body)).pages)


def csv_records(body: str) -> list[list[str]]:
    """Return the records of a CSV text."""
    return list(csv.reader(io.StringIO(body, newline=""), strict=True))


def markdown_text(body: str) -> str:
    """Return the text that a reader of GitHub's Markdown sees, and nothing that is markup."""
    return html_text(MarkdownIt("commonmark").enable("table").render(body))


class Element(NamedTuple):
    """A start tag with what was open around it."""

    tag: str
    attributes: dict[str, str | None]
    inside: tuple[str, ...]


class HtmlReader(HTMLParser):
    """Collects the elements and the shown text of a page; a tag left open is a mistake."""

    def __init__(self, body: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[Element] = []
        self.texts: list[str] = []
        self.headings: list[tuple[int, str]] = []
        self._open: list[str] = []
        self.feed(body)
        self.close()
        assert self._open == [], self._open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(Element(tag, dict(attrs), tuple(self._open)))
        if tag not in VOID:
            self._open.append(tag)
        if re.fullmatch(r"h[1-6]", tag):
            self.headings.append((int(tag[1]), ""))
        if tag not in {"wbr", "strong", "em"}:
            self.texts.append("\n")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(Element(tag, dict(attrs), tuple(self._open)))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag
        if tag not in {"strong", "em"}:
            self.texts.append("\n")

    def handle_data(self, data: str) -> None:
        if {"style", "title", "desc", "script"}.isdisjoint(self._open):
            self.texts.append(data)
        if self._open and re.fullmatch(r"h[1-6]", self._open[-1]):
            level, text = self.headings.pop()
            self.headings.append((level, text + data))


def html_text(body: str) -> str:
    """Return the text that a reader of the page sees, without its contents list."""
    return "".join(HtmlReader(body.partition("</nav>")[2] or body).texts)


def cells_of(page: Page) -> Iterator[str]:
    """Yield every text that a page holds but its curves, in order."""
    yield from (*page.alerts, page.title, page.aside)
    for block in page.blocks:
        yield block.heading
        if isinstance(block, Table):
            yield from (column.title for column in block.columns)
            yield from (cell for row in block.rows for cell in row)
        elif isinstance(block, Facts):
            yield from (cell for row in block.rows for cell in row)
        elif isinstance(block, Lines):
            yield from block.items
        elif isinstance(block, Loads):
            yield from (cell for row in block.rows for cell in (row.name, row.time, row.loads))
            yield from (block.cut, block.until)
        elif isinstance(block, Bowl):
            yield from (block.trial, *(cell for row in block.rows for cell in row))
            yield from (block.tub.name, block.tub.whole.text, block.tub.at_once.text)
            yield from (block.tub.expected, block.tub.stiff, block.tub.sure)
    yield page.corner


def squeeze(text: str) -> str:
    """Return a text without the spaces and breaks that a layout may change."""
    return re.sub(r"\s+", "", text.replace("\u2610", TICK))


def missing_cells(cells: Sequence[str], text: str) -> list[str]:
    """Return the cells that a text does not hold, each looked for without its spaces."""
    flat = squeeze(text)
    return [cell for cell in cells if squeeze(clean(cell)) not in flat]
