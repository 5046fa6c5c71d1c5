"""Labels as JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from eggfold.formats.json import Data

if TYPE_CHECKING:
    from eggfold.recipe.labels import Label


def labels_document(labels: Iterable[Label], columns: int, rows: int) -> Data:
    """Return the object of ``labels``."""
    return {
        "kind": "labels",
        "version": 1,
        "grid": {"columns": columns, "rows": rows},
        "labels": [_label(label) for label in labels],
    }


def _label(label: Label) -> Data:
    keeping = label.keeping
    return {
        "recipe": label.recipe,
        "file": label.file,
        "strength": label.strength,
        "base_mix": label.base_mix,
        "sizes_mm": list(label.diameters_mm),
        "made": keeping.made.isoformat(),
        "frozen": keeping.frozen.isoformat() if keeping.frozen else None,
        "use_by": keeping.use_by.isoformat(),
        "weight_g": label.weight_g,
        "bag": label.bag,
        "bags": label.bags,
        "contains": list(label.declared.contains),
        "not_declared": list(label.declared.silent),
    }
