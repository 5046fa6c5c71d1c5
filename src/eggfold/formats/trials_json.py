"""Trial mixes compared as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.formats.json import Data, companions_data

if TYPE_CHECKING:
    from eggfold.recipe.trials import Trials


def trials_document(trials: Trials) -> Data:
    """Return the object of ``trials``."""
    mixes = [
        {
            "recipe": mix.recipe,
            "file": mix.file,
            "outings": mix.outings.entries,
            "takes": mix.outings.takes,
            "rod_hours": mix.outings.rod_hours,
            "rate": mix.rate,
            "low": mix.low,
            "high": mix.high,
            "probability_best": mix.probability_best,
        }
        for mix in trials.mixes
    ]
    against = [
        {
            "recipe": a.mix.recipe,
            "ratio": a.ratio,
            "p_value": a.p_value,
            "more_rod_hours": a.more_rod_hours,
        }
        for a in trials.against_best
    ]
    left_out = [
        {"recipe": o.recipe, "takes": o.takes, "rod_hours": o.rod_hours} for o in trials.left_out
    ]
    return {
        "kind": "trials",
        "version": 1,
        "mixes": mixes,
        "against_best": against,
        "left_out": left_out,
        "companions": companions_data(trials.companions),
    }
