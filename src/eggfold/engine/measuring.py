"""Which tool measures a dose best, what to read on it, and how far out that is."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from eggfold.reference.bench import (
    BLIND_PERCENT,
    GOOD_ENOUGH_PERCENT,
    MOST_FILLINGS,
    PREMIX_DIVISIONS,
    PREMIX_PERCENT,
    Tool,
)

ROUNDING = 1e-9
PREMIX_FACTORS = (10, 20, 50, 100, 200, 500, 1000)


class Reading(NamedTuple):
    """A tool, what to read on it in all, in how many fillings, and the error.

    ``premix`` is 1 without a premix; at 10, one part of the additive in ten parts in all is measured.
    """

    tool: Tool
    amount: float
    fillings: int
    error_pct: float
    premix: int = 1

    @property
    def stirred(self) -> int:
        """How much of the additive goes into a premix, in the tool's unit."""
        shown = math.ceil(round(PREMIX_DIVISIONS * self.tool.division, 9))
        return max(1, shown, math.ceil(round(self.amount / self.premix, 9)))

    @property
    def in_words(self) -> str:
        """The tool, with the premix and the fillings."""
        name = self.tool.name
        if self.fillings > 1:
            name = f"{self.fillings} × {name}"
        return name if self.premix == 1 else f"premix 1 in {self.premix}, {name}"


def reading_on(tool: Tool, dose: float) -> Reading:
    """Return what a tool reads for a dose.

    ``error_pct = (abs(amount - dose) + fillings * division / 2) / dose * 100``

    Parameters
    ----------
    tool : Tool
        With its capacity and division [tool's unit].
    dose : float
        Amount wanted [tool's unit], positive.

    Returns
    -------
    Reading
        The dose rounded to the tool's divisions (a spoon: to whole spoons).

    Notes
    -----
    Each filling adds half a division.
    A house rule; no source: a reading is good to half a division. Halves are rounded up.

    Examples
    --------
    >>> from eggfold.reference.bench import SCALES
    >>> reading = reading_on(SCALES[0], 31.76)  # 0.1 g divisions: (0.04 + 0.05) / 31.76
    >>> round(reading.amount, 9), reading.fillings, round(reading.error_pct, 2)
    (31.8, 1, 0.28)
    """
    step = tool.capacity if tool.kind in {"spoon", "dropper"} else tool.division
    steps = math.floor(dose / step + 0.5)
    amount = steps / round(1 / step) if step < 1 and (1 / step).is_integer() else steps * step
    fillings = max(1, math.ceil(round(amount / tool.capacity, 9)))
    error = abs(amount - dose) + fillings * tool.division / 2
    return Reading(tool, amount, fillings, error / dose * 100)


def best_reading(tools: Iterable[Tool], dose_g: float, dose_ml: float | None) -> Reading:
    """Return the reading with the least error within five fillings.

    Parameters
    ----------
    tools : iterable of Tool
        The bench; scales take grams, the others millilitres.
    dose_g : float
        The dose by mass [g], above 0.
    dose_ml : float, optional
        The dose by volume [ml], above 0; without it only scales are asked.

    Returns
    -------
    Reading
        A premix where every tool is out by more than half the dose; the largest tool, filled more
        often, where five fillings do not hold it.

    Notes
    -----
    Errors under half a per cent are all as good as exact: then the fewer fillings win. The weakest
    premix within 10 % is taken; the error of stirring it is not counted.
    A house rule; no source.

    Examples
    --------
    >>> from eggfold.reference.bench import BUILT_IN
    >>> best_reading(BUILT_IN, 3.76, 3.76).in_words
    '4 × 1 ml syringe'
    >>> best_reading(BUILT_IN, 0.02, None).in_words
    'premix 1 in 50, pocket scale'
    """
    pairs = [(t, dose_g if t.unit == "g" else dose_ml) for t in tools]
    known = [(t, dose) for t, dose in pairs if dose is not None]
    plain = [reading_on(tool, dose) for tool, dose in known]
    seen = [r for r in plain if r.amount]
    if any(r.error_pct <= BLIND_PERCENT + ROUNDING for r in seen):
        return _best(seen)
    for premix in PREMIX_FACTORS:
        readings = [reading_on(t, dose * premix)._replace(premix=premix) for t, dose in known]
        held = [r for r in readings if r.amount and r.fillings <= MOST_FILLINGS]
        if any(r.error_pct <= PREMIX_PERCENT + ROUNDING for r in held):
            return _best(held)
        seen += held
    return _best(seen or readings)


def _best(readings: list[Reading]) -> Reading:
    within = [r for r in readings if r.fillings <= MOST_FILLINGS]
    return min(within, key=_rank) if within else min(readings, key=lambda r: r.fillings)


def _rank(reading: Reading) -> tuple[float, int, float]:
    error = max(reading.error_pct, GOOD_ENOUGH_PERCENT)
    return error, reading.fillings, reading.tool.capacity
