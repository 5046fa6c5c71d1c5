"""How the seconds in the pan came about, and how they grow with the size."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.engine.properties import PURE_WATER, density_kg_m3, specific_heat_j_kgk
from eggfold.engine.series import ROOTS_MANY, Ball
from eggfold.jobs.kitchen import ball_of, boil_until
from eggfold.pages.figures import number_text, seconds_text, size_text
from eggfold.pages.page import Plot
from eggfold.reference.boiling import TARGETS
from eggfold.reference.defaults import PAN_FALL_K

if TYPE_CHECKING:
    from eggfold.jobs.boil import BoilTable
    from eggfold.jobs.kitchen import Boil

TERMS_SHOWN = 4
FOURIER_OF_FOUR = 0.03
"""From this Fourier number on the depth of the paste the terms after the fourth are under 0.002."""
FEWEST_SIZES = 3
CURVE_POINTS = 41


def _n(value: float) -> str:
    return number_text(value, 6)


def boil_sums(table: BoilTable) -> Iterator[str]:
    """Yield the sums of a table: the pan, the paste, then each row."""
    kitchen, heat = table.kitchen, table.heat
    yield (
        f"Paste at the mean of {kitchen.start_c:g} and {kitchen.water_c:.2f} °C (Choi and Okos, from its "
        f"parts): conducts {_n(heat.conductivity_w_mk)} W/(m K), diffusivity "
        f"{_n(heat.diffusivity_m2_s * 1e6)} mm²/s, holds {_n(heat.specific_heat_j_kgk)} J/(kg K)"
    )
    yield (
        "Biot number = film × radius / conducts. What is left of the first difference = Σ C × "
        "e^(−D × Fourier number), C and D from the Biot number"
        + ("" if table.rows[0].core_mm is None else " and the core's share of the diameter")
        + ". Fourier number = diffusivity × seconds / radius²"
    )
    for row in table.rows:
        yield _row_sum(table, row)
    yield _load_sum(table)


def _load_sum(table: BoilTable) -> str:
    kitchen = table.kitchen
    density = density_kg_m3(PURE_WATER, kitchen.water_c)
    holds, paste = specific_heat_j_kgk(PURE_WATER, kitchen.water_c), table.heat.specific_heat_j_kgk
    return (
        f"One load = pan × water's density × what it holds × fall / (what paste holds × (boil − fall − "
        f"start)) = {_n(kitchen.pan_l)} × {_n(density)} × {_n(holds)} × {PAN_FALL_K:g} / "
        f"({_n(paste)} × ({_n(kitchen.water_c)} − {PAN_FALL_K:g} − {_n(kitchen.start_c)})) = "
        f"{_n(table.load_g)} g"
    )


def _row_sum(table: BoilTable, row: Boil) -> str:
    kitchen, heat = table.kitchen, table.heat
    radius_mm = row.diameter_mm / 2
    head = (
        f"{size_text(row.diameter_mm)}: Biot {_n(kitchen.film_w_m2k)} × {_n(radius_mm / 1000)} / "
        f"{_n(heat.conductivity_w_mk)} = {_n(row.biot)}"
    )
    if row.seconds is None or row.fourier is None:
        return f"{head}; {row.centre_c:g} °C is not below the boil at {kitchen.water_c:.2f} °C"
    if row.seconds == 0:
        return f"{head}; the paste is at {row.centre_c:g} °C before it goes in: 0 s"
    ball = ball_of(row.diameter_mm, row.core_mm, heat, kitchen)
    terms = _terms(ball, row.fourier)
    rise, whole = kitchen.water_c - row.centre_c, kitchen.water_c - kitchen.start_c
    return (
        f"{head}; Fourier {_n(heat.diffusivity_m2_s * 1e6)} × {_n(row.seconds)} / {_n(radius_mm)}² = "
        f"{_n(row.fourier)}; left {terms} = {_n(rise / whole)}; so "
        f"{_n(kitchen.water_c)} − {_n(rise / whole)} × ({_n(kitchen.water_c)} − "
        f"{_n(kitchen.start_c)}) = {_n(row.centre_c)} °C after {_n(row.seconds)} s"
    )


def _terms(ball: Ball, fourier: float) -> str:
    if fourier / ball.depth_share**2 < FOURIER_OF_FOUR:
        return f"by {ROOTS_MANY} terms"
    terms = (
        f"{'−' if c < 0 else '+'} {_n(abs(c))} × e^(−{_n(d)} × {_n(fourier)})"
        for c, d in ball.terms(TERMS_SHOWN)
    )
    return " ".join(terms).removeprefix("+ ")


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
