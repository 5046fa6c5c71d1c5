"""The boil table, the sums of a boil, and the clock at the pan."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import TYPE_CHECKING

from eggfold.engine.boil import boil_time_s
from eggfold.engine.properties import PURE_WATER, density_kg_m3, specific_heat_j_kgk
from eggfold.engine.sphere import roots_needed
from eggfold.pages.figures import (
    Units,
    bait_text,
    boil_text,
    clock_text,
    fine,
    got,
    number_text,
    put,
    seconds_text,
    size_text,
    temperature_text,
    without_sum,
)
from eggfold.pages.page import (
    NONE,
    TICK,
    Block,
    Column,
    Facts,
    Lines,
    Page,
    Plot,
    Table,
    basis_blocks,
)
from eggfold.recipe.boil_times import ball_of
from eggfold.reference.boiling import CUSTOM, DEFAULT_TARGET, ROOM_C, TARGETS
from eggfold.reference.defaults import PAN_FALL_K, SHORTEST_WAIT_S

if TYPE_CHECKING:
    from eggfold.engine.sphere import Sphere
    from eggfold.recipe.boil import BoilTable, ClockLoad, PanClock
    from eggfold.recipe.boil_times import Boil, Kitchen, PasteHeat


CAUTIONS = (
    "Boiling water and hot baskets scald: long sleeves, no children.",
    "Gas ring: certified, outdoors or wide open, a carbon monoxide alarm beside it.",
    "Cut two or three baits open before you trust a time.",
)


AFTER_THE_PAN = (
    "The centre goes on warming after the pan, a small bait's for seconds, a large one's for about a "
    "minute: that peak is what sets it."
)
COLD_WATER = "Tip them out to steam. Cooled in cold water they need about a tenth more time."
COLD_ROOM = "A cold, damp garage dries about half as fast as a room: give them twice the hours."
CORKED = "A bait on a cork ball boils as long as a solid one of its size: cut one open."
CUT_FIRST = (
    "Cut two of the first load of each size open: no raw, shiny core. Write down what you see "
    "with eggfold note cut."
)
SMALLER_LOADS = (
    f"A pan that takes over {SHORTEST_WAIT_S:g} s to boil with a load in wants smaller loads."
)
FROZEN = (
    "Frozen paste is not covered: ice takes heat to melt that is not counted here. Thaw it first, or "
    "cut open and boil longer."
)


def boil_page(table: BoilTable, units: Units, *, why: bool = False) -> Page:
    """Return the table: seconds by size and target, or what a given time reaches."""
    kitchen = table.kitchen
    targets = dict.fromkeys(row.until for row in table.rows)
    blocks: list[Block] = [
        _times(table) if len(targets) > 1 else _centres(table),
        Lines("AT THE PAN", (AFTER_THE_PAN, *_example(table), COLD_WATER, CORKED, SMALLER_LOADS)),
        Facts(
            "PAN",
            (
                ("Water boils at", temperature_text(kitchen.water_c, 1)),
                ("One load", f"up to {units.mass(table.load_g)} in {units.litres(kitchen.pan_l)}"),
                ("Between loads", f"wait for the boil, {seconds_text(table.wait_s)} or more"),
            ),
        ),
        Lines("TAKE CARE", CAUTIONS),
    ]
    if why:
        blocks += _time_curve(table)
        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(dict.fromkeys(_boil_sums(table)))))
    blocks += (*units.lines(), *basis_blocks(table, why=why))
    alerts = (FROZEN,) if kitchen.start_c < 0 else ()
    return Page("Time in the pan", table.paste, tuple(blocks), alerts)


def _times(table: BoilTable) -> Table:
    """Return the time of each target with its range, a row for each size."""
    names = dict.fromkeys(str(row.until) for row in table.rows)
    heads = (Column(f"{name}, {TARGETS[name].centre_c:g} °C", "right") for name in names)
    customary = any(row.customary_s for row in table.rows)
    columns = [Column("Size"), *heads, *((Column("customary", "right"),) if customary else ())]
    rows = []
    for diameter, group in groupby(table.rows, key=lambda row: row.diameter_mm):
        boils = list(group)
        cells = [size_text(diameter), *(_seconds(b) for b in boils)]
        rows.append((*cells, *((customary_text(boils[0]),) if customary else ())))
    heading = "SECONDS  about (from to); the clock starts when the load goes in"
    return Table(heading, tuple(columns), tuple(rows))


def customary_text(boil: Boil) -> str:
    """Return the customary time of a size, a dash where there is none."""
    return NONE if boil.customary_s is None else seconds_text(boil.customary_s)


def _seconds(boil: Boil) -> str:
    return "not here" if boil.seconds is None else boil_text(boil)


def _centres(table: BoilTable) -> Table:
    """Return one time for each size, own or worked out, and how warm the centre gets."""
    customary = any(row.customary_s for row in table.rows)
    columns = (
        Column("Size"),
        Column("boil", "right"),
        Column("centre at lifting", "right"),
        Column("at its hottest", "right"),
        *((Column("customary", "right"),) if customary else ()),
    )
    rows = tuple(
        (
            size_text(row.diameter_mm),
            _seconds(row),
            *(centre_text(c) for c in (row.lifted_c, row.peak_c)),
            *((customary_text(row),) if customary else ()),
        )
        for row in table.rows
    )
    first = table.rows[0]
    what = "CENTRE  after your time"
    if first.until:
        target = TARGETS[first.until]
        what = f"SECONDS  about (from to) until {target.name} ({target.centre_c:g} °C)"
    return Table(f"{what}; the clock starts when the load goes in", columns, rows)


def centre_text(centre_c: float | None) -> str:
    """Return how warm a centre is, a dash where nothing is boiled."""
    return NONE if centre_c is None else temperature_text(centre_c, 1)


def _example(table: BoilTable) -> Iterator[str]:
    """Yield what happens to one of the sizes, where the table has no room for it."""
    reached = [row for row in table.rows if row.until == DEFAULT_TARGET and row.seconds]
    if reached and len({row.until for row in table.rows}) > 1:
        yield _centre_line(reached[len(reached) // 2])


def _centre_line(boil: Boil) -> str:
    """Return what a time in the pan does to the centre of a size."""
    lifted, peak = centre_text(boil.lifted_c), number_text(boil.peak_c or 0.0, 2)
    return (
        f"{size_text(boil.diameter_mm)} after {seconds_text(boil.said_s)}: {lifted} as it leaves the "
        f"pan, {peak} °C at its hottest."
    )


FEWEST_SIZES = 3
CURVE_POINTS = 41


def _time_curve(table: BoilTable) -> tuple[Plot, ...]:
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
    ball = ball_of(diameter_mm, table.heat, table.kitchen)
    return boil_time_s(ball, table.kitchen.course, target.centre_c) or 0.0


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
"""From this Fourier number on the terms after the fourth are under 0.002."""


def _boil_sums(table: BoilTable) -> Iterator[str]:
    """Yield the sums of a table: the pan, the paste, then each row."""
    yield from pan_sums(table.kitchen, table.heat, table.load_g)
    for row in table.rows:
        yield from row_sums(table.kitchen, table.heat, row)
    first = table.first_out
    yield wait_sum(table.kitchen, table.heat, first, table.load_g, table.wait_s)


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
        f"from its parts by the tables of Choi and Okos, {put(kitchen.air_share)} of it air",
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
    """Yield the sums of one size: its Biot number, its seconds, how warm its centre gets."""
    radius_mm, size = row.diameter_mm / 2, size_text(row.diameter_mm)
    yield (
        f"Boil of {size}: Biot number = film × radius / conducts = {put(kitchen.film_w_m2k)} × "
        f"{put(radius_mm / 1000)} / {put(heat.conductivity_w_mk)} = {got(row.biot)}"
    )
    if row.seconds is None or row.fourier is None or row.lifted_c is None or row.peak_c is None:
        how = f"the water is at {kitchen.water_c:.2f} °C"
        yield without_sum(f"Boil of {size}", f"{row.until} is never reached", how)
        return
    if row.seconds == 0:
        how = f"the paste is at {kitchen.start_c:g} °C before it goes in"
        yield without_sum(f"Boil of {size}", "0 s", how)
        return
    diffusivity = put(heat.diffusivity_m2_s * 1e6)
    yield (
        f"Boil of {size}: seconds = Fourier number × radius² / diffusivity = {put(row.fourier)} × "
        f"{put(radius_mm)}² / {diffusivity} = {got(row.seconds)} s"
    )
    rise, whole = kitchen.water_c - row.lifted_c, kitchen.water_c - kitchen.start_c
    yield _left_sum(ball_of(row.diameter_mm, heat, kitchen), row, rise / whole)
    yield (
        f"Boil of {size}: centre as it leaves the pan = boil − left × (boil − start) = "
        f"{put(kitchen.water_c)} − {put(rise / whole)} × ({put(kitchen.water_c)} − "
        f"{put(kitchen.start_c)}) = {fine(row.lifted_c, 2)} °C"
    )
    yield without_sum(
        f"Boil of {size}: centre at its hottest",
        f"{fine(row.peak_c, 2)} °C",
        f"the ball as it leaves the pan is cooled in air of {ROOM_C:g} °C, film "
        f"{put(kitchen.cooling_film_w_m2k)} W/(m² K), in a series of its own",
    )
    yield from _range_sums(kitchen, heat, row)
    yield from _custom_sums(row)


def _left_sum(ball: Sphere, row: Boil, left: float) -> str:
    size = size_text(row.diameter_mm)
    fourier = row.fourier or 0.0
    what = f"Boil of {size}: left of the first difference"
    if fourier < FOURIER_OF_FOUR:
        how = f"a series of {roots_needed(fourier)} terms at Fourier number {put(fourier)}"
        return without_sum(what, put(left), how)
    terms = "".join(
        f" {'−' if c < 0 else '+'} {put(abs(c))} × e^(−{put(d)} × {put(fourier)})"
        for c, d in ball.terms(TERMS_SHOWN)
    ).removeprefix(" + ")
    return (
        f"{what} = Σ C × e^(−D × Fourier number), the first terms, C and D from the Biot number = "
        f"{terms} = {fine(left, 3)}"
    )


def _range_sums(kitchen: Kitchen, heat: PasteHeat, row: Boil) -> Iterator[str]:
    """Yield between which times the heat does it, where one was worked out."""
    if row.worked_s is None or row.low_s is None or row.high_s is None:
        return
    less, more = row.diameter_mm - kitchen.spread_mm, row.diameter_mm + kitchen.spread_mm
    worked = f"{got(row.worked_s)} s, " if row.own else ""
    yield without_sum(
        f"Boil of {size_text(row.diameter_mm)}, from to",
        f"{worked}{got(row.low_s)} to {got(row.high_s)} s",
        f"the times are searched for: from {put(less)} mm that conducts {put(1 + heat.doubt_share)} "
        f"times as well to {put(more)} mm that conducts {put(1 - heat.doubt_share)} times",
    )


def _custom_sums(row: Boil) -> Iterator[str]:
    """Yield where a customary time comes from."""
    if row.customary_s is None:
        return
    (low_mm, low_s), (high_mm, high_s) = CUSTOM
    yield (
        f"Boil of {size_text(row.diameter_mm)}: customary = {low_s:g} + ({put(row.diameter_mm)} − "
        f"{low_mm:g}) / ({high_mm:g} − {low_mm:g}) × ({high_s:g} − {low_s:g}) = "
        f"{put(row.customary_s)} s, from memory"
    )


def wait_sum(kitchen: Kitchen, heat: PasteHeat, row: Boil, load_g: float, wait: float) -> str:
    """Return how the wait between two loads of a size came about."""
    size = size_text(row.diameter_mm)
    if kitchen.burner_w is None:
        how = "it is a house default where the bench has no burner"
        return without_sum(f"Wait between loads of {size}", f"{wait:g} s", how)
    power, seconds = kitchen.efficiency * kitchen.burner_w, row.seconds or 0.0
    need = load_g / 1000 * heat.specific_heat_j_kgk * (kitchen.water_c - kitchen.start_c)
    return (
        f"Wait between loads of {size} = load × what paste holds × (boil − start) / (efficiency × "
        f"burner) − seconds in the pan = {put(load_g / 1000)} × {put(heat.specific_heat_j_kgk)} "
        f"× ({put(kitchen.water_c)} − {put(kitchen.start_c)}) / ({put(kitchen.efficiency)} × "
        f"{put(kitchen.burner_w)}) − {put(seconds)} = {fine(need / power - seconds, 2)} s; at least "
        f"{SHORTEST_WAIT_S:g} s, which makes {fine(wait, 2)} s"
    )


NARROWEST_BAR = 5


def clock_page(clock: PanClock, units: Units) -> Page:
    """Return the schedule: every load, when it goes in and when it comes out."""
    columns = (
        Column("Load", "right"),
        Column("Bait"),
        Column("weighs up to", "right"),
        Column("goes in", "right"),
        Column("comes out", "right"),
        Column("done"),
    )
    rows = tuple(_row(load, units) for load in clock.loads)
    waits = max(load.wait_s for load in clock.loads)
    facts = [("All out after", clock_text(clock.total_s))]
    if waits:
        facts.insert(0, ("Between loads", f"wait for the boil, {clock_text(waits)} or more"))
    blocks = (
        Table("LOADS  minutes and seconds from the first going in", columns, rows),
        Facts("TIME", tuple(facts)),
        Lines("TAKE CARE", (CUT_FIRST, *CAUTIONS[:2])),
        *(basis_blocks(clock) if clock.assumptions else ()),
    )
    return Page("Clock at the stove", clock.what, blocks)


def _row(load: ClockLoad, units: Units) -> tuple[str, ...]:
    return (
        f"{load.number}",
        _bait(load),
        units.mass(load.bait.load_g),
        clock_text(load.in_s),
        clock_text(load.out_s),
        TICK,
    )


def _bait(load: ClockLoad) -> str:
    return bait_text(load.bait.kind, load.bait.diameter_mm, load.bait.core_mm)


def load_line(load: ClockLoad, of: int, units: Units) -> str:
    """Return what the next load is."""
    mass, time = units.mass(load.bait.load_g), clock_text(load.bait.seconds)
    return f"Load {load.number} of {of}: {_bait(load)}, {mass}, boils {time}"


def bar_line(what: str, left_s: float, whole_s: float, width: int) -> str:
    """Return a countdown with its bar, at most ``width`` characters."""
    tail = f" {clock_text(left_s)} left"
    room = width - len(what) - len(tail) - 3
    if room < NARROWEST_BAR:
        return f"{what}{tail}"[:width]
    done = round(room * (1 - left_s / whole_s)) if whole_s else room
    return f"{what} [{'#' * done}{'-' * (room - done)}]{tail}"
