"""Pages as text of a given width: tables, facts, lines, and labels side by side."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Iterable, Iterator
from itertools import chain, islice, zip_longest

from eggfold.errors import Problem, UsageProblemError
from eggfold.formats.characters import clean, hold_figures
from eggfold.formats.registry import Setting, Written
from eggfold.pages.page import (
    TICK,
    Block,
    Bowl,
    Column,
    Facts,
    Lines,
    Loads,
    Page,
    Plot,
    Scoop,
    Strip,
    Table,
)

Strong = Callable[[Iterable[str]], Iterator[str]]
"""What makes lines stand out."""
GAP = 2
"""Spaces between columns."""
TIGHT = 1
"""Spaces between columns where there is no room for more."""
NARROWEST = 10
"""The narrowest a column of words becomes."""
LONGEST_FIGURE = 16
"""A figure with its unit that is longer may be folded."""
LEAST_INSIDE = 22
"""The longest line that must not fold: FISHING BAIT, NOT FOOD."""
FRAME = 4
LINES_AT_ONCE = 1000
"""So many lines are joined at a time: a line of its own takes twice the room that its text does."""


def write_pages(pages: Iterable[Page], setting: Setting) -> Written:
    """Return pages one under the other, an empty line between them; labels side by side."""
    if setting.grid:
        return Written(label_text(tuple(pages), setting.grid, setting.width))
    written = (page_text(page, setting.width, color=setting.color) for page in pages)
    return Written("\n".join(written))


def page_text(page: Page, width: int = 80, *, color: bool = False) -> str:
    """Return a page as lines of at most ``width`` characters."""
    lines = chain(_page_lines(page, width, _bold if color else iter), ("",))
    parts = iter(lambda: tuple(islice(lines, LINES_AT_ONCE)), ())
    return "\n".join(map("\n".join, parts))


def _bold(lines: Iterable[str]) -> Iterator[str]:
    return (f"\x1b[1m{line}\x1b[0m" for line in lines)


def _page_lines(page: Page, width: int, strong: Strong) -> Iterator[str]:
    yield from strong(_title(clean(page.title), clean(page.aside), width))
    yield "=" * width
    for alert in page.alerts:
        yield from strong(_wrapped(f"! {clean(alert)}", width, "  "))
    for i, block in enumerate(page.blocks):
        if i or page.alerts or not isinstance(block, Bowl):
            yield ""
        yield from _block_lines(block, width, strong)
    if page.corner:
        yield ""
        yield clean(page.corner).rjust(width)


def _block_lines(block: Block, width: int, strong: Strong) -> Iterator[str]:
    if isinstance(block, Bowl):
        yield from _bowl_lines(block, width, strong)
        return
    if block.heading:
        yield from strong(_wrapped(clean(block.heading), width, "  "))
    if isinstance(block, Table):
        yield from _table_lines(block, width)
    elif isinstance(block, Facts):
        yield from _facts(block, width)
    elif isinstance(block, Loads):
        yield from _loads(block, width)
    elif isinstance(block, Lines):
        yield from _lines(block, width)
    elif isinstance(block, Strip):
        from eggfold.formats.text_charts import timeline_lines  # noqa: PLC0415 - few pages have one

        yield from timeline_lines(block, width)
    elif isinstance(block, Plot):
        from eggfold.formats.text_charts import plot_lines  # noqa: PLC0415 - few pages have one

        yield from map(clean, plot_lines(block, width))


def _bowl_lines(block: Bowl, width: int, strong: Strong) -> Iterator[str]:
    """Yield a bowl: a line to tick for each weight, then the tub and its scoops."""
    yield from strong(_title(clean(block.heading), clean(block.trial), width))
    tub = block.tub
    rows = [tuple(map(clean, row)) for row in block.rows]
    rows.append((clean(tub.whole.text), clean(tub.name), f"{tub.how}:", ""))
    tick = (TICK, *(" ",) * 4)
    widths = [len(TICK), *(max(len(row[i]) for row in rows) for i in range(4))]
    room = width - GAP * 4 - widths[0] - widths[1] - widths[4]
    widths[2] = min(widths[2], max(room - widths[3], room * 2 // 5))
    widths[3] = room - widths[2]
    aligns = ("left", "right", "left", "left", "right")
    for row in rows:
        yield from _side_by_side((tick[0], *row), widths, aligns)
    for line in (
        f"  {TICK} {tub.at_once.text}  {tub.start}:",
        f"  {_scoops(tub.to_expected)}  <- {tub.expected}, as expected",
        f"  {_scoops(tub.to_end)}  <- {tub.whole.text}, {tub.empty}",
    ):
        yield from _wrapped(_ticks_held(line, width), width, "  ")
    for remark in filter(None, (tub.stiff, tub.sure)):
        yield from _wrapped(f"     {clean(remark)}", width, "     ")


def _loads(block: Loads, width: int) -> Iterator[str]:
    """Yield each size, with a box for each of its loads below it; a lone load's stands behind it."""
    words = f"{block.cut}: {block.until}"
    label_width = _label_width([row.name for row in block.rows], width)
    for row in block.rows:
        told = f"{row.time}  {row.loads}{f'  {TICK}' if row.boxes == 1 else ''}".strip()
        yield from _side_by_side((clean(row.name), told), (label_width, width - label_width - GAP))
        if row.boxes > 1:
            line = f"  {TICK} {words} {' '.join([TICK] * (row.boxes - 1))}"
            yield from _wrapped(_ticks_held(line, width), width, "  ")
            words = block.cut
    if words != block.cut and any(row.boxes for row in block.rows):
        yield from _wrapped(f"{words[0].upper()}{words[1:]}.", width, "")


def _ticks_held(line: str, width: int) -> str:
    """Return a line whose boxes stay whole where it is folded."""
    return line if len(line) <= width else line.replace(TICK, TICK.replace(" ", "\u00a0"))


def _scoops(scoops: tuple[Scoop, ...]) -> str:
    return " ".join(f"{TICK} +{scoop.text}" for scoop in scoops)


def _title(title: str, aside: str, width: int) -> Iterator[str]:
    if len(title) <= width - len(aside) - GAP:
        yield f"{title}{' ' * (width - len(title) - len(aside))}{aside}"
    else:
        yield from _wrapped(title, width, "")
        yield from (line.rjust(width) for line in _wrapped(aside, width, ""))


def _lines(block: Lines, width: int) -> Iterator[str]:
    for item in block.items:
        if item.startswith("eggfold "):  # a command is copied as it stands
            yield clean(item)
        else:
            yield from _wrapped(f"- {clean(item)}", width, "  ")


def _facts(block: Facts, width: int) -> Iterator[str]:
    label_width = _label_width([label for label, _ in block.rows], width)
    for label, value in block.rows:
        yield from _side_by_side(
            (clean(label), clean(value)), (label_width, width - label_width - GAP)
        )


def _label_width(labels: list[str], width: int) -> int:
    cleaned = [clean(label) for label in labels]
    words = max(len(word) for label in cleaned for word in label.split(" "))
    return min(max(map(len, cleaned)), max(width // 3, min(words, width // 2)))


def label_text(pages: tuple[Page, ...], grid: tuple[int, int], width: int) -> str:
    """Return sheets of labels, columns by rows, one after the other; UsageProblemError where none fits."""
    columns, rows = grid
    fit = (width + 1) // (LEAST_INSIDE + FRAME + 1)
    if columns > fit:
        need = columns * (LEAST_INSIDE + FRAME + 1) - 1
        raise UsageProblemError(
            f"{columns} labels side by side are {need} characters wide and the text is {width}: "
            f"{fit} fit, as in --grid {fit}x{rows}"
        )
    inside = (width + 1) // columns - 1 - FRAME
    return "\n".join(_sheet_lines(pages, grid, inside)) + "\n" if pages else ""


def _sheet_lines(pages: tuple[Page, ...], grid: tuple[int, int], inside: int) -> Iterator[str]:
    columns, rows = grid
    sheets = -(-len(pages) // (columns * rows))
    for start in range(0, len(pages), columns):
        if sheets > 1 and start % (columns * rows) == 0:
            number = start // (columns * rows) + 1
            yield f"{'' if start == 0 else chr(10)}Sheet {number} of {sheets}"
        yield from _row(pages[start : start + columns], inside)


def _row(pages: tuple[Page, ...], inside: int) -> Iterator[str]:
    """Yield the boxes of one row, all as high as the highest."""
    edge = " ".join(f"+{'-' * (inside + 2)}+" for _ in pages)
    yield edge
    columns = [page_text(page, inside).splitlines() for page in pages]
    for lines in zip_longest(*columns, fillvalue=""):
        yield " ".join(f"| {line:<{inside}} |" for line in lines)
    yield edge


def _table_lines(block: Table, width: int) -> Iterator[str]:
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


def _side_by_side(
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
    columns = [list(_wrapped(cell, w, "")) for cell, w in zip(cells, widths, strict=True)]
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


_COMMAND = re.compile("(?:^|: )(?=eggfold )")


def _wrapped(text: str, width: int, indent: str) -> Iterator[str]:
    """Yield a text as lines, those after the first indented, without parting a figure from its unit.

    A command to copy, which ends its sentence, stays in one piece on a line of its own.
    """
    if len(text) <= width:
        yield text
        return
    command = _COMMAND.search(text)
    words = text[: command.end()].rstrip() if command else text
    held = hold_figures(words)
    for line in textwrap.wrap(held, width, subsequent_indent=indent, break_on_hyphens=False):
        yield line.replace("\u00a0", " ")
    if command:
        yield f"{indent if words else ''}{text[command.end() :]}"


WIDTH = 80
"""The width that a hint is folded to; a place with its sentence stays one line, for scripts."""


def problems_text(problems: Iterable[Problem]) -> str:
    """Return problems, one after the other."""
    return "".join(f"{line}\n" for problem in problems for line in _problem_lines(problem))


def _problem_lines(problem: Problem) -> Iterator[str]:
    place = f"{clean(problem.file)}:{problem.line}:{problem.column}"
    warning = "warning: " if problem.severity == "warning" else ""
    yield f"{place}: {warning}{clean(problem.message)} [{problem.code}]"
    if problem.source.strip():
        yield f"    {clean(problem.source)}"
        yield f"    {' ' * problem.caret}^"
    if problem.hint:
        yield from _wrapped(f"    try: {clean(problem.hint)}", WIDTH, " " * 9)
