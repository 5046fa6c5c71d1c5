"""The lift of a bait against Archimedes by mass balance, and against common practice."""

from __future__ import annotations

import math

import pytest
from iapws import IAPWS95

from eggfold.engine.buoyancy import (
    Densities,
    bare_core_mm,
    cork_density_g_ml,
    hook_pull_g,
    lift_g,
    lift_range_g,
    skin_for_lift_mm,
)
from eggfold.engine.properties import water_density_kg_m3
from eggfold.recipe.buoyancy import AskedBuoyancy, Buoyancy, build_buoyancy, typical_skin

PASTE_G_ML = 1.16
LAKE = Densities(0.9995, 0.15, PASTE_G_ML)


def balance_g(core_mm: float, skin_mm: float, densities: Densities, hook_g: float) -> float:
    """Weigh bait and hook in air, then take off the water that each pushes away."""
    core_cm, whole_cm = core_mm / 10, core_mm / 10 + 2 * skin_mm / 10
    ball_ml, bait_ml = math.pi * core_cm**3 / 6, math.pi * whole_cm**3 / 6
    in_air_g = ball_ml * densities.cork_g_ml + (bait_ml - ball_ml) * densities.paste_g_ml + hook_g
    pushed_ml = bait_ml + hook_g / 7.85
    return pushed_ml * densities.water_g_ml - in_air_g


# Archimedes: what floats is the water pushed away less everything weighed in air.
@pytest.mark.parametrize("core_mm", [6.0, 10.0, 12.0, 14.0])
@pytest.mark.parametrize("skin_mm", [0.5, 2.0, 3.0, 6.0])
@pytest.mark.parametrize("hook_g", [0.0, 0.3, 1.5])
def test_lift_is_a_mass_balance(core_mm: float, skin_mm: float, hook_g: float) -> None:
    for paste_g_ml in (0.95, 1.16, 1.3):
        densities = LAKE._replace(paste_g_ml=paste_g_ml)
        expected = balance_g(core_mm, skin_mm, densities, hook_g)
        assert lift_g(core_mm, skin_mm, densities, hook_g=hook_g) == pytest.approx(
            expected, abs=1e-12
        )


def test_a_ball_of_water_in_water_weighs_nothing() -> None:
    assert lift_g(10.0, 3.0, Densities(1.0, 1.0, 1.0)) == pytest.approx(0, abs=1e-12)


def typical(skin_mm: float, hook_g: float = 0.0) -> Buoyancy:
    asked = AskedBuoyancy(10.0, skin_mm=skin_mm, hook_g=hook_g)
    return build_buoyancy(asked, typical_skin())


@pytest.mark.parametrize("skin_mm", [2.0, 2.5, 3.0])
def test_a_10_mm_cork_under_2_to_3_mm_floats_without_a_hook(skin_mm: float) -> None:
    # common practice, no source
    assert typical(skin_mm).behaviour == "floats"


def test_a_hook_of_0_3_g_sinks_the_thicker_one() -> None:
    # common practice, no source
    assert typical(2.0, 0.3).behaviour != "sinks"
    assert typical(3.0, 0.3).behaviour == "sinks"


# IAPWS-95 stands in for Tanaka 2001: the lift of a bait must not notice which table made it.
@pytest.mark.parametrize("water_c", [0.01, 4.0, 12.0, 25.0, 40.0])
def test_lift_by_either_table_of_water(water_c: float) -> None:
    tanaka = water_density_kg_m3(water_c) / 1000
    iapws = IAPWS95(T=water_c + 273.15, P=0.101325).rho / 1000
    one, other = (lift_g(14.0, 4.0, LAKE._replace(water_g_ml=w)) for w in (tanaka, iapws))
    assert one == pytest.approx(other, abs=1.5e-6 * 5.6)


@pytest.mark.parametrize("hook_g", [0.0, 0.4, 1.0])
def test_the_bare_ball_is_the_limit(hook_g: float) -> None:
    bare_mm = bare_core_mm(0.2, LAKE.water_g_ml, LAKE.cork_g_ml, hook_g=hook_g)
    assert lift_g(bare_mm, 0.0, LAKE, hook_g=hook_g) == pytest.approx(0.2, abs=1e-12)
    assert skin_for_lift_mm(bare_mm - 0.01, 0.2, LAKE, hook_g=hook_g) is None
    assert skin_for_lift_mm(bare_mm + 0.01, 0.2, LAKE, hook_g=hook_g) is not None


def test_paste_as_dense_as_water_has_no_skin() -> None:
    assert skin_for_lift_mm(10.0, 0.1, Densities(1.0, 0.15, 1.0)) is None


def test_ten_balls_give_their_density() -> None:
    # geometry: ten balls of 10 mm are 5.235988 ml
    assert cork_density_g_ml(5.235988 * 0.17, 10.0) == pytest.approx(0.17, abs=1e-7)


def test_a_steel_hook_keeps_seven_eighths_of_its_weight() -> None:
    # steel 7.85 g/ml: one less one in 7.85
    assert hook_pull_g(1.0, 1.0) == pytest.approx(0.872611, abs=1e-6)


# Archimedes with the lightest and the heaviest cork; solid cork is sold at 0.12 to 0.24 g/ml, the
# 0.10 is ours.
def test_the_range_of_a_lift_is_that_of_its_cork() -> None:
    found = lift_range_g(10.0, 3.0, LAKE, hook_g=0.2)
    for lift, cork in zip(found, (0.24, 0.10), strict=True):
        expected = balance_g(10.0, 3.0, LAKE._replace(cork_g_ml=cork), 0.2)
        assert lift == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize(
    ("skin_mm", "hook_g", "both"),
    [(3.0, 0.2, True), (2.0, 0.0, False), (6.0, 0.5, False), (3.0, 0.0, False)],
)
def test_a_lift_may_have_either_sign(skin_mm: float, hook_g: float, both: bool) -> None:
    low_g, high_g = found = lift_range_g(10.0, skin_mm, LAKE, hook_g=hook_g)
    assert found.holds_both_signs is both is (low_g * high_g < 0)


def test_own_cork_outside_the_range_widens_it() -> None:
    light = LAKE._replace(cork_g_ml=0.08)
    assert lift_range_g(10.0, 3.0, light).high_g == lift_g(10.0, 3.0, light)
