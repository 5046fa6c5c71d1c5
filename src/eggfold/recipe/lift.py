"""The lake a bait floats in, and the lift of a bait in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from eggfold.engine.buoyancy import Densities, lift_g
from eggfold.engine.water import water_density_kg_m3
from eggfold.recipe.assumptions import Assumption, Defaults
from eggfold.recipe.cautions import Caution
from eggfold.reference.floating import BALANCED_G, STEEL_DENSITY_G_ML
from eggfold.reference.properties import WATER_DENSITY

Behaviour = Literal["floats", "balanced", "sinks"]


class Lake(NamedTuple):
    """Lake water at a temperature, and the cork that is to float in it."""

    water_c: float
    water_g_ml: float
    cork_g_ml: float
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

    @property
    def diameter_mm(self) -> float:
        """Core and skin on both sides."""
        return self.core_mm + 2 * self.skin_mm

    @property
    def lift_g(self) -> float:
        """The lift, below 0 where it sinks."""
        return lift_g(self.core_mm, self.skin_mm, self.densities, hook_g=self.hook_g)


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
    return Lake(water.value, density, cork, (water.assumption, of_water, of_cork))


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
        if kind == "wafter" and does == "floats":
            mend = "take a smaller cork, or thicken the skin"
            yield Caution("wafter-floats", f"The wafter {named} floats{hooked}: {mend}.")
    yield Caution("soak", SOAK)


SOAK = "Buoyancy falls as a bait soaks: test it with its hook in a glass of lake water after 12 to 24 h."
