"""The units that pages show, against their published sizes."""

from __future__ import annotations

from typing import Literal

import pytest
import scipy.constants as published

from eggfold.pages.figures import units_in

System = Literal["metric", "imperial", "us"]


@pytest.mark.parametrize("system", ["imperial", "us"])
def test_ounce_and_pound_are_international_avoirdupois(system: System) -> None:
    # international yard and pound agreement, 1959: 0.45359237 kg exactly; scipy.constants.pound
    mass = units_in(system).mass_pair
    assert mass.large_size == pytest.approx(453.59237, rel=1e-12)
    assert mass.large_size == pytest.approx(published.pound * 1000, rel=1e-12)
    # NIST SP 811, table B.8, from memory: ounce 2.834952 E-02 kg
    assert mass.small_size == pytest.approx(28.34952, abs=0.000005)
    assert mass.small_size == pytest.approx(published.oz * 1000, rel=1e-12)


def test_us_volumes_come_from_a_gallon_of_231_cubic_inches() -> None:
    # NIST Handbook 44, appendix C: a US gallon is 231 cubic inches; scipy.constants.fluid_ounce
    volume = units_in("us").volume_pair
    assert volume.large_size == pytest.approx(231 * 2.54**3 / 128, rel=1e-12)
    assert volume.large_size == pytest.approx(published.fluid_ounce * 1e6, rel=1e-12)
    # NIST SP 811, table B.8, from memory: fluid ounce 2.957353 E-05 m3, teaspoon 4.928922 E-06 m3
    assert volume.large_size == pytest.approx(29.57353, abs=0.000005)
    assert volume.small_size == pytest.approx(4.928922, abs=0.0000005)


def test_imperial_volumes_come_from_a_gallon_of_4_54609_litres() -> None:
    # UK Weights and Measures Act 1985 (from memory): 4.54609 l; scipy.constants.fluid_ounce_imp
    volume = units_in("imperial").volume_pair
    assert volume.large_size == pytest.approx(4546.09 / 160, rel=1e-12)
    assert volume.large_size == pytest.approx(published.fluid_ounce_imp * 1e6, rel=1e-12)
    # NIST SP 430, and the same in the UK: a teaspoon of 5 ml
    assert volume.small_size == 5


@pytest.mark.parametrize(
    ("system", "g", "ml", "mass", "volume"),
    [
        ("metric", 999, 999, "999 g", "999 ml"),
        ("metric", 999.5, 1000, "1.00 kg", "1.00 l"),
        ("imperial", 453.59237, 28.4130625, "1.00 lb", "1.00 fl oz"),
        ("imperial", 28.349523125, 5, "1 oz", "1 tsp"),
        ("us", 453.3, 29.5, "16 oz", "5.99 tsp"),
        ("us", 1000, 118.294118, "2.20 lb", "4.00 fl oz"),
        ("us", 1.65, 0.8, "0.0582 oz", "0.162 tsp"),
    ],
)
def test_the_larger_unit_begins_at_one_of_it(
    system: System, g: float, ml: float, mass: str, volume: str
) -> None:
    assert (units_in(system).mass(g), units_in(system).volume(ml)) == (mass, volume)


@pytest.mark.parametrize(
    ("system", "g", "lift"),
    [
        ("metric", 0.314, "+0.31 g"),
        ("metric", -0.004, "0.00 g"),
        ("imperial", -28.349523125, "-1.0000 oz"),
        ("us", 0.3, "+0.0106 oz"),
        ("us", -0.001, "0.0000 oz"),
    ],
)
def test_a_lift_keeps_its_sign_and_as_fine_a_step(system: System, g: float, lift: str) -> None:
    assert units_in(system).lift(g) == lift


@pytest.mark.parametrize(
    ("system", "pan"), [("metric", "5 l"), ("us", "5.28 qt"), ("imperial", "4.4 qt")]
)
def test_a_pan_is_told_in_quarts(system: System, pan: str) -> None:
    # NIST SP 811: a US liquid quart is 0.9463529 l; the imperial one is a quarter of 4.54609 l
    assert units_in(system).litres(5) == pan
