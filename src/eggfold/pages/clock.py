"""The clock at the stove: its schedule as a page, and the lines that a terminal shows live."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.pages.basis import basis_blocks
from eggfold.pages.boil import CAUTIONS, CUT_FIRST
from eggfold.pages.figures import bait_text, clock_text, mass_text
from eggfold.pages.page import Column, Facts, Lines, Page, Table

if TYPE_CHECKING:
    from eggfold.recipe.boil_clock import ClockLoad, PanClock

NARROWEST_BAR = 5


def clock_page(clock: PanClock) -> Page:
    """Return the schedule: every load, when it goes in and when it comes out."""
    columns = (
        Column("Load", "right"),
        Column("Bait"),
        Column("weighs up to", "right"),
        Column("goes in", "right"),
        Column("comes out", "right"),
        Column("done"),
    )
    rows = tuple(_row(load) for load in clock.loads)
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


def _row(load: ClockLoad) -> tuple[str, ...]:
    return (
        f"{load.number}",
        _bait(load),
        mass_text(load.bait.load_g),
        clock_text(load.in_s),
        clock_text(load.out_s),
        "[ ]",
    )


def _bait(load: ClockLoad) -> str:
    return bait_text(load.bait.kind, load.bait.diameter_mm, load.bait.core_mm)


def load_line(load: ClockLoad, of: int) -> str:
    """Return what the next load is."""
    mass, time = mass_text(load.bait.load_g), clock_text(load.bait.seconds)
    return f"Load {load.number} of {of}: {_bait(load)}, {mass}, boils {time}"


def bar_line(what: str, left_s: float, whole_s: float, width: int) -> str:
    """Return a countdown with its bar, at most ``width`` characters."""
    tail = f" {clock_text(left_s)} left"
    room = width - len(what) - len(tail) - 3
    if room < NARROWEST_BAR:
        return f"{what}{tail}"[:width]
    done = round(room * (1 - left_s / whole_s)) if whole_s else room
    return f"{what} [{'#' * done}{'-' * (room - done)}]{tail}"
