"""Times in the pan, and the clock beside it, as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.formats.json import Data, assumptions_data, companions_data

if TYPE_CHECKING:
    from eggfold.recipe.boil import BoilTable
    from eggfold.recipe.boil_clock import PanClock
    from eggfold.recipe.kitchen import Boil


def boil_document(table: BoilTable) -> Data:
    """Return the object of ``boil``."""
    return {
        "kind": "boil",
        "version": 1,
        "water_c": table.kitchen.water_c,
        "load_g": table.load_g,
        "rows": [_boil_row(row) for row in table.rows],
        "assumptions": assumptions_data(table.assumptions),
        "companions": companions_data(table.companions),
    }


def _boil_row(row: Boil) -> Data:
    return {
        "diameter_mm": row.diameter_mm,
        "core_mm": row.core_mm,
        "until": row.until,
        "centre_c": row.centre_c,
        "seconds": row.seconds,
        "customary_s": row.customary_s,
        "biot": row.biot,
        "fourier": row.fourier,
    }


def clock_document(clock: PanClock) -> Data:
    """Return the object of ``boil --clock``."""
    loads = [
        {
            "load": load.number,
            "kind": load.bait.kind,
            "diameter_mm": load.bait.diameter_mm,
            "core_mm": load.bait.core_mm,
            "load_g": load.bait.load_g,
            "in_s": load.in_s,
            "out_s": load.out_s,
            "wait_s": load.wait_s,
        }
        for load in clock.loads
    ]
    return {
        "kind": "clock",
        "version": 1,
        "what": clock.what,
        "loads": loads,
        "assumptions": assumptions_data(clock.assumptions),
        "companions": companions_data(clock.companions),
    }
