"""Where a PDF puts its ink: every instruction of its sheets but the letters, compared with what was drawn before.

A change of layout shows here as numbers that differ: look at the sheets, then ``--update-golden``.
"""

from __future__ import annotations

import io
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from eggfold.formats.registry import Setting, write_pages
from eggfold.pages.page import Facts, Lines, Loads, Page, SizeInPan
from paper.sample import card_with, every_block

if TYPE_CHECKING:
    from collections.abc import Iterator

KEPT = Path(__file__).parent / "drawn"
LABELS = tuple(
    Page(f"Bag {n}", "FREEBIE", (Facts("BAIT, NOT FOOD", (("Weight", f"{n * 100} g"),)),))
    for n in range(1, 8)
)
LONG = Page("Long", "two sheets", (Facts("FACTS", tuple((f"row {n}", "1 g") for n in range(90))),))
TALL = Page("Tall", "two sheets", (Lines("LINES", ("Reed bed mix. " * 3000,)),))
PAN = Page(
    "Pan",
    "many loads",
    (
        Loads(
            "BOIL",
            tuple(
                SizeInPan(f"{n} mm", "110 s", f"{n} loads of 80", n) for n in (1, 11, 12, 13, 60)
            ),
            "cut two open",
            "no raw core",
        ),
    ),
)
SHEETS = {
    "blocks": ((every_block(),), Setting("2026-01-01")),
    "blocks-a6": ((every_block(),), Setting("2026-01-01", "a6")),
    "card": ((card_with("Reed bed mix"),), Setting("2026-01-01")),
    "long-words": ((every_block("Reed bed mix of the far bank " * 4),), Setting("2026-01-01")),
    "continued": ((LONG,), Setting("2026-01-01")),
    "tall": ((TALL,), Setting("2026-01-01")),
    "pan": ((PAN,), Setting("2026-01-01", "a5")),
    "labels": (LABELS, Setting("2026-01-01", grid=(2, 3))),
}
SAME = 0.011
"""Pythons add up floats differently, so that the last digit [1/100 pt] may be the one beside it."""


def instructions(body: bytes) -> Iterator[tuple[str, list[float]]]:
    """Yield each instruction of a PDF with its numbers; which letters are shown is read elsewhere."""
    reader = PdfReader(io.BytesIO(body))
    for sheet in reader.pages:
        yield "sheet", [float(side) for side in sheet.mediabox[2:]]
        for operands, operator in ContentStream(sheet.get_contents(), reader).operations:
            yield operator.decode(), [round(float(n), 2) for n in operands if is_number(n)]


def is_number(operand: object) -> bool:
    return isinstance(operand, int | float)


def written(name: str) -> list[tuple[str, list[float]]]:
    pages, setting = SHEETS[name]
    body = write_pages("pdf", pages, setting).body
    assert isinstance(body, bytes)
    return list(instructions(body))


@pytest.mark.parametrize("name", SHEETS)
def test_ink_lies_where_it_lay(name: str, request: pytest.FixtureRequest) -> None:
    drawn = written(name)
    file = KEPT / f"{name}.txt"
    if request.config.getoption("--update-golden"):
        lines = (" ".join((operator, *map(str, numbers))) for operator, numbers in drawn)
        file.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    kept = [line.split(" ") for line in file.read_text(encoding="utf-8").splitlines()]
    assert [operator for operator, _ in drawn] == [operator for operator, *_ in kept]
    numbers = [n for _, numbers in drawn for n in numbers]
    assert numbers == pytest.approx([float(n) for _, *ns in kept for n in ns], abs=SAME)
