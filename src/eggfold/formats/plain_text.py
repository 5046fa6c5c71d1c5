"""Pages as text of a given width."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import zip_longest

from eggfold.errors import UsageProblemError
from eggfold.formats.characters import clean
from eggfold.formats.columns import GAP, side_by_side, wrapped
from eggfold.formats.registry import Setting, Written
from eggfold.formats.table import table_lines
from eggfold.pages.page import Facts, LabelSheet, Lines, Page, Plot, Strip, Table


def write_pages(pages: Iterable[Page], setting: Setting) -> Written:
    """Return pages one under the other, an empty line between them; labels side by side."""
    if setting.grid:
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
        yield from strong(wrapped(f"!! {clean(alert)}", width, "   "))
    yield from strong(_title(clean(page.title), clean(page.aside), width))
    yield "=" * width
    for block in page.blocks:
        yield ""
        yield from strong(wrapped(clean(block.heading), width, "  "))
        if isinstance(block, Table):
            yield from table_lines(block, width)
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
        yield from wrapped(title, width, "")
        yield from (line.rjust(width) for line in wrapped(aside, width, ""))


def _lines(block: Lines, width: int) -> Iterator[str]:
    for item in block.items:
        yield from wrapped(f"- {clean(item)}", width, "  ")


def _facts(block: Facts, width: int) -> Iterator[str]:
    labels = [clean(label) for label, _ in block.rows]
    words = max(len(word) for label in labels for word in label.split(" "))
    label_width = min(max(map(len, labels)), max(width // 3, min(words, width // 2)))
    for label, value in block.rows:
        yield from side_by_side(
            (clean(label), clean(value)), (label_width, width - label_width - GAP)
        )


LEAST_INSIDE = 22
"""The longest line that must not fold: FISHING BAIT, NOT FOOD."""
FRAME = 4


def sheet_text(sheet: LabelSheet, width: int = 80) -> str:
    """Return the sheets, one after the other; raises UsageProblemError where no label fits."""
    fit = (width + 1) // (LEAST_INSIDE + FRAME + 1)
    if sheet.columns > fit:
        need = sheet.columns * (LEAST_INSIDE + FRAME + 1) - 1
        raise UsageProblemError(
            f"{sheet.columns} labels side by side are {need} characters wide and the text is {width}: "
            f"{fit} fit, as in --grid {fit}x{sheet.rows}"
        )
    inside = (width + 1) // sheet.columns - 1 - FRAME
    return "\n".join(_sheet_lines(sheet, inside)) + "\n" if sheet.pages else ""


def _sheet_lines(sheet: LabelSheet, inside: int) -> Iterator[str]:
    in_all = sheet.columns * sheet.rows
    sheets = -(-len(sheet.pages) // in_all)
    for start in range(0, len(sheet.pages), sheet.columns):
        if sheets > 1 and start % in_all == 0:
            yield f"{'' if start == 0 else chr(10)}Sheet {start // in_all + 1} of {sheets}"
        yield from _row(sheet.pages[start : start + sheet.columns], inside)


def _row(pages: tuple[Page, ...], inside: int) -> Iterator[str]:
    """Yield the boxes of one row, all as high as the highest."""
    edge = " ".join(f"+{'-' * (inside + 2)}+" for _ in pages)
    yield edge
    columns = [page_text(page, inside).splitlines() for page in pages]
    for lines in zip_longest(*columns, fillvalue=""):
        yield " ".join(f"| {line:<{inside}} |" for line in lines)
    yield edge
