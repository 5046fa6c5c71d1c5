"""The lake a bait on a cork ball floats in: its lift, and the skin for an asked lift."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Literal

from eggfold.engine.buoyancy import (
    Densities,
    LiftRange,
    bare_core_mm,
    lift_g,
    lift_range_g,
    skin_for_lift_mm,
)
from eggfold.engine.paste import paste_density_g_ml
from eggfold.engine.properties import water_density_kg_m3
from eggfold.errors import NoAnswerError
from eggfold.recipe.asked import HOUSE_DEFAULTS, Assumption, Defaults, joined
from eggfold.recipe.boil import typical_paste
from eggfold.recipe.cautions import Caution
from eggfold.records import NamedTuple
from eggfold.reference.boiling import (
    BALANCED_G,
    CORK_RANGE_G_ML,
    EQUAL_DENSITIES_G_ML,
    LEAST_CORE_MM,
    LEAST_SKIN_MM,
    MOST_BAIT_MM,
    MOST_CORE_MM,
    SINKS_FAST_G,
    STEEL_DENSITY_G_ML,
)
from eggfold.reference.properties import WATER_DENSITY

if TYPE_CHECKING:
    from eggfold.load.load_recipe import Companion


Behaviour = Literal["floats", "balanced", "sinks"]


class Lake(NamedTuple):
    """Lake water at a temperature, and the cork that is to float in it."""

    water_c: float
    water_g_ml: float
    cork_g_ml: float
    weighed: bool = False
    """Whether the cork's density is the user's own."""
    assumptions: tuple[Assumption, ...] = ()

    def densities(self, paste_g_ml: float) -> Densities:
        """Return the three densities a lift depends on."""
        return Densities(self.water_g_ml, self.cork_g_ml, paste_g_ml)


class Floating(NamedTuple):
    """A bait on a cork ball in a lake, with its hook."""

    core_mm: float
    skin_mm: float
    hook_g: float
    densities: Densities
    weighed: bool = False
    """Whether the cork's density is the user's own; cork that nobody weighed has a range."""

    @property
    def diameter_mm(self) -> float:
        """Core and skin on both sides."""
        return self.core_mm + 2 * self.skin_mm

    @property
    def lift_g(self) -> float:
        """The lift, below 0 where it sinks."""
        return lift_g(self.core_mm, self.skin_mm, self.densities, hook_g=self.hook_g)

    @property
    def lift_range(self) -> LiftRange:
        """The lift with heavy and with light cork; one lift where the cork was weighed."""
        if self.weighed:
            return LiftRange(self.lift_g, self.lift_g)
        return lift_range_g(self.core_mm, self.skin_mm, self.densities, hook_g=self.hook_g)


def build_lake(
    defaults: Defaults, water_c: float | None = None, cork_g_ml: float | None = None
) -> Lake:
    """Return the lake and the cork, from what was asked and what stands in for the rest."""
    water = defaults.value("water_temperature", water_c)
    density = water_density_kg_m3(water.value) / 1000
    text = f"{density:.4f} g/ml"
    of_water = Assumption("density of that water", text, "published", WATER_DENSITY.source)
    cork, of_cork = defaults.value("cork_density")
    if cork_g_ml is not None:
        cork, of_cork = cork_g_ml, Assumption("cork", f"{cork_g_ml:.4g} g/ml", "yours")
    weighed = of_cork.origin == "yours"
    rests_on = (water.assumption, of_water, of_cork, *(() if weighed else (CORK_RANGE,)))
    return Lake(water.value, density, cork, weighed, rests_on)


CORK_RANGE = Assumption(
    "cork nobody weighed may be",
    "{:g} to {:g} g/ml".format(*CORK_RANGE_G_ML),
    "house default",
    "solid cork is sold at 0.12 to 0.24 g/ml; light granules weigh from 0.10 (ours)",
)


def hook_assumption(hook_g: float) -> Assumption:
    """Return what the hook is made of, where there is one."""
    if not hook_g:
        return Assumption("hook", "none, 0 g", "house default")
    text = f"steel, {STEEL_DENSITY_G_ML:g} g/ml"
    return Assumption("hook", text, "house default", "EN 1991-1-1 Table A.4, from memory")


def behaviour_of(lift_g: float) -> Behaviour:
    """Return what a bait of a lift does in the water."""
    if abs(lift_g) <= BALANCED_G:
        return "balanced"
    return "floats" if lift_g > 0 else "sinks"


def lift_cautions(cored: Iterable[tuple[str, Floating]]) -> Iterator[Caution]:
    """Yield a caution for each cored bait that does not do what its kind is for, and one for all."""
    for kind, bait in cored:
        does = behaviour_of(bait.lift_g)
        named = f"({bait.core_mm:g} mm cork under {bait.skin_mm:g} mm)"
        hooked, hook = (" with its hook", " or lighten the hook") if bait.hook_g else ("", "")
        if kind == "popup" and does != "floats":
            mend = f"take a larger cork, or thin the skin{hook}"
            yield Caution("popup-sinks", f"The pop-up {named} does not float{hooked}: {mend}.")
        elif kind == "popup" and bait.lift_range.holds_both_signs:
            mend = "weigh ten of its cork balls (eggfold buoyancy --ten-balls)"
            text = f"The pop-up {named} is balanced at best{hooked}, as cork differs: {mend}."
            yield Caution("popup-unsure", text)
        if kind == "wafter" and does == "floats":
            mend = "take a smaller cork, or thicken the skin"
            yield Caution("wafter-floats", f"The wafter {named} floats{hooked}: {mend}.")
        if kind == "wafter" and bait.lift_g < SINKS_FAST_G:
            mend = f"take a larger cork, or thin the skin{hook}"
            yield Caution("wafter-sinks", f"The wafter {named} drops fast{hooked}: {mend}.")
    yield Caution("soak", SOAK)


SOAK = "Soaking costs lift: test it, hook on, 12 to 24 h in a glass of lake water."


PARED_MM = 0.5
"""The step of the table around the answer: what a knife or a longer boil takes; house default."""
PARINGS = range(-3, 4)


class AskedBuoyancy(NamedTuple):
    """What is asked of a bait: its skin or its lift, one of them; None stands for the default."""

    core_mm: float
    skin_mm: float | None = None
    wanted_g: float | None = None
    hook_g: float = 0.0
    water_c: float | None = None
    cork_g_ml: float | None = None


class Buoyancy(NamedTuple):
    """The answer: the bait, and how it changes with the skin."""

    paste: str
    bait: Floating
    wanted_g: float | None
    neutral_skin_mm: float | None
    around: tuple[Floating, ...]
    lake: Lake
    assumptions: tuple[Assumption, ...]
    companions: tuple[Companion, ...] = ()

    @property
    def behaviour(self) -> Behaviour:
        """What the bait does with its hook."""
        return behaviour_of(self.bait.lift_g)


class SkinPaste(NamedTuple):
    """The paste around the cork: its name and density, what that rests on, and its recipe's defaults."""

    name: str
    density_g_ml: float
    assumptions: tuple[Assumption, ...] = ()
    defaults: Defaults = HOUSE_DEFAULTS


def typical_skin() -> SkinPaste:
    """Return the paste that ``boil`` takes where no recipe is given."""
    paste, air = typical_paste(), HOUSE_DEFAULTS.value("air")
    density = paste_density_g_ml(paste.parts, air.share)
    return SkinPaste("typical paste", density, (*paste.assumptions, air.assumption))


def build_buoyancy(
    asked: AskedBuoyancy, paste: SkinPaste, companions: tuple[Companion, ...] = ()
) -> Buoyancy:
    """Return the bait; raises NoAnswerError where no skin gives the asked lift."""
    lake = build_lake(paste.defaults, asked.water_c, asked.cork_g_ml)
    densities = lake.densities(paste.density_g_ml)
    skin_mm = _asked_skin_mm(asked, densities)
    bait = Floating(asked.core_mm, skin_mm, asked.hook_g, densities, lake.weighed)
    skins = (skin_mm + step * PARED_MM for step in PARINGS)
    around = tuple(bait._replace(skin_mm=s) for s in skins if s >= LEAST_SKIN_MM or s == skin_mm)
    hook = hook_assumption(asked.hook_g)
    assumptions = joined(paste.assumptions, lake.assumptions, [hook])
    neutral = neutral_skin_mm(bait)
    return Buoyancy(
        paste.name, bait, asked.wanted_g, neutral, around, lake, assumptions, companions
    )


def neutral_skin_mm(bait: Floating) -> float | None:
    """Return the skin from which a bait sinks; None where it sinks bare or never does."""
    water, _, paste = bait.densities
    if paste <= water:
        return None
    return skin_for_lift_mm(bait.core_mm, 0.0, bait.densities, hook_g=bait.hook_g)


def _asked_skin_mm(asked: AskedBuoyancy, densities: Densities) -> float:
    if asked.wanted_g is None:
        if asked.skin_mm is None:
            raise LookupError("skin")
        return asked.skin_mm
    core_mm, wanted_g, hook_g = asked.core_mm, asked.wanted_g, asked.hook_g
    if abs(densities.water_g_ml - densities.paste_g_ml) < EQUAL_DENSITIES_G_ML:
        lift = lift_g(core_mm, 0.0, densities, hook_g=hook_g)
        raise NoAnswerError(
            f"the paste is as dense as the water ({densities.paste_g_ml:.4f} g/ml), so every skin "
            f"on this core lifts {lift:+.2f} g; change the core or the hook"
        )
    skin_mm = skin_for_lift_mm(core_mm, wanted_g, densities, hook_g=hook_g)
    if skin_mm is None:
        raise NoAnswerError(_no_skin(asked, wanted_g, densities))
    whole_mm = core_mm + 2 * skin_mm
    if whole_mm > MOST_BAIT_MM:
        raise NoAnswerError(
            f"a lift of {wanted_g:+g} g takes a bait of {whole_mm:.0f} mm on this core, and none "
            f"here is over {MOST_BAIT_MM:g} mm; change the core or the hook"
        )
    return skin_mm


def _no_skin(asked: AskedBuoyancy, wanted_g: float, densities: Densities) -> str:
    bare_g = lift_g(asked.core_mm, 0.0, densities, hook_g=asked.hook_g)
    hooked = f" with a hook of {asked.hook_g:g} g" if asked.hook_g else ""
    head = (
        f"no skin gives a lift of {wanted_g:+g} g on a {asked.core_mm:g} mm cork: bare it lifts "
        f"{bare_g:+.2f} g{hooked}, and paste "
    )
    bare_mm = bare_core_mm(wanted_g, densities.water_g_ml, densities.cork_g_ml, hook_g=asked.hook_g)
    if densities.paste_g_ml > densities.water_g_ml:
        return f"{head}only takes from that; {_larger_core(asked, wanted_g, densities, bare_mm)}"
    largest_mm = math.ceil(bare_mm) - 1
    smaller = f"the largest core that does is {largest_mm} mm"
    mend = smaller if largest_mm >= LEAST_CORE_MM else "only a heavier hook does"
    return f"{head}lighter than water only adds to it; {mend}"


def _larger_core(
    asked: AskedBuoyancy, wanted_g: float, densities: Densities, bare_mm: float
) -> str:
    for core_mm in range(max(math.ceil(bare_mm), int(LEAST_CORE_MM)), int(MOST_CORE_MM) + 1):
        skin_mm = skin_for_lift_mm(float(core_mm), wanted_g, densities, hook_g=asked.hook_g)
        if skin_mm is not None and skin_mm >= LEAST_SKIN_MM:
            return f"the smallest core that does is {core_mm} mm, under {skin_mm:.2f} mm of paste"
    return f"no cork up to {MOST_CORE_MM:g} mm does, so lighten the hook or ask for less"
