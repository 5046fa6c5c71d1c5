"""How the figures of a dose sheet came about."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.pages.dose_columns import column_title
from eggfold.pages.why.sums import got, put, without_sum

if TYPE_CHECKING:
    from eggfold.jobs.doses import Cell, DoseColumn, DoseRow, DoseSheet

ABSORBENCY = "the card shows its sum: eggfold batch with --why"


def dose_sums(sheet: DoseSheet) -> Iterator[str]:
    """Yield the dry mix behind each column, then each amount."""
    if any(row.recipe for row in sheet.rows):
        yield without_sum("Absorbency", "recipe by recipe", ABSORBENCY)
    known: set[str] = set()
    for row in sheet.rows:
        for column, cell in zip(sheet.columns, row.cells, strict=True):
            if cell is None:
                continue
            line = _mix_sum(row, column, cell)
            if line not in known:
                known.add(line)
                yield line
            yield _cell_sum(row, column, cell)


def _mix_sum(row: DoseRow, column: DoseColumn, cell: Cell) -> str:
    """Return the dry mix of a column's eggs, or the eggs of its dry mix."""
    e = cell.extent
    one = e.dry_g / e.eggs
    head = f"{row.recipe or row.name}, {column.strength}: "
    text = (
        f"{head}dry mix of one egg = absorbency × (egg + liquids per egg) / (1 − absorbency × liquids "
        f"per g of mix) = {put(e.absorbency)} × ({put(e.egg_g)} + {put(e.rates.wet_per_egg_g)}) / (1 − "
        f"{put(e.absorbency)} × {put(e.rates.wet_per_dry)}) = {got(one)} g"
    )
    if column.eggs is not None:
        return f"{text}; of {put(e.eggs)} eggs {put(e.eggs)} × {put(one)} = {got(e.dry_g)} g"
    return f"{text}; eggs in {put(e.dry_g / 1000)} kg {put(e.dry_g)} / {put(one)} = {got(e.eggs)}"


def _cell_sum(row: DoseRow, column: DoseColumn, cell: Cell) -> str:
    e = cell.extent
    words, times = (
        ("dose per egg × eggs", e.eggs)
        if cell.per_egg
        else ("dose per kg × dry mix in kg", e.dry_g / 1000)
    )
    head = f"{row.recipe}: " if row.recipe else ""
    return (
        f"{head}{row.name}, {column_title(column)} = {words} = {put(cell.dose)} × {put(times)} = "
        f"{got(cell.amount)} {row.unit}"
    )
