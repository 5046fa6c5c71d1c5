"""Seconds in the pan by diameter and target, or what a given time reaches."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.engine.paste import mixed_parts
from eggfold.errors import NoAnswerError
from eggfold.recipe.assumptions import HOUSE_DEFAULTS, Assumption, Defaults, joined
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
    from collections.abc import Iterator

    from eggfold.load.load_recipe import Companion

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
            f"no target is below the water's {kitchen.water_c:.1f} °C, the highest centre "
            "temperature there is; choose another --until"
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
