"""The dose sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.pages.basis import basis_blocks
from eggfold.pages.display import units_lines
from eggfold.pages.dose_columns import column_title
from eggfold.pages.figures import amount_text
from eggfold.pages.page import Block, Column, Lines, Page, Table
from eggfold.plural import counted

if TYPE_CHECKING:
    from eggfold.jobs.doses import Cell, DoseRow, DoseSheet

OVER = "!!"


def doses_page(sheet: DoseSheet, *, why: bool = False) -> Page:
    """Return the sheet: which dose belongs in which batch."""
    with_recipe = any(row.recipe for row in sheet.rows)
    heads = (Column("Recipe"), Column("Additive")) if with_recipe else (Column("Additive"),)
    columns = (
        *(reversed(heads) if sheet.by_name else heads),
        *(Column(column_title(c), "right") for c in sheet.columns),
        Column("at most"),
    )
    rows = tuple(_cells(row, sheet, with_recipe=with_recipe) for row in sheet.rows)
    table = Table("DOSES", columns, rows)
    blocks: list[Block] = [*units_lines(), table]
    if any(cell and cell.over_ceiling for row in sheet.rows for cell in row.cells):
        text = f"{OVER} marks a dose over its ceiling, the last column: check the dose."
        blocks.append(Lines("TAKE CARE", (text,)))
    if why:
        from eggfold.pages.why.doses import dose_sums  # noqa: PLC0415 - few ask for the sums

        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(dose_sums(sheet))))
    blocks += basis_blocks(sheet, why=why)
    return Page("Dose sheet", counted(len(sheet.rows), "additive"), tuple(blocks))


def _cells(row: DoseRow, sheet: DoseSheet, *, with_recipe: bool) -> tuple[str, ...]:
    amounts = (_amount(cell, row.unit) for cell in row.cells)
    heads = (row.recipe or "", row.name) if with_recipe else (row.name,)
    return (*(reversed(heads) if sheet.by_name else heads), *amounts, row.ceiling or "")


def _amount(cell: Cell | None, unit: str) -> str:
    if cell is None:
        return "–"
    mark = f"{OVER} " if cell.over_ceiling else ""
    return f"{mark}{amount_text(cell.amount, unit)}"
