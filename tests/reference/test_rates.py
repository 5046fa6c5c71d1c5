"""Rates of takes against published worked examples and scipy."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, special, stats

from eggfold.engine.gamma import gamma_below, gamma_quantile
from eggfold.engine.trials import GammaRate, chances_highest, more_exposure_h, rate_interval

takes = st.integers(0, 4000)
hours = st.floats(0.01, 1e6)

# Garwood limits of a count, 95 %: scipy.stats.chi2.ppf and statsmodels confint_poisson(exact-c),
# which agree in the four digits printed.
GARWOOD = [
    (0, 0.0, 3.6889),
    (1, 0.0253, 5.5716),
    (2, 0.2422, 7.2247),
    (3, 0.6187, 8.7673),
    (5, 1.6235, 11.6683),
    (7, 2.8144, 14.4227),
    (10, 4.7954, 18.3904),
    (15, 8.3954, 24.7402),
    (20, 12.2165, 30.8884),
    (25, 16.1787, 36.9049),
    (50, 37.1110, 65.9188),
    (100, 81.3640, 121.6268),
]


def chances_best(counts: list[int], exposures: list[float]) -> tuple[float, ...]:
    """Return each rate's chance to be the highest, half a take added to each."""
    rates = [GammaRate(x + 0.5, t) for x, t in zip(counts, exposures, strict=True)]
    return chances_highest(rates)


@pytest.mark.parametrize(("count", "low", "high"), GARWOOD)
def test_garwood_limits_of_a_count(count: int, low: float, high: float) -> None:
    assert rate_interval(count, 1, 1.0) == pytest.approx((low, high), abs=0.00006)


# GraphPad FAQ, confidence interval of a count of 25; last printed digit.
@pytest.mark.parametrize(
    ("confidence", "low", "high"),
    [(0.90, 17.38, 34.92), (0.95, 16.18, 36.90), (0.99, 14.00, 41.00)],
)
def test_garwood_limits_of_25_events(confidence: float, low: float, high: float) -> None:
    interval = rate_interval(25, 1, 1.0, confidence=confidence)
    assert interval == pytest.approx((low, high), abs=0.006)


# 15 in 400: R packages DescTools and exactci, as stored in the tests of statsmodels.
def test_garwood_limits_of_a_rate() -> None:
    expected = (0.0209884653319583, 0.0618505471787146)
    assert rate_interval(15, 400, 1.0) == pytest.approx(expected, rel=1e-12)


# 137 in 24.19893: the help example of R's poisson.test; the printed output from memory.
def test_garwood_limits_of_the_poisson_test_example() -> None:
    assert rate_interval(137, 24.19893, 1.0) == pytest.approx((4.753125, 6.692709), abs=6e-7)


# Epitools: 0 events; the limit by hand is the logarithm of 1 / 0.025.
def test_no_event_has_the_limit_of_minus_log_of_the_tail() -> None:
    low, high = rate_interval(0, 8.0, 1.0)
    assert low == 0
    assert high == pytest.approx(-math.log(0.025) / 8, rel=1e-14)


@given(takes, hours)
def test_garwood_agrees_with_chi_square_quantiles(count: int, exposure_h: float) -> None:
    low = stats.chi2.ppf(0.025, 2 * count) / 2 / exposure_h if count else 0
    high = stats.chi2.ppf(0.975, 2 * count + 2) / 2 / exposure_h
    assert rate_interval(count, exposure_h, 1.0) == pytest.approx((low, high), rel=1e-10)


@given(st.floats(0.5, 1e4), st.floats(1e-6, 1 - 1e-6))
def test_gamma_quantile_agrees_with_scipy(shape: float, below: float) -> None:
    expected = float(special.gammaincinv(shape, below))
    assert gamma_quantile(shape, below) == pytest.approx(expected, rel=1e-9)


@given(st.floats(0.5, 1e4), st.floats(1e-3, 10))
def test_gamma_below_agrees_with_scipy(shape: float, times: float) -> None:
    expected = float(special.gammainc(shape, shape * times))
    assert gamma_below(shape, shape * times) == pytest.approx(expected, rel=1e-10, abs=1e-11)


@given(takes, hours, takes, st.floats(0.05, 20))
def test_best_of_two_agrees_with_the_incomplete_beta_function(
    x: int, t: float, y: int, times: float
) -> None:
    # The hours are such that the two rates lie within 20-fold of each other.
    u = t * (y + 0.5) / (x + 0.5) * times
    expected = float(special.betainc(y + 0.5, x + 0.5, u / (t + u)))
    first, second = chances_best([x, y], [t, u])
    assert first == pytest.approx(expected, abs=1e-10)
    assert first + second == pytest.approx(1, abs=1e-10)


@pytest.mark.parametrize(
    ("counts", "exposures"),
    [
        ([7, 2, 0], [180.0, 168.0, 37.0]),
        ([0, 0, 0, 0], [10.0, 20.0, 40.0, 80.0]),
        ([900, 3, 12, 40], [9000.0, 20.0, 150.0, 410.0]),
    ],
)
def test_best_of_several_agrees_with_scipy_quadrature(
    counts: list[int], exposures: list[float]
) -> None:
    posteriors = [stats.gamma(x + 0.5, scale=1 / t) for x, t in zip(counts, exposures, strict=True)]
    found = chances_best(counts, exposures)
    for i, posterior in enumerate(posteriors):
        others = posteriors[:i] + posteriors[i + 1 :]
        expected = integrate.quad(chance_above, 0, 1, (posterior, others), epsabs=1e-9, limit=400)
        assert found[i] == pytest.approx(expected[0], abs=1e-7)


def chance_above(p: float, one: Any, others: list[Any]) -> float:
    """Return the probability that all others lie below a quantile of one."""
    return math.prod(float(other.cdf(one.ppf(p))) for other in others)


def power_by_square_roots(r1: float, t1: float, r2: float, t2: float) -> float:
    """Return how often the square roots of two rates lie 1.96 standard errors apart, exactly."""
    k1, k2 = (np.arange(int(r * t + 12 * math.sqrt(r * t) + 30)) for r, t in ((r1, t1), (r2, t2)))
    chances = np.outer(stats.poisson.pmf(k1, r1 * t1), stats.poisson.pmf(k2, r2 * t2))
    apart = np.abs(np.sqrt(k1 / t1)[:, None] - np.sqrt(k2 / t2)[None, :])
    return float(chances[apart > 1.96 * math.sqrt(1 / (4 * t1) + 1 / (4 * t2))].sum())


# The exact power of the test that the equation plans for, summed over the planted rates' outcomes;
# the square root's normal curve is good to some 2 % at these counts.
@pytest.mark.parametrize(
    ("x", "t", "y", "u"), [(12, 100.0, 18, 100.0), (30, 250.0, 10, 120.0), (40, 800.0, 9, 120.0)]
)
def test_the_exposure_asked_for_gives_four_in_five(x: int, t: float, y: int, u: float) -> None:
    more = more_exposure_h(x, t, y, u)
    assert more
    assert power_by_square_roots(x / t, t + more, y / u, u + more) == pytest.approx(0.8, abs=0.02)


# 1.960 + 0.842, the two quantiles of any normal table.
def test_the_power_constant_is_the_sum_of_two_normal_quantiles() -> None:
    assert stats.norm.ppf(0.975) + stats.norm.ppf(0.8) == pytest.approx(2.802, abs=6e-4)
