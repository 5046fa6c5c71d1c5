"""How the paste becomes baits: fixed counts first, the rest by share."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.paste import bait_count, ball_volume_ml
from eggfold.errors import NoAnswerError
from eggfold.jobs.asked import Asked
from eggfold.jobs.assumptions import Assumed
from eggfold.jobs.bench import Bench
from eggfold.jobs.kitchen import (
    Boil,
    Kitchen,
    PasteHeat,
    boil_for,
    boil_until,
    build_kitchen,
    paste_heat,
    target_of,
    wait_s,
)
from eggfold.reference.defaults import DEFAULT_SIZE_MM
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.files.recipe import Bait, Recipe
    from eggfold.jobs.batch import Paste


@dataclass(frozen=True, slots=True)
class Wanted:
    """One size that is wanted: a fixed count, or a share of the paste left to roll."""

    diameter_mm: float
    count: int | None
    share: float


class Roll(NamedTuple):
    """Every size of a batch, and how it is boiled."""

    wanted: tuple[Wanted, ...]
    bowl_loss: float
    spread_mm: float
    own_time_s: float | None
    asked: Asked
    kitchen: Kitchen


@dataclass(frozen=True, slots=True)
class BaitLine:
    """One size of the batch: how many, as a range, and its time in the pan."""

    kind: str
    diameter_mm: float
    core_mm: float | None
    skin_mm: float | None
    count: int
    low: int
    high: int
    each_g: float
    lift_g: float | None
    boil: Boil
    loads: int
    wait_s: float


def roll_of(recipe: Recipe, asked: Asked, bowl_loss: float, bench: Bench, assumed: Assumed) -> Roll:
    """Return the sizes that a recipe or the command asks for."""
    stated = getattr(recipe.baits, asked.strength) if recipe.baits else None
    if asked.diameter_mm is not None:
        wanted: tuple[Wanted, ...] = (Wanted(asked.diameter_mm, None, 1.0),)
    elif stated:
        wanted = _wanted(stated)
    else:
        size = DEFAULT_SIZE_MM[asked.strength]
        assumed.note("bait size", f"{size:g} mm", "house default")
        wanted = (Wanted(size, None, 1.0),)
    spread = assumed.value("diameter_spread")
    kitchen = build_kitchen(assumed, asked.altitude_m, asked.pan_l, bench=bench)
    own = getattr(recipe.boil, asked.strength) if recipe.boil and not asked.until else None
    own_s = amount_in(own, "s") if own else None
    if own_s is None:
        target = target_of(asked.strength, asked.until)
        text = f"{target.centre_c:g} degC ({target.name}: {target.why})"
        assumed.note("the centre is to reach", text, target.origin, target.source)
    return Roll(wanted, bowl_loss, spread, own_s, asked, kitchen)


def _wanted(baits: tuple[Bait, ...]) -> tuple[Wanted, ...]:
    rest = 100 - sum(b.share or 0 for b in baits)
    shares = [0.0 if b.count else (rest if b.share is None else b.share) for b in baits]
    total = sum(shares) or 1.0
    return tuple(
        Wanted(amount_in(b.size, "mm"), b.count, share / total)
        for b, share in zip(baits, shares, strict=True)
        if b.size is not None
    )


def count_of_all(roll: Roll, paste_of_one: Paste, eggs: int) -> int:
    """Return how many whole baits a number of eggs gives in all; 0 where the fixed ones do not fit."""
    density = paste_of_one.density_g_ml
    rolled = paste_of_one.mass_g * eggs * (1 - roll.bowl_loss)
    left = rolled - _fixed_g(roll, density)
    if left < 0:
        return 0
    return sum(
        w.count or _whole(bait_count(left * w.share, density, w.diameter_mm)) for w in roll.wanted
    )


def _fixed_g(roll: Roll, density: float) -> float:
    return sum(w.count * density * ball_volume_ml(w.diameter_mm) for w in roll.wanted if w.count)


def _whole(count: float) -> int:
    return math.floor(count + 1e-9)


def build_baits(
    roll: Roll, paste: Paste, margin: tuple[float, float]
) -> tuple[tuple[BaitLine, ...], float]:
    """Return the baits of a batch and the paste left unrolled [g].

    ``margin`` is how much more and less paste [g] the range of the powder makes.
    """
    density = paste.density_g_ml
    keep = 1 - roll.bowl_loss
    left = paste.mass_g * keep - _fixed_g(roll, density)
    if left < -1e-9:
        raise NoAnswerError(_too_many(roll, paste.mass_g * keep, density))
    heat = paste_heat(paste.parts, roll.kitchen)
    more, less = margin[0] * keep, margin[1] * keep
    lines = []
    for w in roll.wanted:
        counts = _counts(w, left, more, less, density, roll.spread_mm)
        each = density * ball_volume_ml(w.diameter_mm)
        mass = w.count * each if w.count else left * w.share
        boil = _boil(roll, w.diameter_mm, heat)
        loads = max(1, math.ceil(mass / boil.load_g - 1e-9))
        lines.append(
            BaitLine(
                "bottom",
                w.diameter_mm,
                None,
                None,
                *counts,
                each,
                None,
                boil,
                loads,
                wait_s(boil, heat, roll.kitchen),
            )
        )
    unrolled = 0.0 if any(w.share for w in roll.wanted) else max(0.0, left)
    return tuple(lines), unrolled


def _counts(
    w: Wanted, left: float, more: float, less: float, density: float, spread_mm: float
) -> tuple[int, int, int]:
    if w.count:
        return w.count, w.count, w.count
    small = max(w.diameter_mm - spread_mm, 0.5 * w.diameter_mm)
    low = bait_count(max(0.0, left - less) * w.share, density, w.diameter_mm + spread_mm)
    high = bait_count((left + more) * w.share, density, small)
    return _whole(bait_count(left * w.share, density, w.diameter_mm)), _whole(low), _whole(high)


def _boil(roll: Roll, diameter_mm: float, heat: PasteHeat) -> Boil:
    if roll.own_time_s is not None:
        return boil_for(diameter_mm, roll.own_time_s, heat, roll.kitchen)
    target = target_of(roll.asked.strength, roll.asked.until)
    boil = boil_until(diameter_mm, target, heat, roll.kitchen)
    if boil.seconds is None:
        raise NoAnswerError(
            f"a centre of {target.centre_c:g} °C cannot be reached: water boils at "
            f"{roll.kitchen.water_c:.1f} °C here, the highest there is; choose another --until"
        )
    return boil


def _too_many(roll: Roll, rolled_g: float, density: float) -> str:
    fixed = [w for w in roll.wanted if w.count]
    asked = ", ".join(f"{w.count} of {w.diameter_mm:g} mm" for w in fixed)
    gives = _whole(bait_count(rolled_g, density, fixed[0].diameter_mm))
    return (
        f"the paste does not give {asked}: it gives {gives} of {fixed[0].diameter_mm:g} mm; "
        "lower the count or take more eggs"
    )
