"""A note as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.formats.difference import differences_text
from eggfold.formats.json import Data

if TYPE_CHECKING:
    from eggfold.stock.noting import Note
    from eggfold.stock.withdraw import WithdrawnItem


def note_document(note: Note, *, written: bool) -> Data:
    """Return the object of ``note``."""
    name = "item" if note.what == "bought" else "recipe"
    return {
        "kind": "note",
        "version": 1,
        "what": note.what,
        "date": note.date,
        name: note.title,
        **note.figures,
        "notebook": note.notebook,
        "shelf": note.shelf,
        "written": written,
        "drawn": [_drawn(d) for d in note.drawing.drawn],
        "not_drawn": [{"name": p.name, "reason": p.reason} for p in note.drawing.passed],
        "remarks": list(note.remarks),
        "diff": None if written else differences_text(note.changes),
    }


def _drawn(drawn: WithdrawnItem) -> Data:
    return {
        "name": drawn.name,
        "amount": float(drawn.drew.number),
        "unit": drawn.drew.unit,
        "left": float(drawn.left_now),
        "missing": float(drawn.missing.number) if drawn.missing else None,
    }
