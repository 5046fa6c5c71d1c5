"""One additive in one bowl, and the tool to measure it with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.engine.measuring import ToolReading, best_reading, reading_as_written, scale_for
from eggfold.engine.scaling import Measure
from eggfold.recipe.trial import Additive
from eggfold.records import NamedTuple
from eggfold.reference.measures import PREMIX_ROOM, Tool

if TYPE_CHECKING:
    from eggfold.load.recipe import Strength


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


class Bowlful(NamedTuple):
    """What goes into a bowl: eggs, all that is wet, dry mix and the base mix in it [g], additives."""

    eggs: float
    wet_g: float
    dry_g: float
    base_g: float
    amounts: tuple[tuple[Additive, Measure], ...]


def dose_line(
    additive: Additive,
    amount: Measure,
    strength: Strength,
    bowl: Bowlful,
    trial: Measure | None,
    tools: tuple[Tool, ...],
) -> DoseLine:
    """Return the line of an additive that a bowl takes an amount of.

    A premix of a powder takes no more than the bowl's own base mix.
    """
    dose = additive.dose(strength)
    reading = reading_of(additive, strength, amount, tools, bowl.base_g)
    over = additive.over_ceiling(amount, bowl.eggs, bowl.dry_g)
    finer = None if reading.amount else scale_for(amount.g, room=_room(additive, bowl.base_g))
    return DoseLine(
        additive, amount, dose is not None and dose.by_volume, trial, reading, over, finer
    )


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
    by_volume = dose is not None and dose.by_volume
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
