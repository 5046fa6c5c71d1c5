"""The kitchen a boil happens in, and how long a bait of a size stays in its pan."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from eggfold.amounts import Amount, counted
from eggfold.engine.boil import (
    Course,
    CutBait,
    Factor,
    boil_range_s,
    boil_time_s,
    conductivity_factor,
    customary_s,
    fourier_number,
    lifted_c,
    peak_c,
)
from eggfold.engine.pan import pan_load_kg, reboil_wait_s
from eggfold.engine.properties import (
    boiling_point_c,
    conductivity_w_mk,
    diffusivity_m2_s,
    specific_heat_j_kgk,
)
from eggfold.engine.sphere import Sphere
from eggfold.errors import NoAnswerError
from eggfold.recipe.asked import Assumption, Defaults
from eggfold.recipe.bench import Bench
from eggfold.records import NamedTuple
from eggfold.reference.boiling import CONDUCTIVITY_DOUBT_SHARE, ROOM_C, Target
from eggfold.reference.defaults import PAN_FALL_K, SHORTEST_WAIT_S, WAIT_WITHOUT_BURNER_S
from eggfold.reference.properties import Parts
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator


class Kitchen(NamedTuple):
    """Where the boil happens: temperatures, films, the spread of the sizes, pan, burner."""

    start_c: float
    water_c: float
    film_w_m2k: float
    cooling_film_w_m2k: float
    air_share: float
    spread_mm: float
    altitude_m: float
    pan_l: float
    burner_w: float | None
    efficiency: float
    assumptions: tuple[Assumption, ...] = ()

    @property
    def course(self) -> Course:
        """What a bait goes through: into the water, then out into the room."""
        return Course(self.start_c, self.water_c, ROOM_C, self.cooling_film_w_m2k)


class Cut(NamedTuple):
    """A bait that was cut open after its boil; None is as in the kitchen of the day."""

    diameter_mm: float
    time_s: float
    set_through: bool
    start_c: float | None = None
    altitude_m: float | None = None

    def course(self, kitchen: Kitchen) -> Course:
        """Return what it went through."""
        course = kitchen.course
        if self.start_c is not None:
            course = course._replace(start_c=self.start_c)
        if self.altitude_m is not None:
            course = course._replace(water_c=boiling_point_c(self.altitude_m))
        return course


def noted_cut(
    size: Amount, boiled: Amount, looked: str, start: Amount | None, altitude: Amount | None
) -> Cut:
    """Return what a bait that was cut open is to the pan, from what was noted of it."""
    return Cut(
        amount_in(size, "mm"),
        amount_in(boiled, "s"),
        looked == "set",
        amount_in(start, "degC") if start else None,
        amount_in(altitude, "m") if altitude else None,
    )


class PasteHeat(NamedTuple):
    """A paste's thermal properties at the mean of start and water temperature, and their doubt."""

    conductivity_w_mk: float
    diffusivity_m2_s: float
    specific_heat_j_kgk: float
    doubt_share: float
    """How far it may conduct more or less [-]."""
    factor: float = 1.0
    """How many times as well as worked out it conducts, by what baits cut open have shown."""
    assumptions: tuple[Assumption, ...] = ()


class Boil(NamedTuple):
    """One size in the pan: how long, how warm its centre gets, and what heat alone asks."""

    diameter_mm: float
    until: str | None
    water_c: float
    seconds: float | None
    lifted_c: float | None
    peak_c: float | None
    worked_s: float | None
    low_s: float | None
    high_s: float | None
    customary_s: float | None
    biot: float
    fourier: float | None

    @property
    def own(self) -> bool:
        """Whether the time is the user's, not worked out."""
        return self.until is None

    @property
    def said_s(self) -> float:
        """The seconds that a page says and a clock counts: an own time, or to 5 s what was worked out."""
        seconds = self.seconds or 0.0
        return seconds if self.own else rounded_s(seconds)

    @property
    def said_range_s(self) -> tuple[float, float] | None:
        """From when to when a worked out time may lie, as it is said; None for an own time."""
        if self.own or not self.low_s or not self.high_s:
            return None
        return rounded_s(self.low_s), rounded_s(self.high_s)


SAID_TO_S = 5
"""A worked out time is said to so many seconds; nobody lifts a basket to one; house default."""


def rounded_s(seconds: float) -> float:
    """Return a worked out time as it is said, never none where there is some."""
    return max(SAID_TO_S, SAID_TO_S * round(seconds / SAID_TO_S)) if seconds else 0.0


def build_kitchen(
    defaults: Defaults,
    altitude_m: float | None,
    pan_l: float | None,
    start_c: float | None,
    bench: Bench,
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
    film, cooling = defaults.value("film"), defaults.value("cooling_film")
    air, spread = defaults.value("air"), defaults.value("diameter_spread")
    _refuse_warm_paste(start.value, water_c)
    return Kitchen(
        start.value,
        water_c,
        film.value,
        cooling.value,
        air.share,
        spread.value,
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
            cooling.assumption,
            Assumption("air in which baits cool", f"{ROOM_C:g} degC", "house default"),
            air.assumption,
            spread.assumption,
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
    how = "no cooler than" if start_c >= water_c else f"within {PAN_FALL_K:g} °C of"
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


def wait_s(seconds: float, load_g: float, heat: PasteHeat, kitchen: Kitchen) -> float:
    """Return the wait after a load: until the burner has made up for it."""
    if kitchen.burner_w is None:
        return WAIT_WITHOUT_BURNER_S
    return reboil_wait_s(
        load_g / 1000,
        heat.specific_heat_j_kgk,
        kitchen.water_c,
        kitchen.start_c,
        kitchen.burner_w,
        kitchen.efficiency,
        seconds,
        SHORTEST_WAIT_S,
    )


DOUBT = "a paste may conduct more or less than worked out by"


def paste_heat(parts: Parts, kitchen: Kitchen, cuts: tuple[Cut, ...] = ()) -> PasteHeat:
    """Return a paste's properties, with its air, at the mean temperature of the boil.

    Baits of its mix that were cut open say how well it really conducts.
    """
    mean_c = (kitchen.start_c + kitchen.water_c) / 2
    doubt = Assumption(DOUBT, f"{CONDUCTIVITY_DOUBT_SHARE * 100:g} %", "house default")
    worked_out = PasteHeat(
        _alike(conductivity_w_mk(parts, mean_c, air_share=kitchen.air_share)),
        _alike(diffusivity_m2_s(parts, mean_c, air_share=kitchen.air_share)),
        _alike(specific_heat_j_kgk(parts, mean_c)),
        CONDUCTIVITY_DOUBT_SHARE,
        assumptions=(doubt,),
    )
    if not cuts:
        return worked_out
    return _taught(worked_out, kitchen, cuts)


def _alike(value: float) -> float:
    """Return a value that is the same for bowls of one paste, however the sums of their parts round."""
    return float(f"{value:.12g}")


def _taught(heat: PasteHeat, kitchen: Kitchen, cuts: tuple[Cut, ...]) -> PasteHeat:
    """Return what a paste conducts after baits of it were cut open."""
    mean, sd = _factor(
        tuple(
            CutBait(
                ball_of(cut.diameter_mm, heat, kitchen),
                cut.course(kitchen),
                cut.time_s,
                cut.set_through,
            )
            for cut in cuts
        )
    )
    text = f"{mean:.2f} times as worked out, ±{sd:.0%}, from {counted(len(cuts), 'cut')}"
    told = Assumption("how well the paste conducts", text.replace("%", " %"), "yours")
    return heat._replace(
        conductivity_w_mk=heat.conductivity_w_mk * mean,
        diffusivity_m2_s=heat.diffusivity_m2_s * mean,
        doubt_share=sd,
        factor=mean,
        assumptions=(told,),
    )


@lru_cache(maxsize=64)
def _factor(cuts: tuple[CutBait, ...]) -> Factor:
    """Return the factor once for the bowls of a plan, which share it."""
    return conductivity_factor(cuts)


def cut_peak_c(cut: Cut, heat: PasteHeat, kitchen: Kitchen) -> float:
    """Return what the centre of a bait that was cut open is worked out to have reached."""
    return peak_c(ball_of(cut.diameter_mm, heat, kitchen), cut.course(kitchen), cut.time_s)


def pan_load_g(heat: PasteHeat, kitchen: Kitchen) -> float:
    """Return the most that one load may weigh."""
    load = pan_load_kg(
        kitchen.pan_l, kitchen.water_c, kitchen.start_c, PAN_FALL_K, heat.specific_heat_j_kgk
    )
    return load * 1000


def ball_of(diameter_mm: float, heat: PasteHeat, kitchen: Kitchen) -> Sphere:
    """Return a ball of paste for the solver; one on cork counts as solid."""
    paste = heat.conductivity_w_mk, heat.diffusivity_m2_s, kitchen.film_w_m2k
    return Sphere(diameter_mm / 1000, *paste)


@lru_cache(maxsize=1024)
def boil_of(
    diameter_mm: float,
    heat: PasteHeat,
    kitchen: Kitchen,
    *,
    target: Target | None,
    own_s: float | None = None,
    cored: bool = False,
) -> Boil:
    """Return a size's time in the pan: its own, else that after which it peaks at the target.

    It is None where the water is too cool for the target. Without a target nothing is worked out. The
    bowls of a plan share what was worked out once.
    """
    ball, course = ball_of(diameter_mm, heat, kitchen), kitchen.course
    worked = low = high = None
    if target is not None:
        worked = boil_time_s(ball, course, target.centre_c)
        spread = kitchen.spread_mm / 1000
        around = boil_range_s(
            ball, course, target.centre_c, spread_m=spread, conductivity_share=heat.doubt_share
        )
        low, high = around or (None, None)
    seconds = worked if own_s is None else own_s
    return Boil(
        diameter_mm,
        target.name if target and own_s is None else None,
        kitchen.water_c,
        seconds,
        None if seconds is None else lifted_c(ball, course, seconds),
        None if seconds is None else peak_c(ball, course, seconds),
        worked,
        low,
        high,
        None if cored else customary_s(diameter_mm),
        ball.biot,
        None if seconds is None else fourier_number(ball, seconds),
    )


def target_assumptions(*targets: Target) -> Iterator[Assumption]:
    """Yield what the centre is to reach at its hottest."""
    for target in targets:
        what, text = (
            f"a centre that is {target.name} peaks at",
            f"{target.centre_c:g} degC: {target.why}",
        )
        yield Assumption(what, text, target.origin, target.source)


def custom_assumptions(boils: Iterable[Boil]) -> Iterator[Assumption]:
    """Yield each customary time that stands beside a worked out one."""
    for boil in boils:
        if boil.customary_s is not None:
            what = f"customary time of {boil.diameter_mm:g} mm"
            yield Assumption(what, f"{boil.customary_s:g} s", "common practice")
