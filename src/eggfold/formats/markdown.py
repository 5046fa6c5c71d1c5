"""Pages as Markdown with GitHub's tables; whatever could be markup is escaped."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from eggfold.formats.characters import clean
from eggfold.formats.registry import Setting, Written
from eggfold.pages.figures import number_text
from eggfold.pages.page import Block, Column, Facts, Lines, Page, Plot, Strip, Table

_MARKUP = re.compile(r"[\\`*_{}\[\]<>#|~&$]")
_LIST_MARK = re.compile(r"^([0-9]{1,9})([.)])(?=\s|$)|^([-+=])")


def write_pages(pages: Iterable[Page], setting: Setting) -> Written:  # noqa: ARG001 - one signature for all formats
    """Return pages one under the other, a rule between them."""
    return Written("\n---\n\n".join("\n".join((*_page_lines(page), "")) for page in pages))


def escape(text: str) -> str:
    """Return text that Markdown shows as it is."""
    flat = _MARKUP.sub(r"\\\g<0>", clean(text).strip())
    return _LIST_MARK.sub(lambda m: f"{m[1]}\\{m[2]}" if m[1] else f"\\{m[3]}", flat)


def _page_lines(page: Page) -> Iterator[str]:
    yield f"# {escape(page.title)}"
    if page.aside:
        yield from ("", f"*{escape(page.aside)}*")
    for alert in page.alerts:
        yield from ("", f"> **{escape(alert)}**")
    for block in page.blocks:
        yield from ("", f"## {escape(block.heading)}", "")
        yield from _block_lines(block)
    if page.corner:
        yield from ("", escape(page.corner))


def _block_lines(block: Block) -> Iterator[str]:
    if isinstance(block, Table):
        yield from _table_lines(block.columns, block.rows)
    elif isinstance(block, Facts):
        yield from (f"- **{escape(label)}:** {escape(value)}" for label, value in block.rows)
    elif isinstance(block, Lines):
        yield from (f"- {escape(item)}" for item in block.items)
    elif isinstance(block, Plot | Strip):
        heads, *rows = _plot_records(block) if isinstance(block, Plot) else _strip_records(block)
        yield from _table_lines(tuple(Column(head) for head in heads), rows)


def _plot_records(plot: Plot) -> Iterator[tuple[str, ...]]:
    """Yield a curve's points, then its named points."""
    yield plot.x_title, plot.y_title, "point"
    for x, y in plot.points:
        yield number_text(x, 6), number_text(y, 6), ""
    for x, y, name in plot.marks:
        yield number_text(x, 6), number_text(y, 6), name


def _strip_records(strip: Strip) -> Iterator[tuple[str, ...]]:
    """Yield a strip's spans, one after the other."""
    yield "row", f"from, {strip.axis_title}", "to", "point", "label"
    for row in strip.rows:
        for span in row.spans:
            point = "" if span.point is None else number_text(span.point, 6)
            yield row.label, number_text(span.start, 6), number_text(span.end, 6), point, span.label


def _table_lines(columns: tuple[Column, ...], rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    yield _table_line(column.title for column in columns)
    yield f"| {' | '.join('--:' if c.align == 'right' else ':--' for c in columns)} |"
    for row in rows:
        yield _table_line(row)


def _table_line(cells: Iterable[str]) -> str:
    return f"| {' | '.join(map(escape, cells))} |"
