"""The page of a bait on a cork ball."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from eggfold.engine.buoyancy import hook_pull_g
from eggfold.engine.paste import ball_volume_ml, cored_volume_ml
from eggfold.pages.figures import (
    Units,
    density_text,
    fine,
    got,
    number_text,
    put,
    size_text,
    skin_text,
    temperature_text,
)
from eggfold.pages.page import Block, Column, Facts, Lines, Page, Plot, Table, basis_blocks
from eggfold.recipe.buoyancy import SOAK
from eggfold.reference.boiling import CORK_RANGE_G_ML, STEEL_DENSITY_G_ML

if TYPE_CHECKING:
    from eggfold.recipe.buoyancy import Buoyancy, Floating


CURVE_POINTS = 61
CURVE_SKINS = 2.0
"""The curve runs to so many times the skin, or past the neutral one; house default."""


def buoyancy_page(result: Buoyancy, units: Units, *, why: bool = False) -> Page:
    """Return the bait, the table around it and the curve."""
    bait = result.bait
    blocks: list[Block] = [
        _facts(result, units),
        _around(result, units),
        _curve(result, units),
    ]
    blocks.append(Lines("TAKE CARE", (SOAK,)))
    if why:
        blocks.append(Lines("HOW EACH FIGURE CAME ABOUT", tuple(_why(result))))
    blocks += (*units.lines(), *basis_blocks(result, why=why))
    title = f"Bait on {size_text(bait.core_mm)} cork, {_called(result)}"
    return Page(title, result.paste, tuple(blocks))


def _facts(result: Buoyancy, units: Units) -> Facts:
    bait = result.bait
    hook = units.mass(bait.hook_g) if bait.hook_g else "none"
    rows = (
        ("Skin", f"{skin_text(bait.skin_mm)} of paste, a bait of {skin_text(bait.diameter_mm)}"),
        ("Lift", f"{units.lift(bait.lift_g)} with the hook ({hook}): it {_does(result)}"),
        *_lift_range(bait, units),
        ("Neutral", _neutral(result)),
        ("Paste", f"{density_text(bait.densities.paste_g_ml)}, {result.paste}"),
        (
            "Water",
            f"{bait.densities.water_g_ml:.4f} g/ml at {temperature_text(result.lake.water_c)}",
        ),
        ("Cork", density_text(bait.densities.cork_g_ml)),
    )
    return Facts("BAIT", rows)


def _lift_range(bait: Floating, units: Units) -> Iterator[tuple[str, str]]:
    """Yield from what to what the lift goes, where nobody weighed the cork."""
    if not bait.weighed:
        low, high = map(units.lift, bait.lift_range)
        yield "", f"{low} to {high} depending on the cork; weigh ten balls: --ten-balls"


def _called(result: Buoyancy) -> str:
    """Return what a bait does, and no more than its cork lets be said."""
    return "balanced at best" if result.bait.lift_range.holds_both_signs else result.behaviour


def _does(result: Buoyancy) -> str:
    if result.bait.lift_range.holds_both_signs:
        return "is balanced at best"
    return {"floats": "floats", "sinks": "sinks", "balanced": "hangs balanced"}[result.behaviour]


def _neutral(result: Buoyancy) -> str:
    if result.neutral_skin_mm is not None:
        return f"{skin_text(result.neutral_skin_mm)} of paste: under that it floats, over that it sinks"
    water, _, paste = result.bait.densities
    if paste <= water:
        return "none: the paste is no denser than the water"
    return "none: the bare cork sinks with this hook"


def _around(result: Buoyancy, units: Units) -> Table:
    columns = (
        Column("Skin", "right"),
        Column("bait", "right"),
        Column("lift with the hook", "right"),
        Column("change", "right"),
        Column("without a hook", "right"),
        Column(""),
    )
    rows = tuple(_skin_row(one, result.bait, units) for one in result.around)
    return Table("MORE OR LESS PASTE  by half a millimetre", columns, rows)


def _skin_row(one: Floating, answer: Floating, units: Units) -> tuple[str, ...]:
    same = one.skin_mm == answer.skin_mm
    return (
        skin_text(one.skin_mm),
        skin_text(one.diameter_mm),
        units.lift(one.lift_g),
        "" if same else units.lift(one.lift_g - answer.lift_g),
        units.lift(one._replace(hook_g=0.0).lift_g),
        "this bait" if same else "",
    )


def _curve(result: Buoyancy, units: Units) -> Plot:
    bait, neutral = result.bait, result.neutral_skin_mm
    top = max(CURVE_SKINS * bait.skin_mm, result.around[-1].skin_mm)
    if neutral is not None and neutral < CURVE_SKINS * top:
        top = max(top, 1.1 * neutral)
    skins = (top * i / (CURVE_POINTS - 1) for i in range(CURVE_POINTS))
    mass = units.mass_pair
    points = tuple((s, bait._replace(skin_mm=s).lift_g / mass.small_size) for s in skins)
    at = bait.lift_g / mass.small_size
    marks = [(bait.skin_mm, at, f"{skin_text(bait.skin_mm)}: {units.lift(bait.lift_g)}")]
    if neutral is not None and neutral <= top:
        marks.append((neutral, 0.0, f"neutral at {skin_text(neutral)}"))
    return Plot(
        "LIFT  with the hook", "skin of paste, mm", f"lift, {mass.small}", points, tuple(marks)
    )


def _why(result: Buoyancy) -> Iterator[str]:
    bait = result.bait
    yield _hook_line(bait)
    if result.wanted_g is not None:
        yield _skin_line(bait, result.wanted_g, "Diameter for the lift")
    yield from _volume_lines(bait)
    yield from _lift_lines(bait)
    if result.neutral_skin_mm is not None:
        yield _skin_line(bait._replace(skin_mm=result.neutral_skin_mm), 0.0, "Neutral diameter")


CUBE_DIGITS = 4
"""Water and paste are near each other, and their difference has so many digits."""


def _skin_line(bait: Floating, wanted_g: float, what: str) -> str:
    d, core_cm = bait.densities, bait.core_mm / 10
    pull = hook_pull_g(bait.hook_g, d.water_g_ml)
    cubed = (bait.diameter_mm / 10) ** 3
    return (
        f"{what}, cubed = (6 / 3.14159 × (lift + hook under water) + (cork − paste) × core³) / (water − "
        f"paste) = (6 / 3.14159 × ({put(wanted_g)} + {put(pull)}) + ({put(d.cork_g_ml)} − "
        f"{put(d.paste_g_ml)}) × {put(core_cm)}³) / ({put(d.water_g_ml)} − {put(d.paste_g_ml)}) = "
        f"{number_text(cubed, CUBE_DIGITS)} cm³; check {put(bait.diameter_mm / 10)}³ = {got(cubed)} "
        f"cm³; skin = ({put(bait.diameter_mm)} − {put(bait.core_mm)}) / 2 = {fine(bait.skin_mm, 3)} mm"
    )


def cored_lines(bait: Floating, each_g: float) -> Iterator[str]:
    """Yield the sums of a cored bait on a card: its weight and its lift."""
    yield from _volume_lines(bait)
    d = bait.densities
    paste_ml = cored_volume_ml(bait.diameter_mm, bait.core_mm)
    yield (
        f"One {_name(bait)} = density × paste + cork's density × cork = {put(d.paste_g_ml)} × "
        f"{put(paste_ml)} + {put(d.cork_g_ml)} × {put(ball_volume_ml(bait.core_mm))} = {got(each_g)} g"
    )
    yield _hook_line(bait)
    yield from _lift_lines(bait)


def _name(bait: Floating) -> str:
    return f"{size_text(bait.diameter_mm)} bait on {size_text(bait.core_mm)} cork"


def _volume_lines(bait: Floating) -> Iterator[str]:
    """Yield the volumes of the bait, of its cork and of its paste."""
    whole, core = bait.diameter_mm, bait.core_mm
    whole_ml, core_ml = ball_volume_ml(whole), ball_volume_ml(core)
    yield (
        f"Ball = 3.14159 × diameter³ / 6: bait 3.14159 × {put(whole / 10)}³ / 6 = {got(whole_ml)} "
        f"ml; cork 3.14159 × {put(core / 10)}³ / 6 = {got(core_ml)} ml; paste {put(whole_ml)} − "
        f"{put(core_ml)} = {fine(cored_volume_ml(whole, core))} ml"
    )


def _lift_lines(bait: Floating) -> Iterator[str]:
    """Yield the sum of the lift, and those on heavy and on light cork where nobody weighed it."""
    yield _lift_line(bait, "Lift")
    if not bait.weighed:
        for what, cork_g_ml in zip(("heavy", "light"), reversed(CORK_RANGE_G_ML), strict=True):
            densities = bait.densities._replace(cork_g_ml=cork_g_ml)
            yield _lift_line(bait._replace(densities=densities), f"Lift on {what} cork")


def _lift_line(bait: Floating, what: str) -> str:
    """Return the sum of a lift: water pushed away, less cork, paste and hook."""
    d, whole, core = bait.densities, bait.diameter_mm, bait.core_mm
    return (
        f"{what} = water × bait − cork's density × cork − density × paste − hook under water = "
        f"{put(d.water_g_ml)} × {put(ball_volume_ml(whole))} − {put(d.cork_g_ml)} × "
        f"{put(ball_volume_ml(core))} − {put(d.paste_g_ml)} × {put(cored_volume_ml(whole, core))} − "
        f"{put(hook_pull_g(bait.hook_g, d.water_g_ml))} = {fine(bait.lift_g, 3)} g"
    )


def _hook_line(bait: Floating) -> str:
    """Return the sum of what the hook weighs under water."""
    water = bait.densities.water_g_ml
    return (
        f"Hook under water = mass × (1 − water / steel) = {put(bait.hook_g)} × (1 − {put(water)} / "
        f"{STEEL_DENSITY_G_ML:g}) = {got(hook_pull_g(bait.hook_g, water))} g"
    )
