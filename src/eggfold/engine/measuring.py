"""Which tool measures a dose best, what to read on it, and how far out that is."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from eggfold.amounts import counted
from eggfold.records import NamedTuple
from eggfold.reference.measures import (
    BLIND_PERCENT,
    FINER_DIVISIONS_G,
    FINER_UP_TO_G,
    MOST_DROPS,
    MOST_FILLINGS,
    PREMIX_DIVISIONS,
    PREMIX_ROOM,
    WARN_PERCENT,
    Tool,
    ToolKind,
)

COUNTED = frozenset({"spoon", "dropper"})
"""Kinds that are only taken whole."""
ROUNDING = 1e-9
PREMIX_FACTORS = (10, 20, 50, 100, 200, 500, 1000)


class ToolReading(NamedTuple):
    """A tool, what to read on it in all, in how many fillings, and the error.

    ``premix`` is 1 without a premix; at 10, one part of the additive in ten parts in all is measured.
    An ``amount`` of 0 says that no tool shows the dose.
    """

    tool: Tool
    amount: float
    fillings: int
    error_pct: float
    premix: int = 1

    @property
    def is_handy(self) -> bool:
        """Whether nobody tires of filling the tool, or of counting the drops."""
        return self.fillings <= _most(self.tool)

    @property
    def is_plain(self) -> bool:
        """Whether the dose itself is shown, in few fillings and without a premix."""
        return self.amount > 0 and self.premix == 1 and self.is_handy

    @property
    def stirred(self) -> int:
        """How much of the additive goes into a premix, in the tool's unit."""
        shown = math.ceil(round(PREMIX_DIVISIONS * self.tool.division, 9))
        return max(1, shown, math.ceil(round(self.amount / self.premix, 9)))

    @property
    def stirred_into(self) -> int:
        """How much base mix, oil or water it is stirred into, in the tool's unit."""
        return self.stirred * (self.premix - 1)

    @property
    def in_words(self) -> str:
        """The tool, with the premix and the fillings; drops are counted."""
        if not self.amount:
            return "no tool here"
        name = self.tool.name
        if self.tool.kind == "dropper":
            name = counted(self.fillings, "drop")
        elif self.fillings > 1:
            name = f"{self.fillings} × {name}"
        return name if self.premix == 1 else f"premix 1 in {self.premix}, {name}"


def best_reading(
    tools: Iterable[Tool],
    dose_g: float,
    dose_ml: float | None,
    *,
    written: ToolKind | None = None,
    room: float = PREMIX_ROOM,
) -> ToolReading:
    """Return the reading that a person would take: of those within 5 % the fewest fillings.

    ``error_pct = (abs(amount - dose) + fillings * division / 2) / dose * 100``: each filling is good to
    half a division.

    Parameters
    ----------
    tools : iterable of Tool
        The bench; scales take grams, the others millilitres.
    dose_g : float
        The dose by mass [g], above 0.
    dose_ml : float, optional
        The dose by volume [ml], above 0; without it only scales are asked.
    written : ToolKind, optional
        The kind of tool that the dose was written for, taken among equals.
    room : float
        The most that a premix may be stirred into [tool's unit], 0 or more.

    Returns
    -------
    ToolReading
        Of the tools within 5 % the one with the fewest fillings, of those the kind that the dose
        was written for, then the least error. Where none is within 5 %, the least error within five
        fillings, or twenty drops; the largest tool, filled more often, where five fillings of none
        hold the dose; a premix where every tool is out by more than half of it; an amount of 0 where
        no premix has room.

    Notes
    -----
    Of the premixes that have room the one with the least error is taken; stirring adds none.
    A house rule; no source.

    Examples
    --------
    >>> from eggfold.reference.measures import BUILT_IN
    >>> best_reading(BUILT_IN, 3.76, 3.76, written="syringe").in_words
    '5 ml syringe'
    >>> best_reading(BUILT_IN, 31.76, 23.5, written="scale").in_words
    'pocket scale'
    >>> best_reading(BUILT_IN, 0.02, None).in_words
    'premix 1 in 100, pocket scale'
    """
    asked = [(t, dose_g if t.unit == "g" else dose_ml) for t in tools]
    known = [(t, dose) for t, dose in asked if dose is not None]
    plain = [r for t, dose in known for r in _readings_on(t, dose) if _shows(r)]
    if good := [r for r in plain if r.error_pct <= WARN_PERCENT + ROUNDING]:
        return min(good, key=lambda r: (r.fillings, r.tool.kind != written, *_rank(r)))
    handy = [r for r in plain if r.is_handy]
    if handy and any(_holds(t, dose) for t, dose in known):
        return min(handy, key=_rank)
    if plain:
        nearest = (min(_readings_on(t, dose), key=_rank) for t, dose in known)
        return min((r for r in nearest if _shows(r)), key=lambda r: r.fillings)
    premixes = list(_premixes(known, room))
    if premixes:
        return min(premixes, key=_rank)
    finest = min((t for t, _ in known), key=lambda t: t.division)
    return ToolReading(finest, 0.0, 0, 100.0)


def reading_as_written(
    tools: Iterable[Tool], dose_ml: float, written: ToolKind
) -> ToolReading | None:
    """Return a dose in whole drops or level spoons as it was written, None where it is not whole.

    ``number = dose_ml / capacity``

    Parameters
    ----------
    tools : iterable of Tool
        The bench, with its dropper and spoons.
    dose_ml : float
        The dose by volume [ml], above 0.
    written : ToolKind
        The kind of tool that the dose was written for.

    Returns
    -------
    ToolReading or None
        Up to twenty drops, or the fewest spoons up to five; its fillings are their number.

    Notes
    -----
    For a dose that is written in drops or spoons: whoever wrote it counted them, of a size that
    nobody measured, and counts the same ones again. A house rule; no source.

    Examples
    --------
    >>> from eggfold.reference.measures import BUILT_IN
    >>> reading_as_written(BUILT_IN, 0.35, "dropper").in_words
    '7 drops'
    >>> reading_as_written(BUILT_IN, 2.5, "spoon").in_words
    '1/2 tsp'
    """
    whole = []
    for tool in tools:
        if tool.kind == written and written in COUNTED:
            number = round(dose_ml / tool.capacity)
            if 0 < number <= _most(tool) and math.isclose(number * tool.capacity, dose_ml):
                whole.append(_reading(tool, dose_ml, number))
    return min(whole, key=lambda r: r.fillings, default=None)


def scale_for(dose_g: float, *, room: float = PREMIX_ROOM) -> float | None:
    """Return the coarsest division of a scale that shows a dose within 5 %, None where none does.

    The first of 0.1, 0.01 and 0.001 g at which ``best_reading`` of dose_g and room, on a scale up to 50 g, has
    an error of 5 % or less.

    Parameters
    ----------
    dose_g : float
        The dose by mass [g], above 0.
    room : float
        The most that a premix may be stirred into [g], 0 or more.

    Returns
    -------
    float or None
        Division [g], with a premix where it takes one.

    Notes
    -----
    A house rule; no source.

    Examples
    --------
    >>> scale_for(0.011), scale_for(0.0011), scale_for(0.00000011)
    (0.1, 0.01, None)
    """
    for division in FINER_DIVISIONS_G:
        scale = Tool("scale", "scale", "g", FINER_UP_TO_G, division)
        reading = best_reading([scale], dose_g, None, room=room)
        if reading.amount and reading.error_pct <= WARN_PERCENT + ROUNDING:
            return division
    return None


def _readings_on(tool: Tool, dose: float) -> list[ToolReading]:
    """Return the marks below and above a dose, and what full fillings give that fall short of it.

    Of fillings one fewer than the dose needs, and as many as are handy; spoons and drops are whole.
    """
    step, marks = _step(tool), _marks(tool)
    below = math.floor(dose / step)
    full = math.ceil(below / marks) - 1
    steps = {below, below + 1, full * marks, min(full, _most(tool)) * marks}
    return [_reading(tool, dose, n) for n in sorted(steps) if n > 0]


def _premixes(known: list[tuple[Tool, float]], room: float) -> Iterator[ToolReading]:
    for premix in PREMIX_FACTORS:
        for tool, dose in known:
            for plain in _readings_on(tool, dose * premix):
                reading = plain._replace(premix=premix)
                if _shows(reading) and reading.is_handy and reading.stirred_into <= room:
                    yield reading


def _reading(tool: Tool, dose: float, steps: int) -> ToolReading:
    step = _step(tool)
    amount = steps / round(1 / step) if step < 1 and (1 / step).is_integer() else steps * step
    fillings = math.ceil(steps / _marks(tool))
    error = abs(amount - dose) + fillings * tool.division / 2
    return ToolReading(tool, amount, fillings, error / dose * 100)


def _step(tool: Tool) -> float:
    return tool.capacity if tool.kind in COUNTED else tool.division


def _marks(tool: Tool) -> int:
    return max(1, math.floor(tool.capacity / _step(tool) + ROUNDING))


def _most(tool: Tool) -> int:
    return MOST_DROPS if tool.kind == "dropper" else MOST_FILLINGS


def _holds(tool: Tool, dose: float) -> bool:
    """Tell whether the mark nearest to the dose is within the fillings."""
    return dose <= (_most(tool) * _marks(tool) + 0.5) * _step(tool) * (1 + ROUNDING)


def _shows(reading: ToolReading) -> bool:
    return reading.error_pct <= BLIND_PERCENT + ROUNDING


def _rank(reading: ToolReading) -> tuple[float, int, int, float]:
    return reading.error_pct, reading.fillings, reading.premix, reading.tool.capacity
