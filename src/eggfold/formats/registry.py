"""The formats by name: each is one module, loaded when asked for."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from eggfold.records import NamedTuple

if TYPE_CHECKING:
    from eggfold.pages.page import Page


class Setting(NamedTuple):
    """What a format may need besides the pages: today, the paper asked for, how text looks."""

    date: str
    paper: str | None = None
    width: int = 80
    color: bool = False
    grid: tuple[int, int] | None = None
    """Columns and rows of a sheet, where the pages are labels."""


class Written(NamedTuple):
    """Pages in their format, and what the reader has to be told of."""

    body: str | bytes
    notes: tuple[str, ...] = ()


class Format(NamedTuple):
    """The module that has ``write_pages``, the endings of its files, whether they are bytes."""

    module: str
    endings: tuple[str, ...]
    binary: bool = False


FORMATS = {
    "text": Format("eggfold.formats.plain_text", (".txt", ".text")),
    "json": Format("eggfold.formats.json", (".json",)),
    "csv": Format("eggfold.formats.csv", (".csv",)),
    "markdown": Format("eggfold.formats.markdown", (".md", ".markdown")),
    "html": Format("eggfold.formats.html", (".html", ".htm")),
    "pdf": Format("eggfold.formats.pdf", (".pdf",), binary=True),
}
"""JSON and CSV are written from results, the others from pages."""
TWO_SIDED = frozenset({"html", "pdf"})
"""Formats whose second side holds what a short page leaves out."""
DRAWN = frozenset({"text", "html", "pdf"})
"""Formats that draw a bowl's boxes themselves."""
CALENDAR = "ics"
"""A plan's own format, besides."""


def write_pages(form: str, pages: tuple[Page, ...], setting: Setting) -> Written:
    """Return pages in a format; raises NoAnswerError where they do not fit the paper."""
    if form not in DRAWN:
        pages = tuple(_with_tables(page) for page in pages)
    written: Written = import_module(FORMATS[form].module).write_pages(pages, setting)
    return written


def _with_tables(page: Page) -> Page:
    """Return a page whose bowls are tables, for formats that draw no boxes of their own."""
    from eggfold.pages.bowl import bowl_table, loads_facts  # noqa: PLC0415 - few pages have one
    from eggfold.pages.page import Bowl, Loads  # noqa: PLC0415

    blocks = (bowl_table(b) if isinstance(b, Bowl) else b for b in page.blocks)
    return page._replace(
        blocks=tuple(loads_facts(b) if isinstance(b, Loads) else b for b in blocks)
    )


def form_of_ending(ending: str) -> str | None:
    """Return the format whose files end so."""
    return next((name for name, f in FORMATS.items() if ending.lower() in f.endings), None)


def ending_of(form: str) -> str:
    """Return the ending that files of a format get."""
    return FORMATS[form].endings[0]
