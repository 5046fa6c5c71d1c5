"""One additive in one bowl, and the tool to measure it with."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.measuring import Reading, best_reading
from eggfold.engine.scaling import Measure, measure_of, scale_dose
from eggfold.jobs.bowl.trial import Additive
from eggfold.reference.bench import MOST_FILLINGS, Tool
from eggfold.units import is_volume

if TYPE_CHECKING:
    from eggfold.files.recipe import Strength


class DoseLine(NamedTuple):
    """One additive in the bowl: this batch's amount beside the trial's, and how to measure it."""

    additive: Additive
    amount: Measure
    by_volume: bool
    trial: Measure | None
    reading: Reading
    over_ceiling: bool

    @property
    def factor(self) -> float | None:
        """How many times the trial's amount this is."""
        return self.amount.g / self.trial.g if self.trial and self.trial.g else None


def dose_line(
    additive: Additive,
    strength: Strength,
    eggs: float,
    dry_g: float,
    trial: Measure | None,
    tools: tuple[Tool, ...],
) -> DoseLine | None:
    """Return the line of an additive, None where it is left out."""
    dose = additive.dose(strength)
    if dose is None:
        return None
    amount = measure_of(scale_dose(dose, eggs, dry_g), additive.density_g_ml)
    by_volume = is_volume(dose)
    reading = reading_of(additive, amount, tools, by_volume=by_volume)
    over = over_ceiling(additive, amount, eggs, dry_g)
    return DoseLine(additive, amount, by_volume, trial, reading, over)


def reading_of(
    additive: Additive, amount: Measure, tools: tuple[Tool, ...], *, by_volume: bool
) -> Reading:
    """Return the best reading for an amount.

    A dose changes between syringe and scale only by a density that somebody stated, or where no
    syringe holds it.
    """
    if additive.density_is_own:
        return best_reading(tools, amount.g, amount.ml)
    if not by_volume:
        return best_reading(tools, amount.g, None)
    by_ml = tuple(tool for tool in tools if tool.unit == "ml")
    reading = best_reading(by_ml, amount.g, amount.ml)
    if reading.fillings > MOST_FILLINGS:
        return best_reading(tools, amount.g, amount.ml)
    return reading


def over_ceiling(additive: Additive, amount: Measure, eggs: float, dry_g: float) -> bool:
    """Tell whether an amount is more than the ceiling of its additive allows."""
    if additive.ceiling is None:
        return False
    most = measure_of(scale_dose(additive.ceiling, eggs, dry_g), additive.density_g_ml)
    return amount.g > most.g * (1 + 1e-9)
