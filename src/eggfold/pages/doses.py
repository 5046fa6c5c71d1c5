"""The dose sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.pages.figures import Units, eggs_text, got, put, without_sum
from eggfold.pages.page import NONE, Block, Column, Facts, Lines, Page, Table, basis_blocks

if TYPE_CHECKING:
    from eggfold.recipe.dose_sheet import Cell, DoseColumn, DoseRow, DoseSheet


OVER = "!!"


def doses_page(sheet: DoseSheet, units: Units, *, why: bool = False) -> Page:
    """Return the sheet: which dose belongs in which batch."""
    with_recipe = any(row.recipe for row in sheet.rows)
    heads = (Column("Recipe"), Column("Additive")) if with_recipe else (Column("Additive"),)
    columns = (
        *(reversed(heads) if sheet.by_name else heads),
        *(Column(title, "right") for title in _titles(sheet)),
        Column("at most"),
        *((Column("soak"),) if any(row.soak for row in sheet.rows) else ()),
    )
    rows = tuple(_cells(row, sheet, units, with_recipe=with_recipe) for row in sheet.rows)
    table = Table("DOSES", columns, rows)
    blocks: list[Block] = [table, *_eggs(sheet)]
    if any(cell and cell.over_ceiling for row in sheet.rows for cell in row.cells):
        text = f"{OVER} marks a dose over its ceiling, in the column at most: check the dose."
        blocks.append(Lines("TAKE CARE", (text,)))
    if why:
        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(_dose_sums(sheet))))
    blocks += (*units.lines(), *basis_blocks(sheet, why=why))
    return Page("Dose sheet", counted(len(sheet.rows), "additive"), tuple(blocks))


def _cells(row: DoseRow, sheet: DoseSheet, units: Units, *, with_recipe: bool) -> tuple[str, ...]:
    amounts = (_amount(cell, row.unit, units) for cell in row.cells)
    heads = (row.recipe or "", row.name) if with_recipe else (row.name,)
    soak = (row.soak or "",) if any(one.soak for one in sheet.rows) else ()
    return (*(reversed(heads) if sheet.by_name else heads), *amounts, row.ceiling or "", *soak)


def _amount(cell: Cell | None, unit: str, units: Units) -> str:
    if cell is None:
        return NONE
    mark = f"{OVER} " if cell.over_ceiling else ""
    return f"{mark}{units.amount(cell.amount, unit)}"


def _titles(sheet: DoseSheet) -> Iterator[str]:
    """Yield what the columns stand for: so many eggs where all recipes have as many in it."""
    for place, column in enumerate(sheet.columns):
        of_rows = {row.columns[place] for row in sheet.rows}
        yield _column_title(of_rows.pop() if len(of_rows) == 1 else column)


def _eggs(sheet: DoseSheet) -> Iterator[Facts]:
    """Yield the eggs of each recipe's trial and bowl, where recipes differ in them."""
    recipes = {row.recipe or "": row.columns for row in sheet.rows}
    if len(set(recipes.values())) > 1:
        told = (
            (name, "; ".join(_column_title(c) for c in columns if c.eggs))
            for name, columns in recipes.items()
        )
        yield Facts("EGGS", tuple(told))


def _column_title(column: DoseColumn) -> str:
    """Return what a column stands for."""
    if column.eggs is None and column.kg_dry is None:
        return "hookbait, trial" if column.strength == "hookbait" else "freebie, full bowl"
    if column.eggs is not None:
        return f"{column.strength}, {eggs_text(column.eggs)}"
    return f"{column.strength}, {column.kg_dry:g} kg dry mix"


ABSORBENCY = "the card shows its sum, with eggfold batch --why"


def _dose_sums(sheet: DoseSheet) -> Iterator[str]:
    """Yield the dry mix behind each column, then each amount."""
    if any(row.recipe for row in sheet.rows):
        yield without_sum("Absorbency", "recipe by recipe", ABSORBENCY)
    known: set[str] = set()
    for row in sheet.rows:
        for column, cell in zip(row.columns, row.cells, strict=True):
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
        f"{head}{row.name}, {_column_title(column)} = {words} = {put(cell.dose)} × {put(times)} = "
        f"{got(cell.amount)} {row.unit}"
    )
