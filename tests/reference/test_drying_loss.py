"""What dries out of a bait, against the textbook of diffusion and a numerical solution."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import erfc

from eggfold.engine.drying import DryingLoss, dried_fraction, drying_loss

TYPICAL_WATER = 0.3033
"""60.52 g of egg with 76.15 % of water and 130 g of mix with 9 %."""


def loss(diameter_mm: float, drying_h: float = 48.0, water: float = TYPICAL_WATER) -> DryingLoss:
    return drying_loss(diameter_mm, drying_h, water, steam_share=0.03, diffusivity_m2_s=5e-12)


# Crank, The mathematics of diffusion, 2nd edition, equations 6.20 and 6.21, from memory: the series
# for late times with 2,000 terms, and that for early ones with its complementary error functions.
def late(fourier: float) -> float:
    left = (math.exp(-((n * math.pi) ** 2) * fourier) / n**2 for n in range(1, 2000))
    return 1 - 6 / math.pi**2 * math.fsum(left)


def early(fourier: float) -> float:
    def ierfc(x: float) -> float:
        return math.exp(-x * x) / math.sqrt(math.pi) - x * float(erfc(x))

    root = math.sqrt(fourier)
    more = math.fsum(ierfc(n / root) for n in range(1, 30))
    return 6 * root * (1 / math.sqrt(math.pi) + 2 * more) - 3 * fourier


@pytest.mark.parametrize("fourier", [0.001, 0.0176, 0.0499999, 0.05, 0.0500001, 0.2, 1.0])
def test_both_series_agree(fourier: float) -> None:
    assert dried_fraction(fourier) == pytest.approx(
        late(fourier), abs=4e-4 if fourier < 0.002 else 1e-7
    )
    assert dried_fraction(fourier) == pytest.approx(early(fourier), abs=1e-7)


def test_half_is_gone_at_0_0305() -> None:
    # Crank, from memory: D t / a² = 0.0305 for a sphere
    assert dried_fraction(0.0305) == pytest.approx(0.5, abs=0.001)


def test_the_profile_holds_what_is_left() -> None:
    # the series of the profile itself, Crank 6.18, from memory, weighed up by quadrature
    fourier = 0.03

    def left(x: float) -> float:
        terms = (
            (-1) ** (n + 1)
            / n
            * math.sin(n * math.pi * x)
            * math.exp(-((n * math.pi) ** 2) * fourier)
            for n in range(1, 60)
        )
        return 2 / math.pi * x * math.fsum(terms)

    assert 1 - 3 * quad(left, 0, 1)[0] == pytest.approx(dried_fraction(fourier), abs=1e-7)


@pytest.mark.parametrize(("diameter_mm", "percent"), [(14.0, 11), (20.0, 9)])
def test_two_days_of_drying(diameter_mm: float, percent: int) -> None:
    # worked out apart from this program, rounded to whole per cent; common practice, from memory:
    # 8 to 15 % in two days of air, small baits most
    assert loss(diameter_mm).share * 100 == pytest.approx(percent, abs=0.5)
    assert 0.08 <= loss(diameter_mm).share <= 0.15


def test_before_it_dries_a_bait_has_steamed() -> None:
    assert loss(16.0, 0.0).share == 0.03


def test_a_range_is_half_as_much_to_half_as_much_again() -> None:
    share, low, high = loss(16.0)
    assert (low, high) == pytest.approx((share / 2, share * 1.5))


@given(st.floats(3.0, 60.0), st.floats(0.0, 2000.0), st.floats(0.0, 0.9))
def test_never_more_than_the_water(diameter_mm: float, drying_h: float, water: float) -> None:
    share, low, high = loss(diameter_mm, drying_h, water)
    assert 0 <= low <= share <= high <= water


@given(st.floats(3.0, 60.0), st.floats(3.0, 60.0), st.floats(0.0, 500.0), st.floats(0.0, 500.0))
def test_small_baits_and_long_times_lose_more(
    one_mm: float, other_mm: float, one_h: float, other_h: float
) -> None:
    (small, big), (short, long) = sorted((one_mm, other_mm)), sorted((one_h, other_h))
    assert loss(small, long).share >= loss(big, short).share - 1e-9


def test_refusals() -> None:
    with pytest.raises(ValueError, match="Fourier number"):
        dried_fraction(-0.1)
