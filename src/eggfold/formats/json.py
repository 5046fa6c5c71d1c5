"""Results as JSON: plain numbers, units in the keys, never NaN. What all documents share."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from decimal import Decimal

    from eggfold.files.companions import Companion
    from eggfold.recipe.assumptions import Assumption
    from eggfold.recipe.cautions import Caution

Data = dict[str, Any]


def dumps(data: Data) -> str:
    """Return one JSON object as text; characters outside ASCII are escaped, so it prints anywhere."""
    return json.dumps(data, allow_nan=False, indent=2)


def assumptions_data(assumptions: Iterable[Assumption]) -> list[Data]:
    """Return assumptions."""
    return [
        {"what": a.what, "value": a.value, "origin": a.origin, "source": a.source}
        for a in assumptions
    ]


def money_data(amount: Decimal | None) -> int | float | None:
    """Return money as the number that prints its own digits: prices stay below 15 of them."""
    if amount is None:
        return None
    return int(amount) if amount == int(amount) else float(amount)


def companions_data(companions: Iterable[Companion]) -> list[Data]:
    """Return the files that were read with the recipe."""
    return [{"kind": one.kind, "file": one.file} for one in companions]


def cautions_data(cautions: Iterable[Caution]) -> list[Data]:
    """Return cautions."""
    return [{"code": c.code, "text": c.text} for c in cautions]
