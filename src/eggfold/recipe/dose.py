"""One additive in one bowl, and the tool to measure it with."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.measuring import ToolReading, best_reading, reading_as_written, scale_for
from eggfold.engine.scaling import Measure, measure_of, scale_dose
from eggfold.recipe.trial import Additive
from eggfold.reference.bench import PREMIX_ROOM, Tool
from eggfold.units import is_volume

if TYPE_CHECKING:
    from eggfold.files.recipe import Strength


class DoseLine(NamedTuple):
    """One additive in the bowl: this batch's amount beside the trial's, and how to measure it."""

    additive: Additive
    amount: Measure
    by_volume: bool
    trial: Measure | None
    reading: ToolReading
    over_ceiling: bool
    finer_g: float | None = None
    """What a scale that shows the dose tells apart [g], where no tool here shows it."""

    @property
    def factor(self) -> float | None:
        """How many times the trial's amount this is."""
        return self.amount.g / self.trial.g if self.trial and self.trial.g else None


def dose_line(
    additive: Additive,
    strength: Strength,
    eggs: float,
    dry_g: float,
    base_g: float,
    trial: Measure | None,
    tools: tuple[Tool, ...],
) -> DoseLine | None:
    """Return the line of an additive, None where it is left out.

    A premix of a powder takes no more than the bowl's own base mix, ``base_g``.
    """
    dose = additive.dose(strength)
    if dose is None:
        return None
    amount = measure_of(scale_dose(dose, eggs, dry_g), additive.density_g_ml)
    reading = reading_of(additive, strength, amount, tools, base_g)
    over = over_ceiling(additive, amount, eggs, dry_g)
    finer = None if reading.amount else scale_for(amount.g, room=_room(additive, base_g))
    return DoseLine(additive, amount, is_volume(dose), trial, reading, over, finer)


def reading_of(
    additive: Additive,
    strength: Strength,
    amount: Measure,
    tools: tuple[Tool, ...],
    base_g: float,
) -> ToolReading:
    """Return the reading a person would take for an amount.

    A dose changes between syringe and scale only by a density that somebody stated, or where no
    syringe shows it. Whole drops and spoons stay what they were written as, and a powder cannot be
    drawn up.
    """
    dose, room = additive.dose(strength), _room(additive, base_g)
    written = additive.written.get(strength)
    if additive.form == "powder":
        tools = tuple(tool for tool in tools if tool.kind in {"scale", "spoon"})
    if written and amount.ml is not None:
        counted = reading_as_written(tools, amount.ml, written)
        if counted:
            return counted
    by_volume = dose is not None and is_volume(dose)
    if not by_volume and not additive.density_is_own:
        return best_reading(tools, amount.g, None, written=written, room=room)
    if by_volume and not additive.density_is_own:
        by_ml = tuple(tool for tool in tools if tool.unit == "ml")
        reading = best_reading(by_ml, amount.g, amount.ml, written=written, room=room)
        if reading.is_plain:
            return reading
    return best_reading(tools, amount.g, amount.ml, written=written, room=room)


def _room(additive: Additive, base_g: float) -> float:
    """Return how much a premix may be stirred into: base mix is lighter than 1 g/ml."""
    return base_g if additive.form == "powder" else PREMIX_ROOM


def over_ceiling(additive: Additive, amount: Measure, eggs: float, dry_g: float) -> bool:
    """Tell whether an amount is more than the ceiling of its additive allows."""
    if additive.ceiling is None:
        return False
    most = measure_of(scale_dose(additive.ceiling, eggs, dry_g), additive.density_g_ml)
    return amount.g > most.g * (1 + 1e-9)
