"""The sums of a bait on a cork ball, to follow with a pocket calculator."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.engine.buoyancy import hook_pull_g
from eggfold.engine.paste import ball_volume_ml, cored_volume_ml
from eggfold.pages.figures import size_text
from eggfold.pages.why.sums import fine, got, put
from eggfold.reference.floating import STEEL_DENSITY_G_ML

if TYPE_CHECKING:
    from eggfold.jobs.bowl.lift import Floating


def cored_lines(bait: Floating, each_g: float) -> Iterator[str]:
    """Yield the sums of a cored bait on a card: its weight and its lift."""
    yield from volume_lines(bait)
    d = bait.densities
    paste_ml = cored_volume_ml(bait.diameter_mm, bait.core_mm)
    yield (
        f"One {_name(bait)} = density × paste + cork's density × cork = {put(d.paste_g_ml)} × "
        f"{put(paste_ml)} + {put(d.cork_g_ml)} × {put(ball_volume_ml(bait.core_mm))} = {got(each_g)} g"
    )
    yield hook_line(bait)
    yield lift_line(bait)


def _name(bait: Floating) -> str:
    return f"{size_text(bait.diameter_mm)} bait on {size_text(bait.core_mm)} cork"


def volume_lines(bait: Floating) -> Iterator[str]:
    """Yield the volumes of the bait, of its cork and of its paste."""
    whole, core = bait.diameter_mm, bait.core_mm
    whole_ml, core_ml = ball_volume_ml(whole), ball_volume_ml(core)
    yield (
        f"Ball = 3.14159 × diameter³ / 6: bait 3.14159 × {put(whole / 10)}³ / 6 = {got(whole_ml)} "
        f"ml; cork 3.14159 × {put(core / 10)}³ / 6 = {got(core_ml)} ml; paste {put(whole_ml)} − "
        f"{put(core_ml)} = {fine(cored_volume_ml(whole, core))} ml"
    )


def lift_line(bait: Floating) -> str:
    """Return the sum of the lift: water pushed away, less cork, paste and hook."""
    d, whole, core = bait.densities, bait.diameter_mm, bait.core_mm
    return (
        f"Lift = water × bait − cork's density × cork − density × paste − hook under water = "
        f"{put(d.water_g_ml)} × {put(ball_volume_ml(whole))} − {put(d.cork_g_ml)} × "
        f"{put(ball_volume_ml(core))} − {put(d.paste_g_ml)} × {put(cored_volume_ml(whole, core))} − "
        f"{put(hook_pull_g(bait.hook_g, d.water_g_ml))} = {fine(bait.lift_g, 3)} g"
    )


def hook_line(bait: Floating) -> str:
    """Return the sum of what the hook weighs under water."""
    water = bait.densities.water_g_ml
    return (
        f"Hook under water = mass × (1 − water / steel) = {put(bait.hook_g)} × (1 − {put(water)} / "
        f"{STEEL_DENSITY_G_ML:g}) = {got(hook_pull_g(bait.hook_g, water))} g"
    )
