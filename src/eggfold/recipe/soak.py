"""The soak: what finished bait takes up after the boil, and what is to be minded of it."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from eggfold.engine.buoyancy import soaked_lift_range_g
from eggfold.recipe.asked import Assumption
from eggfold.recipe.bench import Bench, build_bench
from eggfold.recipe.cautions import Caution
from eggfold.recipe.mixing import Bowlful, DoseLine, dose_line
from eggfold.recipe.sanity import Doubt
from eggfold.recipe.trial import EGG_WETTING, Additive, build_additive, dose_assumptions
from eggfold.records import NamedTuple
from eggfold.reference.boiling import BALANCED_G, SINKS_FAST_G
from eggfold.reference.defaults import SOAK_H
from eggfold.reference.slips import SLIPS
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.recipe import Strength
    from eggfold.load.register import FullAdditive
    from eggfold.recipe.baits import BaitLine

STRONG = re.compile(r"acid|essential|vinegar|spirit|ethanol|alcohol|solvent", re.IGNORECASE)
"""Names of what burns skin and eyes where it is not diluted."""


class SoakLine(NamedTuple):
    """One thing that finished bait takes up: how much, as it was written, and in how long."""

    dose: DoseLine
    written: str
    hours: float
    assumptions: tuple[Assumption, ...] = ()


def soak_additive(full: FullAdditive, bench: Bench) -> Additive:
    """Return an additive whose dose, of either strength, is that of finished bait."""
    alone = full._replace(hookbait=full.soak, freebie=full.soak, ceiling=None, wetting=1.0)
    return build_additive(alone, None, None, bench)


def soak_doubts(opened: OpenRecipe) -> Iterator[Doubt]:
    """Yield each dose of finished bait that is far above what dried bait takes up."""
    most, bench = SLIPS["strong-soak"].high, build_bench(opened.companions.bench)
    for i, full in enumerate(opened.soak):
        taken = soak_additive(full, bench).amount("hookbait", 0, 1000.0)
        if taken and taken.g > most * (1 + 1e-9) and "strong-soak" not in opened.recipe.ok:
            yield Doubt(
                "strong-soak",
                ("soak", i),
                f"{full.name}: {taken.g:.3g} g for a kilo of dried bait, where 20 to 60 ml are usual",
                "check the decimal point and the unit",
            )


def build_soak(
    listed: Iterable[FullAdditive], strength: Strength, finished_g: float, bench: Bench
) -> Iterator[SoakLine]:
    """Yield what a batch's finished bait takes up."""
    bait = Bowlful(0, 0.0, finished_g, 0.0, ())
    for full in listed:
        additive = soak_additive(full, bench)
        amount = additive.amount(strength, 0, finished_g)
        if amount is None:
            raise LookupError(full.name)
        hours = SOAK_H if full.soak_time is None else amount_in(full.soak_time, "h")
        told = Assumption(
            f"{full.name} is taken up in full, in",
            f"{hours:g} h",
            "yours" if full.soak_time else "house default",
        )
        rests_on = (a for a in dose_assumptions([additive], strength) if a is not EGG_WETTING)
        yield SoakLine(
            dose_line(additive, amount, strength, bait, None, bench.tools),
            str(full.soak),
            hours,
            (*additive.assumptions, *rests_on, told),
        )


def taken_up_g(soak: Iterable[SoakLine]) -> float:
    """Return the weight that all of a soak adds."""
    return sum(line.dose.amount.g for line in soak)


def soaked_baits(baits: tuple[BaitLine, ...], soak: Sequence[SoakLine]) -> Iterator[BaitLine]:
    """Yield the baits, those on cork with what they lift once their part of a soak is taken up."""
    fresh_g = sum(line.baits_g for line in baits)
    g = taken_up_g(soak) / fresh_g
    ml = sum(line.dose.amount.ml or 0.0 for line in soak) / fresh_g
    for line in baits:
        if at := line.floating:
            part, water = (g * line.each_g, ml * line.each_g), at.densities.water_g_ml
            yield replace(line, soaked=soaked_lift_range_g(at.lift_range, *part, water))
        else:
            yield line


def soak_cautions(
    opened: OpenRecipe, soak: Iterable[SoakLine], baits: Iterable[BaitLine]
) -> Iterator[Caution]:
    """Yield doubtful doses, what to mind of neat liquids and of dogs, and baits that no longer float."""
    yield from (doubt.caution for doubt in soak_doubts(opened))
    used = [line.dose.additive for line in soak]
    if alcohol := [a.name for a in used if a.carrier == "alcohol"]:
        text = (
            "alcohol, burns from 17 °C on. Dry the bait away from heaters and flames, the bag open."
        )
        yield Caution("soak-alcohol", f"{', '.join(alcohol)} on the bait: {text}")
    if strong := [
        a.name for a in used if a.carrier in ("alcohol", "glycol") or STRONG.search(a.name)
    ]:
        text = "solvents, acids and essential oils burn: gloves, eyes away, open window."
        yield Caution("soak-neat", f"{', '.join(strong)}, undiluted: {text}")
    yield Caution("soak-dogs", "Soaked bait smells of food: keep the bag from dogs and children.")
    for line in baits:
        if line.soaked is None or line.floating is None:
            continue
        named = f"({line.core_mm:g} mm cork under {line.skin_mm:g} mm)"
        test = "test it in lake water, or thin its skin"
        if line.kind == "popup" and line.soaked.low_g <= BALANCED_G < line.floating.lift_g:
            yield Caution("soaked-lift", f"The pop-up {named} may sink with its soak: {test}.")
        if line.kind == "wafter" and line.soaked.low_g < SINKS_FAST_G <= line.floating.lift_g:
            yield Caution("soaked-lift", f"The wafter {named} may drop fast with its soak: {test}.")
