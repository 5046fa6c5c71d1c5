"""The boil table."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import TYPE_CHECKING

from eggfold.engine.properties import PURE_WATER, density_kg_m3, specific_heat_j_kgk
from eggfold.engine.series import ROOTS_MANY, Ball
from eggfold.pages.basis import basis_blocks
from eggfold.pages.display import units_lines
from eggfold.pages.figures import litres_text, mass_text, seconds_text, size_text
from eggfold.pages.page import Block, Column, Facts, Lines, Page, Plot, Table
from eggfold.pages.sums import fine, got, put, without_sum
from eggfold.recipe.kitchen import ball_of, boil_until
from eggfold.reference.boiling import CORED_CUSTOM, JUST_SET_CUSTOM, SET_CUSTOM, TARGETS
from eggfold.reference.defaults import PAN_FALL_K, SHORTEST_WAIT_S

if TYPE_CHECKING:
    from eggfold.recipe.boil import BoilTable
    from eggfold.recipe.kitchen import Boil, Kitchen, PasteHeat


CAUTIONS = (
    "Boiling water and hot baskets scald: long sleeves, no children.",
    "Gas ring: certified, outdoors or wide open, a carbon monoxide alarm beside it.",
    "Cut two or three baits open before you trust a time.",
)


def boil_page(table: BoilTable, *, why: bool = False) -> Page:
    """Return the table: seconds by size and target, or what a given time reaches."""
    own = table.rows[0].until is None
    kitchen = table.kitchen
    blocks: list[Block] = [
        *units_lines(),
        _reached(table) if own else _times(table),
        Facts(
            "PAN",
            (
                ("Water boils at", f"{kitchen.water_c:.1f} °C"),
                ("One load", f"{mass_text(table.load_g)} in {litres_text(kitchen.pan_l)}"),
                ("Between loads", f"wait for the boil, {table.wait_s:.0f} s or more"),
            ),
        ),
        Lines("TAKE CARE", CAUTIONS),
    ]
    if why:
        blocks += time_curve(table)
        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(boil_sums(table))))
    blocks += basis_blocks(table, why=why)
    core_mm = table.rows[0].core_mm
    title = (
        "Time in the pan" if core_mm is None else f"Time in the pan on {size_text(core_mm)} cork"
    )
    return Page(title, table.paste, tuple(blocks))


def _times(table: BoilTable) -> Table:
    names = list(dict.fromkeys(str(row.until) for row in table.rows))
    heads = (Column(f"{name} ({TARGETS[name].centre_c:g} °C)", "right") for name in names)
    customary = any(row.customary_s for row in table.rows)
    columns = [Column("Size"), *heads]
    if customary:
        columns.append(Column("customary"))
    rows = []
    for diameter, group in groupby(table.rows, key=lambda row: row.diameter_mm):
        boils = list(group)
        cells = [size_text(diameter), *(_seconds(b) for b in boils)]
        if customary:
            cells.append(_customary(boils))
        rows.append(tuple(cells))
    return Table("SECONDS  from the load going in", tuple(columns), tuple(rows))


def _customary(boils: list[Boil]) -> str:
    known = {str(b.until): seconds_text(b.customary_s) for b in boils if b.customary_s}
    if len(known) == len(boils) and len(set(known.values())) == 1:
        return next(iter(known.values()))
    return ", ".join(f"{until} {time}" for until, time in known.items()) or "–"


def _seconds(boil: Boil) -> str:
    return "not here" if boil.seconds is None else seconds_text(boil.seconds)


def _reached(table: BoilTable) -> Table:
    columns = (Column("Size"), Column("boil", "right"), Column("reaches", "right"))
    rows = tuple(
        (size_text(r.diameter_mm), _seconds(r), f"{r.centre_c:.1f} °C") for r in table.rows
    )
    point = "CENTRE" if table.rows[0].core_mm is None else "PASTE AT THE CORK"
    return Table(f"{point}  after your time", columns, rows)


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


TERMS_SHOWN = 4
FOURIER_OF_FOUR = 0.03
"""From this Fourier number on the depth of the paste the terms after the fourth are under 0.002."""


def boil_sums(table: BoilTable) -> Iterator[str]:
    """Yield the sums of a table: the pan, the paste, then each row."""
    yield from pan_sums(table.kitchen, table.heat, table.load_g)
    for row in table.rows:
        yield from row_sums(table.kitchen, table.heat, row)
    yield wait_sum(table.kitchen, table.heat, table.first_out, table.wait_s)


def pan_sums(kitchen: Kitchen, heat: PasteHeat, load_g: float) -> Iterator[str]:
    """Yield what holds for every size: the water, the paste, one load."""
    mean_c = (kitchen.start_c + kitchen.water_c) / 2
    yield without_sum(
        f"Water at {kitchen.altitude_m:g} m",
        f"boils at {kitchen.water_c:.4f} °C",
        "the pressure is that of ISO 2533 and the boiling point IAPWS-IF97's",
    )
    yield (
        f"Paste in the pan, on average = (start + boil) / 2 = ({put(kitchen.start_c)} + "
        f"{put(kitchen.water_c)}) / 2 = {got(mean_c)} °C"
    )
    yield without_sum(
        "Paste at that temperature",
        f"conducts {put(heat.conductivity_w_mk)} W/(m K), holds {put(heat.specific_heat_j_kgk)} "
        f"J/(kg K), diffusivity {put(heat.diffusivity_m2_s * 1e6)} mm²/s",
        "from its parts by the tables of Choi and Okos",
    )
    density = density_kg_m3(PURE_WATER, kitchen.water_c)
    holds, paste = specific_heat_j_kgk(PURE_WATER, kitchen.water_c), heat.specific_heat_j_kgk
    yield (
        "One load = pan × water's density × what water holds × fall / (what paste holds × (boil − fall "
        f"− start)) = {put(kitchen.pan_l)} × {put(density / 1000)} × {put(holds)} × {PAN_FALL_K:g} / "
        f"({put(paste / 1000)} × ({put(kitchen.water_c)} − {PAN_FALL_K:g} − "
        f"{put(kitchen.start_c)})) = {got(load_g)} g"
    )


def row_sums(kitchen: Kitchen, heat: PasteHeat, row: Boil) -> Iterator[str]:
    """Yield the sums of one size: its Biot number, its seconds, what is left at the centre."""
    radius_mm, size = row.diameter_mm / 2, size_text(row.diameter_mm)
    where = "centre" if row.core_mm is None else "paste at the cork"
    yield (
        f"Boil of {size}: Biot number = film × radius / conducts = {put(kitchen.film_w_m2k)} × "
        f"{put(radius_mm / 1000)} / {put(heat.conductivity_w_mk)} = {got(row.biot)}"
    )
    if row.seconds is None or row.fourier is None:
        yield without_sum(
            f"Boil of {size}",
            f"{row.centre_c:g} °C is never reached",
            f"the water is at {kitchen.water_c:.2f} °C",
        )
        return
    if row.seconds == 0:
        yield without_sum(
            f"Boil of {size}", "0 s", f"the paste is at {row.centre_c:g} °C before it goes in"
        )
        return
    diffusivity = put(heat.diffusivity_m2_s * 1e6)
    yield (
        f"Boil of {size}: seconds = Fourier number × radius² / diffusivity = {put(row.fourier)} × "
        f"{put(radius_mm)}² / {diffusivity} = {got(row.seconds)} s"
    )
    rise, whole = kitchen.water_c - row.centre_c, kitchen.water_c - kitchen.start_c
    yield _left_sum(ball_of(row.diameter_mm, row.core_mm, heat, kitchen), row, rise / whole)
    yield (
        f"Boil of {size}: {where} = boil − left × (boil − start) = {put(kitchen.water_c)} − "
        f"{put(rise / whole)} × ({put(kitchen.water_c)} − {put(kitchen.start_c)}) = "
        f"{fine(row.centre_c, 2)} °C"
    )
    yield from _custom_sums(row)


def _left_sum(ball: Ball, row: Boil, left: float) -> str:
    size = size_text(row.diameter_mm)
    fourier = row.fourier or 0.0
    what = f"Boil of {size}: left of the first difference"
    if fourier / ball.depth_share**2 < FOURIER_OF_FOUR:
        how = f"a series of {ROOTS_MANY} terms at Fourier number {put(fourier)}"
        return without_sum(what, put(left), how)
    terms = "".join(
        f" {'−' if c < 0 else '+'} {put(abs(c))} × e^(−{put(d)} × {put(fourier)})"
        for c, d in ball.terms(TERMS_SHOWN)
    ).removeprefix(" + ")
    core = "" if row.core_mm is None else " and the core"
    return (
        f"{what} = Σ C × e^(−D × Fourier number), the first terms, C and D from the Biot number{core} = "
        f"{terms} = {fine(left, 3)}"
    )


def _custom_sums(row: Boil) -> Iterator[str]:
    """Yield where a customary time comes from, and which of the two is followed."""
    if row.customary_s is None or row.seconds is None:
        return
    size, custom = size_text(row.diameter_mm), put(row.customary_s)
    (low_mm, low_s), (high_mm, high_s) = SET_CUSTOM
    if row.core_mm is None and row.until == "set":
        yield (
            f"Boil of {size}: customary = {low_s:g} + ({put(row.diameter_mm)} − {low_mm:g}) / "
            f"({high_mm:g} − {low_mm:g}) × ({high_s:g} − {low_s:g}) = {custom} s, from memory"
        )
    else:
        usual = CORED_CUSTOM[2] if row.core_mm is not None else JUST_SET_CUSTOM[1]
        yield without_sum(f"Boil of {size}: customary", f"{usual:g} s", "it is common practice")


def wait_sum(kitchen: Kitchen, heat: PasteHeat, row: Boil, wait: float) -> str:
    """Return how the wait between two loads of a size came about."""
    size = size_text(row.diameter_mm)
    if kitchen.burner_w is None:
        how = "it is a house default where the bench has no burner"
        return without_sum(f"Wait between loads of {size}", f"{wait:g} s", how)
    power = kitchen.efficiency * kitchen.burner_w
    need = row.load_g / 1000 * heat.specific_heat_j_kgk * (kitchen.water_c - kitchen.start_c)
    return (
        f"Wait between loads of {size} = load × what paste holds × (boil − start) / (efficiency × "
        f"burner) − seconds in the pan = {put(row.load_g / 1000)} × {put(heat.specific_heat_j_kgk)} "
        f"× ({put(kitchen.water_c)} − {put(kitchen.start_c)}) / ({put(kitchen.efficiency)} × "
        f"{put(kitchen.burner_w)}) − {put(row.follow_s or 0.0)} = "
        f"{fine(need / power - (row.follow_s or 0.0), 2)} s; at least {SHORTEST_WAIT_S:g} s, which makes "
        f"{fine(wait, 2)} s"
    )
