"""The kitchen a boil happens in, and one bait's time in its pan."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal, NamedTuple

from eggfold.engine.heat import boil_time_s, centre_temperature_c, fourier_number
from eggfold.engine.pan import pan_load_kg, reboil_wait_s
from eggfold.engine.properties import conductivity_w_mk, diffusivity_m2_s, specific_heat_j_kgk
from eggfold.engine.sphere import Sphere
from eggfold.engine.water import boiling_point_c
from eggfold.errors import NoAnswerError
from eggfold.recipe.assumptions import Assumption, Defaults
from eggfold.recipe.bench import BUILT_IN_BENCH, Bench
from eggfold.reference.boiling import (
    CORED_CUSTOM,
    JUST_SET_CUSTOM,
    SET_CUSTOM,
    TARGET_OF,
    TARGETS,
    Target,
)
from eggfold.reference.defaults import (
    PAN_FALL_K,
    SHORTEST_WAIT_S,
    WAIT_WITHOUT_BURNER_S,
)
from eggfold.reference.parts import Parts

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from eggfold.engine.shell import Shell


class Kitchen(NamedTuple):
    """Where the boil happens: start and water temperature, film coefficient, pan, burner."""

    start_c: float
    water_c: float
    film_w_m2k: float
    altitude_m: float
    pan_l: float
    burner_w: float | None
    efficiency: float
    assumptions: tuple[Assumption, ...] = ()


class PasteHeat(NamedTuple):
    """A paste's thermal properties at the mean of start and water temperature."""

    conductivity_w_mk: float
    diffusivity_m2_s: float
    specific_heat_j_kgk: float


class Boil(NamedTuple):
    """One size in the pan: what its centre reaches when, and how much goes in at once."""

    diameter_mm: float
    until: str | None
    centre_c: float
    water_c: float
    seconds: float | None
    customary_s: float | None
    biot: float
    fourier: float | None
    load_g: float
    core_mm: float | None = None

    @property
    def follow_s(self) -> float | None:
        """The time to follow: the user's own, else the longer of computed and customary."""
        if self.seconds is None:
            return None
        return self.seconds if self.until is None else max(self.seconds, self.customary_s or 0.0)


def build_kitchen(
    defaults: Defaults,
    altitude_m: float | None = None,
    pan_l: float | None = None,
    start_c: float | None = None,
    bench: Bench = BUILT_IN_BENCH,
) -> Kitchen:
    """Return the kitchen, from what was asked, the bench, and what stands in for the rest.

    Raises NoAnswerError where the paste is as good as boiling before it goes in.
    """
    start = defaults.value("start", start_c)
    altitude, altitude_assumption = _asked_or(altitude_m, bench.altitude_m, bench, "altitude")
    pan, pan_assumption = _asked_or(pan_l, bench.pan_l, bench, "pan")
    efficiency, burner = _burner(bench, defaults)
    water_c = boiling_point_c(altitude)
    source = "ISO 2533 pressure, IAPWS-IF97 saturation"
    film = defaults.value("film")
    _refuse_warm_paste(start.value, water_c)
    return Kitchen(
        start.value,
        water_c,
        film.value,
        altitude,
        pan,
        bench.burner_w,
        efficiency,
        (
            start.assumption,
            altitude_assumption,
            pan_assumption,
            *burner,
            Assumption("a load may cool the pan by", f"{PAN_FALL_K:g} K", "house default"),
            Assumption("water boils at", f"{water_c:.2f} degC", "published", source),
            film.assumption,
        ),
    )


def _burner(bench: Bench, defaults: Defaults) -> tuple[float, tuple[Assumption, ...]]:
    """Return how much of the burner's heat reaches the pan, and what its waits rest on."""
    if bench.burner_w is None:
        what, text = "wait between loads, no burner known", f"{WAIT_WITHOUT_BURNER_S:g} s"
        return 0.0, (Assumption(what, text, "house default"),)
    efficiency = defaults.value("burner_efficiency")
    shortest = f"{SHORTEST_WAIT_S:g} s"
    return efficiency.share, (
        Assumption("burner", f"{bench.burner_w / 1000:g} kW", "yours"),
        efficiency.assumption,
        Assumption("shortest wait between loads", shortest, "house default"),
    )


def _refuse_warm_paste(start_c: float, water_c: float) -> None:
    """Raise NoAnswerError where the paste goes in so warm that no load could cool the pan."""
    if start_c + PAN_FALL_K < water_c:
        return
    how = "no cooler than" if start_c >= water_c else f"within {PAN_FALL_K:g} K of"
    raise NoAnswerError(
        f"paste at {start_c:g} °C is {how} the water, which boils at {water_c:.1f} °C; "
        "choose a cooler --start"
    )


def _asked_or(
    asked: float | None, otherwise: float, bench: Bench, key: Literal["altitude", "pan"]
) -> tuple[float, Assumption]:
    what, unit = {"altitude": ("height above the sea", "m"), "pan": ("pan", "l")}[key]
    value = otherwise if asked is None else asked
    origin = bench.origin(key) if asked is None else "yours"
    return value, Assumption(what, f"{value:g} {unit}", origin)


def wait_s(boil: Boil, heat: PasteHeat, kitchen: Kitchen) -> float:
    """Return the wait between two loads of a size: until the burner has made up for the first."""
    if kitchen.burner_w is None:
        return WAIT_WITHOUT_BURNER_S
    return reboil_wait_s(
        boil.load_g / 1000,
        heat.specific_heat_j_kgk,
        kitchen.water_c,
        kitchen.start_c,
        kitchen.burner_w,
        kitchen.efficiency,
        boil.follow_s or 0.0,
        SHORTEST_WAIT_S,
    )


def paste_heat(parts: Parts, kitchen: Kitchen) -> PasteHeat:
    """Return a paste's properties, without its air, at the mean temperature of the boil."""
    mean_c = (kitchen.start_c + kitchen.water_c) / 2
    return PasteHeat(
        conductivity_w_mk(parts, mean_c),
        diffusivity_m2_s(parts, mean_c),
        specific_heat_j_kgk(parts, mean_c),
    )


def pan_load_g(heat: PasteHeat, kitchen: Kitchen) -> float:
    """Return the paste that one load may weigh."""
    load = pan_load_kg(
        kitchen.pan_l, kitchen.water_c, kitchen.start_c, PAN_FALL_K, heat.specific_heat_j_kgk
    )
    return load * 1000


def ball_of(
    diameter_mm: float, core_mm: float | None, heat: PasteHeat, kitchen: Kitchen
) -> Sphere | Shell:
    """Return a ball of paste for the solver, solid or around a core."""
    paste = heat.conductivity_w_mk, heat.diffusivity_m2_s, kitchen.film_w_m2k
    if core_mm is None:
        return Sphere(diameter_mm / 1000, *paste)
    from eggfold.engine.shell import Shell  # noqa: PLC0415 - most baits are solid

    return Shell(diameter_mm / 1000, core_mm / 1000, *paste)


def boil_until(
    diameter_mm: float,
    target: Target,
    heat: PasteHeat,
    kitchen: Kitchen,
    core_mm: float | None = None,
) -> Boil:
    """Return the time until a ball's centre, or the paste at its core, reaches a target.

    It is None where the water is too cool.
    """
    ball = ball_of(diameter_mm, core_mm, heat, kitchen)
    seconds = boil_time_s(ball, kitchen.start_c, kitchen.water_c, target.centre_c)
    return Boil(
        diameter_mm,
        target.name,
        target.centre_c,
        kitchen.water_c,
        seconds,
        customary_s(target.name, diameter_mm, core_mm),
        ball.biot,
        None if seconds is None else fourier_number(ball, seconds),
        pan_load_g(heat, kitchen),
        core_mm,
    )


def boil_for(
    diameter_mm: float,
    seconds: float,
    heat: PasteHeat,
    kitchen: Kitchen,
    core_mm: float | None = None,
) -> Boil:
    """Return the temperature that a given time reaches at the centre, or at the core."""
    ball = ball_of(diameter_mm, core_mm, heat, kitchen)
    centre = centre_temperature_c(ball, kitchen.start_c, kitchen.water_c, seconds)
    return Boil(
        diameter_mm,
        None,
        centre,
        kitchen.water_c,
        seconds,
        None,
        ball.biot,
        fourier_number(ball, seconds),
        pan_load_g(heat, kitchen),
        core_mm,
    )


def target_of(strength: str, until: str | None) -> Target:
    """Return the target that was asked for, or the strength's own."""
    return TARGETS[until or TARGET_OF[strength]]


def customary_s(target: str, diameter_mm: float, core_mm: float | None = None) -> float | None:
    """Return the customary time in the pan, where there is one."""
    if core_mm is not None:
        return _cored_custom_s(diameter_mm, core_mm)
    if target == "just-set" and math.isclose(diameter_mm, JUST_SET_CUSTOM[0], abs_tol=1e-6):
        return JUST_SET_CUSTOM[1]
    (low_mm, low_s), (high_mm, high_s) = SET_CUSTOM
    if target == "set" and low_mm - 1e-6 <= diameter_mm <= high_mm + 1e-6:
        return low_s + (diameter_mm - low_mm) / (high_mm - low_mm) * (high_s - low_s)
    return None


def custom_assumptions(boils: Iterable[Boil]) -> Iterator[Assumption]:
    """Yield each customary time that stands beside a worked out one."""
    for boil in boils:
        if boil.customary_s is not None:
            kind = "on cork" if boil.core_mm is not None else f"{boil.until}"
            what = f"customary time of {boil.diameter_mm:g} mm, {kind}"
            yield Assumption(what, f"{boil.customary_s:g} s", "common practice")


def _cored_custom_s(diameter_mm: float, core_mm: float) -> float | None:
    practised_mm, (thin_mm, thick_mm), seconds = CORED_CUSTOM
    skin_mm = (diameter_mm - core_mm) / 2
    known = math.isclose(core_mm, practised_mm, abs_tol=1e-6)
    return seconds if known and thin_mm - 1e-6 <= skin_mm <= thick_mm + 1e-6 else None
