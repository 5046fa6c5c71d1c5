"""What is known of a paste and its powder as JSON: plain numbers, units in the keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.formats.json import Data, assumptions_data, cautions_data, companions_data

if TYPE_CHECKING:
    from eggfold.recipe.buoyancy import Buoyancy
    from eggfold.recipe.powder import PowderResult


def buoyancy_document(result: Buoyancy) -> Data:
    """Return the object of ``buoyancy``."""
    bait = result.bait
    return {
        "kind": "buoyancy",
        "version": 1,
        "core_mm": bait.core_mm,
        "diameter_mm": bait.diameter_mm,
        "skin_mm": bait.skin_mm,
        "lift_g": bait.lift_g,
        "hook_g": bait.hook_g,
        "paste_density_g_ml": bait.densities.paste_g_ml,
        "cork_density_g_ml": bait.densities.cork_g_ml,
        "water_density_g_ml": bait.densities.water_g_ml,
        "neutral_skin_mm": result.neutral_skin_mm,
        "behaviour": result.behaviour,
        "around": [
            {"skin_mm": one.skin_mm, "diameter_mm": one.diameter_mm, "lift_g": one.lift_g}
            for one in result.around
        ],
        "assumptions": assumptions_data(result.assumptions),
        "companions": companions_data(result.companions),
    }


def powder_document(result: PowderResult) -> Data:
    """Return the object of ``powder``; analyses in per cent by mass."""
    return {
        "kind": "powder",
        "version": 1,
        "name": result.name,
        "recipe": result.recipe,
        "strength": result.strength,
        "analysis": result.analysis._asdict(),
        "paste": {**result.paste._asdict(), "density_g_ml": result.density_g_ml},
        "ingredients": [
            {
                "name": line.name,
                "percent": line.percent,
                "g_per_egg": line.g_per_egg,
                "note": line.note,
            }
            for line in result.ingredients
        ],
        "contains": list(result.contains),
        "not_declared": list(result.not_declared),
        "notes": list(result.notes),
        "cautions": cautions_data(result.cautions),
        "assumptions": assumptions_data(result.assumptions),
        "companions": companions_data(result.companions),
    }
