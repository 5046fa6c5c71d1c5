"""The dose sheet as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.formats.json import Data, assumptions_data, companions_data

if TYPE_CHECKING:
    from eggfold.recipe.doses import DoseSheet


def doses_document(sheet: DoseSheet) -> Data:
    """Return the object of ``doses``."""
    rows = [
        {
            "recipe": row.recipe,
            "name": row.name,
            "ceiling": row.ceiling,
            "amounts": [
                {
                    "strength": column.strength,
                    "eggs": column.eggs,
                    "kg_dry": column.kg_dry,
                    "amount": cell.amount if cell else None,
                    "unit": row.unit,
                    "tool": cell.tool if cell else None,
                }
                for column, cell in zip(sheet.columns, row.cells, strict=True)
            ],
        }
        for row in sheet.rows
    ]
    return {
        "kind": "doses",
        "version": 1,
        "rows": rows,
        "assumptions": assumptions_data(sheet.assumptions),
        "companions": companions_data(sheet.companions),
    }
