"""The sums of a bait on a cork ball, to follow with a pocket calculator."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.engine.buoyancy import hook_pull_g
from eggfold.engine.paste import ball_volume_ml, cored_volume_ml
from eggfold.pages.figures import number_text, size_text
from eggfold.reference.floating import STEEL_DENSITY_G_ML

if TYPE_CHECKING:
    from eggfold.jobs.lift import Floating


def _n(value: float) -> str:
    return number_text(value, 6)


def cored_lines(bait: Floating, each_g: float) -> Iterator[str]:
    """Yield the sums of a cored bait on a card: its weight and its lift."""
    yield from volume_lines(bait)
    d = bait.densities
    paste_ml = cored_volume_ml(bait.diameter_mm, bait.core_mm)
    yield (
        f"One {_name(bait)} = density × paste + cork's density × cork = {_n(d.paste_g_ml)} × "
        f"{_n(paste_ml)} + {_n(d.cork_g_ml)} × {_n(ball_volume_ml(bait.core_mm))} = {_n(each_g)} g"
    )
    yield lift_line(bait)


def _name(bait: Floating) -> str:
    return f"{size_text(bait.diameter_mm)} bait on {size_text(bait.core_mm)} cork"


def volume_lines(bait: Floating) -> Iterator[str]:
    """Yield the volumes of the bait, of its cork and of its paste."""
    whole, core = bait.diameter_mm, bait.core_mm
    whole_ml, core_ml = ball_volume_ml(whole), ball_volume_ml(core)
    yield (
        f"Ball = 3.14159 × diameter³ / 6: bait 3.14159 × {_n(whole / 10)}³ / 6 = {_n(whole_ml)} ml, "
        f"cork 3.14159 × {_n(core / 10)}³ / 6 = {_n(core_ml)} ml, paste {_n(whole_ml)} − "
        f"{_n(core_ml)} = {_n(cored_volume_ml(whole, core))} ml"
    )


def lift_line(bait: Floating) -> str:
    """Return the sum of the lift: water pushed away, less cork, paste and hook."""
    d, whole, core = bait.densities, bait.diameter_mm, bait.core_mm
    return (
        f"Lift = water × bait − cork's density × cork − density × paste − hook under water = "
        f"{_n(d.water_g_ml)} × {_n(ball_volume_ml(whole))} − {_n(d.cork_g_ml)} × "
        f"{_n(ball_volume_ml(core))} − {_n(d.paste_g_ml)} × {_n(cored_volume_ml(whole, core))} − "
        f"{_n(hook_pull_g(bait.hook_g, d.water_g_ml))} = {_n(bait.lift_g)} g"
    )


def hook_line(bait: Floating) -> str:
    """Return the sum of what the hook weighs under water."""
    water = bait.densities.water_g_ml
    return (
        f"Hook under water = mass × (1 − water / steel) = {_n(bait.hook_g)} × (1 − {_n(water)} / "
        f"{STEEL_DENSITY_G_ML:g}) = {_n(hook_pull_g(bait.hook_g, water))} g"
    )
