"""Seconds in the pan by diameter and target, or what a given time reaches."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from eggfold.engine.paste import mixed_parts
from eggfold.errors import NoAnswerError
from eggfold.recipe.asked import HOUSE_DEFAULTS, Assumption, Defaults, joined
from eggfold.recipe.bench import BUILT_IN_BENCH, Bench
from eggfold.recipe.boil_times import (
    Boil,
    Cut,
    Kitchen,
    PasteHeat,
    boil_of,
    build_kitchen,
    custom_assumptions,
    pan_load_g,
    paste_heat,
    target_assumptions,
    wait_s,
)
from eggfold.recipe.composition import EGG_PARTS, PASTE_TABLES, TYPICAL_PARTS, Composition
from eggfold.recipe.trial import graded_egg
from eggfold.records import NamedTuple
from eggfold.reference.boiling import TARGETS, TYPICAL_MIX
from eggfold.reference.defaults import DEFAULT_DRY_G
from eggfold.reference.eggs import WHOLE_EGG

if TYPE_CHECKING:
    from eggfold.load.load_recipe import Companion
    from eggfold.recipe.batch import Batch


DEFAULT_DIAMETERS_MM = tuple(float(d) for d in range(8, 25, 2))


class AskedBoil(NamedTuple):
    """What is asked of the pan; None stands for the default."""

    diameters_mm: tuple[float, ...] = DEFAULT_DIAMETERS_MM
    targets: tuple[str, ...] = tuple(TARGETS)
    seconds: float | None = None
    start_c: float | None = None
    altitude_m: float | None = None
    pan_l: float | None = None


class BoilTable(NamedTuple):
    """The answer: a row for each diameter and target."""

    paste: str
    kitchen: Kitchen
    heat: PasteHeat
    load_g: float
    rows: tuple[Boil, ...]
    assumptions: tuple[Assumption, ...]
    companions: tuple[Companion, ...] = ()

    @property
    def first_out(self) -> Boil:
        """The row that is out of the pan first: after it the water has the least time to boil again."""
        reached = (row for row in self.rows if row.seconds is not None)
        return min(reached, key=lambda row: row.seconds or 0.0)

    @property
    def wait_s(self) -> float:
        """The longest wait between two full loads [s]."""
        return self.wait_after(self.first_out)

    def wait_after(self, row: Boil) -> float:
        """Return the wait after a full load of a size [s]."""
        return wait_s(row.seconds or 0.0, self.load_g, self.heat, self.kitchen)


def typical_paste() -> Composition:
    """Return the paste of one EU large egg and 130 g of the typical mix."""
    egg = graded_egg("eu", "large")
    dry = Assumption("dry mix in the paste", f"{DEFAULT_DRY_G:g} g for one egg", "common practice")
    parts = mixed_parts([(egg.each_g, WHOLE_EGG), (DEFAULT_DRY_G, TYPICAL_MIX)])
    return Composition(parts, (*egg.assumptions, dry, TYPICAL_PARTS, EGG_PARTS, PASTE_TABLES))


def build_boil(
    asked: AskedBoil,
    paste: Composition | None = None,
    name: str = "typical paste",
    *,
    defaults: Defaults = HOUSE_DEFAULTS,
    bench: Bench = BUILT_IN_BENCH,
    cuts: tuple[Cut, ...] = (),
    companions: tuple[Companion, ...] = (),
) -> BoilTable:
    """Return the table, of the typical paste without another; NoAnswerError where no row has an answer."""
    paste = paste or typical_paste()
    kitchen = build_kitchen(defaults, asked.altitude_m, asked.pan_l, asked.start_c, bench)
    heat = paste_heat(paste.parts, kitchen, cuts)
    rows = _rows(asked, heat, kitchen)
    if all(row.seconds is None for row in rows):
        raise NoAnswerError(
            f"the water boils at {kitchen.water_c:.1f} °C, and no centre gets hotter than that; choose "
            "another --until"
        )
    assumptions = joined(
        paste.assumptions,
        kitchen.assumptions,
        heat.assumptions,
        _asked_assumptions(asked),
        custom_assumptions(rows),
    )
    load_g = pan_load_g(heat, kitchen)
    return BoilTable(name, kitchen, heat, load_g, rows, assumptions, companions)


def _rows(asked: AskedBoil, heat: PasteHeat, kitchen: Kitchen) -> tuple[Boil, ...]:
    sizes, own_s = asked.diameters_mm, asked.seconds
    if own_s is not None:
        return tuple(boil_of(d, heat, kitchen, target=None, own_s=own_s) for d in sizes)
    targets = [TARGETS[name] for name in asked.targets]
    return tuple(boil_of(d, heat, kitchen, target=t) for d in sizes for t in targets)


def _asked_assumptions(asked: AskedBoil) -> Iterator[Assumption]:
    if asked.seconds is not None:
        yield Assumption("time in the pan", f"{asked.seconds:g} s", "yours")
    else:
        yield from target_assumptions(*(TARGETS[name] for name in asked.targets))


class Boiled(NamedTuple):
    """One kind of bait at the stove: its time in the pan and how many loads there are of it."""

    kind: str
    diameter_mm: float
    core_mm: float | None
    seconds: float
    loads: int
    load_g: float
    wait_s: float
    """Until the pan boils again after a load of it."""


class ClockLoad(NamedTuple):
    """One load: what it is, and when it goes in and comes out if no time is lost."""

    number: int
    bait: Boiled
    in_s: float
    out_s: float
    wait_s: float
    """Until the pan is back on the boil for the next load; 0 after the last."""


class PanClock(NamedTuple):
    """A session at one pan: its loads in order, each with its times."""

    what: str
    loads: tuple[ClockLoad, ...]
    assumptions: tuple[Assumption, ...]
    companions: tuple[Companion, ...] = ()

    @property
    def total_s(self) -> float:
        """From the first load going in to the last coming out."""
        return self.loads[-1].out_s


def build_clock(
    what: str,
    baits: Iterable[Boiled],
    assumptions: tuple[Assumption, ...] = (),
    companions: tuple[Companion, ...] = (),
) -> PanClock:
    """Return the loads of a session in order, with its bait's wait after each but the last.

    Raises NoAnswerError where there is nothing to boil.
    """
    queue = [bait for bait in baits for _ in range(bait.loads)]
    if not queue:
        raise NoAnswerError(
            "nothing of this batch goes into the pan: take more eggs, or bait that is boiled"
        )
    loads = []
    now_s = 0.0
    for number, bait in enumerate(queue, start=1):
        out_s = now_s + bait.seconds
        wait = bait.wait_s if number < len(queue) else 0.0
        loads.append(ClockLoad(number, bait, now_s, out_s, wait))
        now_s = out_s + wait
    return PanClock(what, tuple(loads), assumptions, companions)


def baits_of_table(table: BoilTable, loads: int) -> Iterator[Boiled]:
    """Yield each row of a boil table as so many full loads."""
    for row in table.rows:
        wait = table.wait_after(row)
        yield Boiled("bottom", row.diameter_mm, None, row.said_s, loads, table.load_g, wait)


def baits_of_batch(batch: Batch, loads: int | None) -> Iterator[Boiled]:
    """Yield each bait of a batch; an own number of loads beats the batch's."""
    for line in batch.baits:
        if not (line.count and line.boil):
            continue
        bait = line.kind, line.diameter_mm, line.core_mm
        yield Boiled(*bait, line.boil.said_s, loads or line.loads, line.load_g, line.wait_s)
