"""Batches as JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from eggfold.formats.json import Data, assumptions_data, cautions_data, companions_data
from eggfold.formats.shopping_json import item_data

if TYPE_CHECKING:
    from eggfold.engine.scaling import Measure
    from eggfold.recipe.baits import BaitLine
    from eggfold.recipe.batch import Batch, BowlShare
    from eggfold.recipe.dose import DoseLine
    from eggfold.recipe.mixing import Powder
    from eggfold.stock.shopping import ShoppingItem


def batch_document(batches: Iterable[Data], items: Iterable[ShoppingItem]) -> Data:
    """Return the object of ``batch``."""
    return {
        "kind": "batch",
        "version": 1,
        "batches": list(batches),
        "shopping": [item_data(item) for item in items],
    }


def batch_data(batch: Batch) -> Data:
    """Return one batch."""
    paste, egg = batch.paste, batch.egg
    return {
        "recipe": batch.recipe,
        "file": batch.file,
        "strength": batch.strength,
        "eggs": {
            "count": batch.eggs,
            "grade": egg.grade,
            "standard": egg.standard,
            "each_g": egg.each_g,
            "shelled_g": batch.shelled_g,
        },
        "doses": [_dose(line) for line in batch.doses],
        "wet_g": batch.wet_g,
        "powder": _powder(batch.powder),
        "paste": {
            "mass_g": paste.mass_g,
            "density_g_ml": paste.density_g_ml,
            "finished_g": paste.finished_g,
        },
        "baits": [_bait(line) for line in batch.baits],
        "bowls": [_bowl(share) for share in batch.bowls],
        "cautions": cautions_data(batch.cautions),
        "assumptions": assumptions_data(batch.assumptions),
        "companions": companions_data(batch.companions),
    }


def _powder(powder: Powder) -> Data:
    return {
        "expected_g": powder.expected_g,
        "low_g": powder.low_g,
        "high_g": powder.high_g,
        "base_mix": powder.base_mix,
        "base_mix_g": powder.base_mix_g,
        "base_mix_low_g": powder.base_mix_low_g,
        "base_mix_high_g": powder.base_mix_high_g,
        "absorbency": powder.absorbency,
        "weighings": powder.weighings,
    }


def _bowl(share: BowlShare) -> Data:
    return {
        "number": share.number,
        "eggs": share.eggs,
        "doses": [_dose(line) for line in share.doses],
        "powder": _powder(share.powder),
        "paste_g": share.paste_g,
    }


def _dose(line: DoseLine) -> Data:
    reading = line.reading
    return {
        "name": line.additive.name,
        "form": line.additive.form,
        "ml": line.amount.ml,
        "g": line.amount.g,
        "trial": _measure(line.trial),
        "tool": reading.in_words,
        "reading": {"amount": reading.amount, "unit": reading.tool.unit},
        "error_pct": reading.error_pct,
        "over_ceiling": line.over_ceiling,
    }


def _measure(measure: Measure | None) -> Data | None:
    return None if measure is None else {"ml": measure.ml, "g": measure.g}


def _bait(line: BaitLine) -> Data:
    return {
        "kind": line.kind,
        "diameter_mm": line.diameter_mm,
        "core_mm": line.core_mm,
        "skin_mm": line.skin_mm,
        "count": line.count,
        "low": line.low,
        "high": line.high,
        "each_g": line.each_g,
        "sausage_mm": line.sausage_mm,
        "lift_g": line.lift_g,
        "boil": {
            "until": line.boil.until,
            "centre_c": line.boil.centre_c,
            "water_c": line.boil.water_c,
            "seconds": line.boil.seconds,
            "customary_s": line.boil.customary_s,
            "loads": line.loads,
            "load_g": line.boil.load_g,
        },
    }
