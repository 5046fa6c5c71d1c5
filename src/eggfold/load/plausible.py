"""What a scale cannot have shown: a slip of the pen that no bowl may be learned from."""

from __future__ import annotations

from eggfold.amounts import Amount, mass_in_words
from eggfold.engine.paste import ball_volume_ml, measured_density_g_ml
from eggfold.load.fields import problem
from eggfold.reference.defaults import (
    LEAST_FINISHED_SHARE,
    MOST_FINISHED_SHARE,
    PASTE_DENSITY_RANGE_G_ML,
)
from eggfold.units import amount_in


def finished_fault(finished: Amount, paste_g: float) -> str | None:
    """Say why baits cannot weigh so much dried, None where they can."""
    finished_g = amount_in(finished, "g")
    paste = mass_in_words(paste_g)
    if finished_g > MOST_FINISHED_SHARE * paste_g * (1 + 1e-9):
        return f"{finished} of dried baits is more than the paste they came from, {paste}, gives"
    if finished_g < LEAST_FINISHED_SHARE * paste_g * (1 - 1e-9):
        return f"{finished} of dried baits is too little for the paste they came from, {paste}"
    return None


def refuse_finished(finished: Amount, paste_g: float, key: str) -> None:
    """Raise the problem of a finished weight that cannot be."""
    if text := finished_fault(finished, paste_g):
        low, high = (
            mass_in_words(LEAST_FINISHED_SHARE * paste_g),
            mass_in_words(MOST_FINISHED_SHARE * paste_g),
        )
        raise problem("finished-weight", text, f"{low} to {high}, all baits of this bowl", key=key)


def refuse_density(hundred: Amount, diameter: Amount, key: str) -> None:
    """Raise the problem of a hundred baits that are too heavy or too light for their size."""
    size_mm = amount_in(diameter, "mm")
    density = measured_density_g_ml(amount_in(hundred, "g"), size_mm)
    low, high = PASTE_DENSITY_RANGE_G_ML
    if low * (1 - 1e-9) <= density <= high * (1 + 1e-9):
        return
    text = (
        f"a hundred baits of {diameter} at {hundred} are paste of {density:.2g} g/ml; fresh paste has "
        f"{low:g} to {high:g}"
    )
    bait_g = 100 * ball_volume_ml(size_mm)
    hint = f"{mass_in_words(low * bait_g)} to {mass_in_words(high * bait_g)} at {diameter}"
    raise problem("paste-density", text, hint, key=key)
