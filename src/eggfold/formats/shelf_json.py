"""The shelf as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.formats.json import Data

if TYPE_CHECKING:
    from eggfold.stock.shelf import ShelfRow, ShelfState


def shelf_document(state: ShelfState) -> Data:
    """Return the object of ``shelf``."""
    first = state.first_out
    return {
        "kind": "shelf",
        "version": 1,
        "file": state.file,
        "date": str(state.day),
        "items": [_shelf_row(row) for row in state.rows],
        "first_out": first and {"name": first.name, "lasts_eggs": first.lasts_eggs},
        "missing": list(state.missing),
        "unused": list(state.unused),
    }


def _shelf_row(row: ShelfRow) -> Data:
    return {
        "name": row.name,
        "left": row.left,
        "unit": row.unit,
        "status": row.status,
        "opened": row.opened and str(row.opened),
        "use_by": row.use_by and str(row.use_by),
        "days_left": row.days_left,
        "lasts_eggs": row.lasts_eggs,
        "recipe": row.recipe,
    }
