"""How the seconds in the pan grow with the size."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.jobs.bowl.kitchen import boil_until
from eggfold.pages.figures import seconds_text, size_text
from eggfold.pages.page import Plot
from eggfold.reference.boiling import TARGETS

if TYPE_CHECKING:
    from eggfold.jobs.boil import BoilTable

FEWEST_SIZES = 3
CURVE_POINTS = 41


def time_curve(table: BoilTable) -> tuple[Plot, ...]:
    """Return the curve of time over size for the table's first target, where there are sizes."""
    sizes = sorted({row.diameter_mm for row in table.rows})
    first = table.rows[0]
    if len(sizes) < FEWEST_SIZES or first.until is None or first.seconds is None:
        return ()
    target = TARGETS[first.until]
    step = (sizes[-1] - sizes[0]) / (CURVE_POINTS - 1)
    curve = (sizes[0] + i * step for i in range(CURVE_POINTS))
    points = tuple((d, _time_s(table, d)) for d in curve)
    marks = [(sizes[0], _time_s(table, sizes[0]), _mark(table, sizes[0], sizes[0]))]
    twice = 2 * sizes[0]
    if twice <= sizes[-1]:
        marks.append((twice, _time_s(table, twice), _mark(table, twice, sizes[0])))
    heading = f"TIME OVER SIZE  {target.name} ({target.centre_c:g} °C)"
    return (Plot(heading, "diameter, mm", "time, s", points, tuple(marks)),)


def _time_s(table: BoilTable, diameter_mm: float) -> float:
    first = table.rows[0]
    target = TARGETS[str(first.until)]
    boil = boil_until(diameter_mm, target, table.heat, table.kitchen, first.core_mm)
    return boil.seconds or 0.0


def _mark(table: BoilTable, diameter_mm: float, least_mm: float) -> str:
    time_s = _time_s(table, diameter_mm)
    text = f"{size_text(diameter_mm)} in {seconds_text(time_s)}"
    if diameter_mm == least_mm:
        return text
    least_s = _time_s(table, least_mm)
    return (
        f"{text}: {diameter_mm / least_mm:g} times the size, {time_s / least_s:.2f} times the time"
    )
