"""Small pages in boxes side by side, as text."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest

from eggfold.errors import UsageProblemError
from eggfold.formats.page_text import page_text
from eggfold.pages.page import LabelSheet, Page

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
