"""How the paste becomes baits: fixed counts first, the rest by share."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from eggfold.engine.drying import DryingLoss, drying_loss
from eggfold.engine.pan import EvenLoads, even_loads
from eggfold.engine.paste import bait_count, ball_volume_ml, cored_volume_ml, sausage_mm
from eggfold.errors import NoAnswerError
from eggfold.recipe.asked import Asked, Assumption, Defaults
from eggfold.recipe.bench import Bench
from eggfold.recipe.boil_times import (
    Boil,
    Cut,
    Kitchen,
    PasteHeat,
    boil_of,
    build_kitchen,
    pan_load_g,
    paste_heat,
    target_assumptions,
    wait_s,
)
from eggfold.recipe.mixing import Finished, Paste
from eggfold.records import NamedTuple
from eggfold.reference.boiling import DEFAULT_TARGET, TARGETS, Target
from eggfold.reference.defaults import (
    DEFAULT_SIZE_MM,
    DRYING_LOSS_RANGE,
    REST_WATER_PER_DRY,
    Origin,
)
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from eggfold.amounts import Amount
    from eggfold.engine.buoyancy import LiftRange
    from eggfold.load.recipe import Bait, Recipe
    from eggfold.recipe.buoyancy import Floating, Lake
    from eggfold.recipe.learning import LearntFigure


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class WantedBait:
    """One bait that is wanted: a fixed count, or a share of the paste left to roll."""

    diameter_mm: float
    count: int | None
    share: float
    kind: str = "bottom"
    core_mm: float | None = None
    skin_mm: float | None = None
    hook_g: float = 0.0
    cork_g: float = 0.0
    own_s: float | None = None
    """Its own time in the pan; 0 where it is not boiled."""
    drying_h: float | None = None

    @property
    def boiled(self) -> bool:
        """Whether it goes into the pan."""
        return self.own_s != 0

    @property
    def paste_ml(self) -> float:
        """The paste in one."""
        return cored_volume_ml(self.diameter_mm, self.core_mm or 0.0)

    def many(self, paste_g: float, density_g_ml: float, wider_mm: float = 0.0) -> float:
        """Return how many of it a mass of paste gives, rolled so much wider; the core stays."""
        least_mm = 0.5 * (self.diameter_mm + (self.core_mm or 0.0))
        rolled_mm = max(self.diameter_mm + wider_mm, least_mm)
        return bait_count(paste_g, density_g_ml, rolled_mm, core_mm=self.core_mm or 0.0)


class Roll(NamedTuple):
    """Every bait of a batch, how it is boiled, and the lake where it floats."""

    wanted: tuple[WantedBait, ...]
    bowl_loss: float
    drying: Drying
    asked: Asked
    kitchen: Kitchen
    lake: Lake | None
    assumptions: tuple[Assumption, ...]
    paste_shares: tuple[float, ...]
    """Of the paste left to roll, what is bagged as it is."""
    cuts: tuple[Cut, ...]
    """Baits of the mix that were cut open."""

    @property
    def target(self) -> Target:
        """What was asked for that the centre is to reach, or what a boil is for."""
        return TARGETS[self.asked.until or DEFAULT_TARGET]

    def heat(self, paste: Paste) -> PasteHeat:
        """Return how a paste takes heat in this kitchen."""
        return paste_heat(paste.parts, self.kitchen, self.cuts)


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class BaitLine:
    """One bait of the batch: how many, as a range, what it lifts, and its time in the pan."""

    kind: str
    diameter_mm: float
    core_mm: float | None
    skin_mm: float | None
    count: int
    low: int
    high: int
    each_g: float
    paste_g: float
    """The paste of all of them."""
    baits_g: float
    """All of them, fresh, with their corks."""
    boil: Boil | None
    """None where it is not boiled."""
    even: EvenLoads
    wait_s: float
    drying_h: float
    """How long it dries in one layer."""
    floating: Floating | None = None
    soaked: LiftRange | None = None
    """What it lifts once its part of the soak is taken up in full, in its pores or by swelling."""

    @property
    def density_g_ml(self) -> float:
        """The density of a whole one, its cork included."""
        return self.each_g / ball_volume_ml(self.diameter_mm)

    @property
    def loads(self) -> int:
        """How many times the pan is filled with them."""
        return self.even.number

    @property
    def load_count(self) -> float:
        """How many of them one load is, on average."""
        return self.count / self.loads

    @property
    def load_g(self) -> float:
        """What one load of them weighs; all weigh the same."""
        return self.even.each_g

    @property
    def sausage_mm(self) -> float | None:
        """The sausage it is cut from on a rolling table; a cork is rolled in by hand."""
        return None if self.core_mm else sausage_mm(self.diameter_mm)

    @property
    def lift_g(self) -> float | None:
        """What it lifts with its hook, where it has a cork."""
        return self.floating.lift_g if self.floating else None


class PasteLine(NamedTuple):
    """Paste that is neither rolled nor boiled nor dried: its weight."""

    mass_g: float
    kind: str = "paste"
    absent: None = None
    """What such paste does not have: size, number, boil, lift."""


def roll_of(
    recipe: Recipe, asked: Asked, bowl_loss: float, bench: Bench, cuts: tuple[Cut, ...]
) -> Roll:
    """Return the sizes that a recipe or the command asks for."""
    defaults = Defaults(recipe.assume)
    wanted, of_size = wanted_of(recipe, asked)
    kitchen = build_kitchen(defaults, asked.altitude_m, asked.pan_l, asked.start_c, bench)
    drying = drying_of(defaults, bench, asked.drying_h)
    lake, of_lake = _lake(wanted, defaults)
    assumptions = (
        *of_size,
        *kitchen.assumptions,
        *_time_assumptions(asked, wanted),
        *drying.assumptions,
        *of_lake,
    )
    pastes = () if asked.diameter_mm is not None else _paste_shares(recipe, asked)
    return Roll(wanted, bowl_loss, drying, asked, kitchen, lake, assumptions, pastes, cuts)


def wanted_of(
    recipe: Recipe, asked: Asked
) -> tuple[tuple[WantedBait, ...], tuple[Assumption, ...]]:
    """Return what is rolled of a recipe, or the one size that was asked for."""
    own_s = _own_s(recipe.own_boil(asked.strength), asked)
    if asked.diameter_mm is not None:
        return (WantedBait(asked.diameter_mm, None, 1.0, own_s=own_s),), ()
    if stated := recipe.baits_of(asked.strength):
        cork_g_ml = Defaults(recipe.assume).value("cork_density").value
        return tuple(_wanted(stated, own_s, cork_g_ml, asked)), ()
    size = DEFAULT_SIZE_MM[asked.strength]
    of_size = Assumption("bait size", f"{size:g} mm", "house default")
    return (WantedBait(size, None, 1.0, own_s=own_s),), (of_size,)


def _own_s(own: Amount | None, asked: Asked) -> float | None:
    """Return a time of the user's own; a target that is asked for beats it, but not ``none``."""
    own_s = None if own is None else amount_in(own, "s")
    return own_s if own_s == 0 or not asked.until else None


def _time_assumptions(asked: Asked, wanted: tuple[WantedBait, ...]) -> tuple[Assumption, ...]:
    """Return what the times in the pan rest on: the user's own, or what the centre is to reach."""
    own = {w.own_s for w in wanted}
    times = sorted(time for time in own if time)
    told = [Assumption("time in the pan", ", ".join(f"{t:g} s" for t in times), "yours")]
    target = TARGETS[asked.until or DEFAULT_TARGET]
    origin: Origin = "yours" if asked.until else "house default"
    return (
        *(told if times else ()),
        *((Assumption("not boiled", "as the recipe says", "yours"),) if 0 in own else ()),
        *target_assumptions(target),
        Assumption("baits are boiled until", target.name, origin),
    )


def _lake(
    wanted: tuple[WantedBait, ...], defaults: Defaults
) -> tuple[Lake | None, tuple[Assumption, ...]]:
    hooks = [w.hook_g for w in wanted if w.core_mm is not None]
    if not hooks:
        return None, ()
    from eggfold.recipe.buoyancy import build_lake, hook_assumption  # noqa: PLC0415 - cored baits only

    lake = build_lake(defaults)
    return lake, (*lake.assumptions, hook_assumption(max(hooks)))


def _wanted(
    baits: tuple[Bait, ...], own_s: float | None, cork_g_ml: float, asked: Asked
) -> Iterator[WantedBait]:
    for bait, share in zip(baits, _shares(baits), strict=True):
        if bait.kind == "paste":
            continue
        one = _shaped(bait, share, cork_g_ml)
        yield replace(
            one,
            own_s=own_s if bait.boil is None else _own_s(bait.boil, asked),
            drying_h=amount_in(bait.drying, "h") if bait.drying else None,
        )


def _shares(baits: tuple[Bait, ...]) -> list[float]:
    """Return what each bait takes of the paste that is left by those with a count."""
    rest = 100 - sum(b.share or 0 for b in baits)
    shares = [0.0 if b.count else (rest if b.share is None else b.share) for b in baits]
    total = sum(shares) or 1.0
    return [share / total for share in shares]


def _paste_shares(recipe: Recipe, asked: Asked) -> tuple[float, ...]:
    baits = recipe.baits_of(asked.strength)
    shares = zip(baits, _shares(baits), strict=True)
    return tuple(share for bait, share in shares if bait.kind == "paste")


def _shaped(bait: Bait, share: float, cork_g_ml: float) -> WantedBait:
    if bait.core and bait.skin:
        core_mm, skin_mm = amount_in(bait.core, "mm"), amount_in(bait.skin, "mm")
        hook_g = amount_in(bait.hook, "g") if bait.hook else 0.0
        cork_g = cork_g_ml * ball_volume_ml(core_mm)
        whole_mm = core_mm + 2 * skin_mm
        return WantedBait(whole_mm, bait.count, share, bait.kind, core_mm, skin_mm, hook_g, cork_g)
    if bait.size is None:
        raise LookupError(bait.kind)
    return WantedBait(amount_in(bait.size, "mm"), bait.count, share)


def count_of_all(roll: Roll, paste_of_one: Paste, eggs: int) -> int:
    """Return how many whole baits a number of eggs gives in all; 0 where the fixed ones do not fit."""
    density = paste_of_one.density_g_ml
    rolled = paste_of_one.mass_g * eggs * (1 - roll.bowl_loss)
    left = rolled - fixed_g(roll.wanted, density)
    if left < 0:
        return 0
    return sum(w.count or _whole(w.many(left * w.share, density)) for w in roll.wanted)


def refuse_more_than_counted(roll: Roll, asked: int) -> None:
    """Raise NoAnswerError where every bait has a count of its own and more are asked for."""
    counted = sum(w.count or 0 for w in roll.wanted)
    if asked > counted and all(w.count for w in roll.wanted):
        raise NoAnswerError(
            f"the recipe's counts add up to {counted} baits whatever the eggs; "
            "leave one bait without a count to take the rest"
        )


def fixed_g(wanted: Iterable[WantedBait], density_g_ml: float) -> float:
    """Return the paste that goes into the baits with a count of their own."""
    return sum(w.count * density_g_ml * w.paste_ml for w in wanted if w.count)


def _whole(count: float) -> int:
    return math.floor(count + 1e-9)


def pastes_g(wanted: Sequence[WantedBait], left_g: float, density_g_ml: float) -> list[float]:
    """Return the paste of each bait: what its count takes, else its share of what is left."""
    left_g = max(0.0, left_g)
    return [w.count * density_g_ml * w.paste_ml if w.count else left_g * w.share for w in wanted]


def expected_finished(
    wanted: Sequence[WantedBait],
    drying: Drying,
    bowl_loss: float,
    paste_g: float,
    density_g_ml: float,
    water_share: float,
) -> Finished:
    """Return what a bowl's baits weigh once they are dried: size by size, corks with them."""
    left_g = paste_g * (1 - bowl_loss) - fixed_g(wanted, density_g_ml)
    masses = [0.0] * 4
    for w, own_g in zip(wanted, pastes_g(wanted, left_g, density_g_ml), strict=True):
        corks_g = own_g / (density_g_ml * w.paste_ml) * w.cork_g
        loss = drying.loss(w.diameter_mm, water_share, w.drying_h)
        for i, share in enumerate((loss.share, loss.high, loss.low, 0.0)):
            masses[i] += own_g * (1 - share) + corks_g
    return Finished(*masses)


def finished_of(roll: Roll, paste: Paste, dried: LearntFigure) -> Finished:
    """Return what a paste's baits weigh once they are dried, after the notes on finished weights.

    ``dried`` is finished bait over what was expected of the noted bowls.
    """
    facts = roll.bowl_loss, paste.mass_g, paste.density_g_ml, paste.water_share
    expected = expected_finished(roll.wanted, roll.drying, *facts)
    if not dried.bowls:
        return expected
    most_g = expected.most_g
    mass_g, low_g, high_g = (min(most_g, expected.mass_g * r) for r in dried.next_bowls())
    return Finished(mass_g, low_g, high_g, most_g)


def build_baits(
    roll: Roll, paste: Paste, margin: tuple[float, float]
) -> tuple[tuple[BaitLine, ...], tuple[PasteLine, ...], float]:
    """Return the baits of a batch, the paste that is meant to stay so, and what is left over [g].

    ``margin`` is how much more and less paste [g] the range of the powder makes.
    """
    density = paste.density_g_ml
    keep = 1 - roll.bowl_loss
    left = paste.mass_g * keep - fixed_g(roll.wanted, density)
    if left < -1e-9:
        raise NoAnswerError(_too_many(roll, paste.mass_g * keep, density))
    heat = roll.heat(paste)
    more, less = margin[0] * keep, margin[1] * keep
    lines = []
    for w, paste_g in zip(roll.wanted, pastes_g(roll.wanted, left, density), strict=True):
        each_g = density * w.paste_ml + w.cork_g
        baits_g = paste_g / (density * w.paste_ml) * each_g
        boil = _boil(roll, w, heat)
        even = even_loads(baits_g, pan_load_g(heat, roll.kitchen)) if boil else NO_LOADS
        lines.append(
            BaitLine(
                w.kind,
                w.diameter_mm,
                w.core_mm,
                w.skin_mm,
                *_counts(w, left, more, less, density, roll.kitchen.spread_mm),
                each_g,
                paste_g,
                baits_g,
                boil,
                even,
                wait_s(boil.seconds or 0.0, even.each_g, heat, roll.kitchen) if boil else 0.0,
                roll.drying.hours if w.drying_h is None else w.drying_h,
                _floating(roll, w, density),
            )
        )
    pastes = tuple(PasteLine(max(0.0, left) * share) for share in roll.paste_shares)
    shared = any(w.share for w in roll.wanted) or pastes
    return tuple(lines), pastes, 0.0 if shared else max(0.0, left)


def _counts(
    w: WantedBait, left: float, more: float, less: float, density: float, spread_mm: float
) -> tuple[int, int, int]:
    if w.count:
        return w.count, w.count, w.count
    low = w.many(max(0.0, left - less) * w.share, density, spread_mm)
    high = w.many((left + more) * w.share, density, -spread_mm)
    return _whole(w.many(left * w.share, density)), _whole(low), _whole(high)


def _floating(roll: Roll, w: WantedBait, density: float) -> Floating | None:
    if roll.lake is None or w.core_mm is None or w.skin_mm is None:
        return None
    from eggfold.recipe.buoyancy import Floating  # noqa: PLC0415

    return Floating(w.core_mm, w.skin_mm, w.hook_g, roll.lake.densities(density), roll.lake.weighed)


NO_LOADS = EvenLoads(0, 0.0)


def _boil(roll: Roll, w: WantedBait, heat: PasteHeat) -> Boil | None:
    if not w.boiled:
        return None
    target, cored = roll.target, w.core_mm is not None
    boil = boil_of(w.diameter_mm, heat, roll.kitchen, target=target, own_s=w.own_s, cored=cored)
    if boil.seconds is None:
        raise NoAnswerError(
            f"a centre of {target.centre_c:g} °C cannot be reached: water boils at "
            f"{roll.kitchen.water_c:.1f} °C here, the highest there is; choose another --until"
        )
    return boil


def _too_many(roll: Roll, rolled_g: float, density: float) -> str:
    fixed = [w for w in roll.wanted if w.count]
    asked = " and ".join(f"{w.count} {_called(w)}" for w in fixed)
    gives = " or ".join(f"{_whole(w.many(rolled_g, density))} {_called(w)}" for w in fixed)
    return f"the paste does not give {asked}: it gives {gives}; lower the count or take more eggs"


def _called(w: WantedBait) -> str:
    many = {"popup": "pop-ups", "wafter": "wafters"}.get(w.kind, "bottom baits")
    return f"{many} of {w.diameter_mm:g} mm"


class Drying(NamedTuple):
    """How baits dry where they are laid out; a stated share of weight lost beats the rest."""

    hours: float
    steam_share: float
    diffusivity_m2_s: float
    stated_share: float | None = None
    assumptions: tuple[Assumption, ...] = ()

    def loss(
        self, diameter_mm: float, water_share: float, own_h: float | None = None
    ) -> DryingLoss:
        """Return what a size loses of its paste's weight, after hours of its own or those of all."""
        if self.stated_share is not None:
            return DryingLoss(self.stated_share, self.stated_share, self.stated_share)
        return drying_loss(
            diameter_mm,
            self.hours if own_h is None else own_h,
            water_share,
            steam_share=self.steam_share,
            diffusivity_m2_s=self.diffusivity_m2_s,
        )


def drying_of(defaults: Defaults, bench: Bench, hours: float | None = None) -> Drying:
    """Return how baits dry: for the hours of a plan or a noted bowl, else the bench's."""
    stated = defaults.own.drying_loss if defaults.own else None
    steam, diffusivity = defaults.value("steam_loss"), defaults.value("drying_diffusivity")
    dried_h = bench.drying_h if hours is None else hours
    origin = bench.origin("drying") if hours is None else "yours"
    told = Assumption("drying in one layer", f"{dried_h:g} h", origin)
    if stated is not None:
        own = Assumption("weight lost in drying", f"{stated:g} %", "yours")
        return Drying(dried_h, steam.share, diffusivity.value * 1e-12, stated / 100, (told, own))
    low, high = DRYING_LOSS_RANGE
    rest = f"{REST_WATER_PER_DRY:g} g per g dry"
    rests_on = (
        told,
        steam.assumption,
        diffusivity.assumption,
        Assumption("water that stays in a dried bait", rest, "house default"),
        Assumption("a drying loss may be, times", f"{low:g} to {high:g}", "house default"),
    )
    return Drying(dried_h, steam.share, diffusivity.value * 1e-12, None, rests_on)
