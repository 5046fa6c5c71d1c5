"""The dose sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.formats.json import Data, data_of, document

if TYPE_CHECKING:
    from eggfold.recipe.doses import DoseRow, DoseSheet


def doses_document(sheet: DoseSheet) -> Data:
    """Return the object of ``doses``."""
    rows = [{**data_of(row), "amounts": _amounts(row, sheet)} for row in sheet.rows]
    return document("doses", sheet) | {"rows": rows}


def _amounts(row: DoseRow, sheet: DoseSheet) -> list[Data]:
    return [
        {
            **data_of(column),
            "amount": cell.amount if cell else None,
            "unit": row.unit,
            "tool": cell.tool if cell else None,
        }
        for column, cell in zip(sheet.columns, row.cells, strict=True)
    ]
