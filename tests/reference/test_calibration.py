"""Learning from the scale, against the product of normal densities and against planted values."""

from __future__ import annotations

import math
import random
from typing import Any

import numpy as np
import pytest
from scipy import stats

from eggfold.engine.calibration import (
    MOST_LOOKS,
    Learned,
    Seen,
    birge_ratio,
    learned,
    outliers,
    weighed_sd,
)


def test_posterior_is_the_normalised_product_of_the_densities() -> None:
    # Bayes' theorem itself, on a grid, with scipy's normal density.
    prior = Learned(2.015, 0.2015)
    seen = [Seen(2.2, 0.1), Seen(2.05, 0.12), Seen(1.9, 0.1)]
    grid = np.linspace(0.5, 4, 200_001)
    density = stats.norm.pdf(grid, prior.mean, prior.sd)
    for one in seen:
        density = density * stats.norm.pdf(one.value, grid, one.sd)
    density /= density.sum()
    mean = float((grid * density).sum())
    sd = math.sqrt(float(((grid - mean) ** 2 * density).sum()))
    after = learned(prior, seen)
    assert after.mean == pytest.approx(mean, rel=1e-9)
    assert after.sd == pytest.approx(sd, rel=1e-6)


def test_gelman_example_of_two_equal_precisions() -> None:
    # Bayesian Data Analysis 3e, equation 2.11: the posterior mean lies halfway; from memory.
    after = learned(Learned(10.0, 2.0), [Seen(14.0, 2.0)])
    assert after == pytest.approx((12.0, math.sqrt(2)))


@pytest.mark.parametrize("planted", [1.6, 2.0, 2.5])
def test_a_planted_absorbency_is_recovered(planted: float) -> None:
    a0 = 2.015
    dice = random.Random(20260502)  # noqa: S311 - planted data, not secrets
    sd = weighed_sd(0.05 * a0, 1.0, 64.5)
    seen = [Seen(dice.gauss(planted, sd), sd) for _ in range(200)]
    after = learned(Learned(a0, 0.10 * a0), seen)
    assert abs(after.mean - planted) < 4 * after.sd
    assert after.sd < sd / 10


def test_two_readings_of_a_scale_have_a_sixth_of_its_division_squared() -> None:
    # A reading rounded to r is uniform over r: variance r²/12 (GUM, JCGM 100:2008, F.2.2.1), twice.
    r, wet = 5.0, 64.52
    of_one_reading = float(stats.uniform(-r / 2, r).var())
    assert weighed_sd(0.0, r, wet) == pytest.approx(math.sqrt(2 * of_one_reading) / wet)


def test_one_slip_is_named_and_the_good_ones_are_not() -> None:
    prior = Learned(2.0, 0.2)
    seen = [Seen(v, 0.1) for v in (2.05, 1.98, 4.1, 2.1)]
    assert outliers(prior, seen) == [2]
    assert outliers(prior, [seen[0], seen[1], seen[3]]) == []


def test_without_doubt_nothing_is_learned() -> None:
    assert learned(Learned(2.0, 0.0), [Seen(3.0, 0.1)]) == (2.0, 0.0)


class Looked(list[Seen]):
    """Observations that count how often one of them is taken."""

    looks = 0

    def __getitem__(self, which: Any) -> Any:
        self.looks += 1
        return super().__getitem__(which)


def far_off(prior: Learned, seen: list[Seen]) -> list[int]:
    """Return the outliers by the definition, each learned from all the others anew."""
    kept, found = list(range(len(seen))), []
    while kept:
        far = {}
        for i in kept:
            rest = learned(prior, [seen[j] for j in kept if j != i])
            far[i] = abs(seen[i].value - rest.mean) / math.hypot(rest.sd, seen[i].sd)
        furthest = max(kept, key=far.__getitem__)
        if far[furthest] <= 3:
            break
        kept.remove(furthest)
        found.append(furthest)
    return sorted(found)


@pytest.mark.parametrize("doubt", [0.0, 1e-5, 0.1])
def test_the_outliers_are_those_of_the_definition(doubt: float) -> None:
    dice = random.Random(20260503)  # noqa: S311 - planted data, not secrets
    prior, named = Learned(2.0, doubt), 0
    for many in range(25):
        sds = (1e-4, 0.1, dice.uniform(0.01, 1))
        seen = [Seen(dice.gauss(2, dice.choice((0.1, 1))), dice.choice(sds)) for _ in range(many)]
        assert outliers(prior, seen) == far_off(prior, seen)
        named += len(outliers(prior, seen))
    assert named


def test_so_many_slips_that_the_last_are_taken_together() -> None:
    good, slips = [Seen(2.0, 0.1)] * 400, [Seen(4.0 + i / 100, 0.1) for i in range(130)]
    seen = Looked([*good, *slips])
    assert outliers(Learned(2.0, 0.2), seen) == [*range(400, 530)]
    assert seen.looks <= (MOST_LOOKS + 1) * len(seen)
    assert far_off(Learned(2.0, 0.2), [*good[:40], *slips[:13]]) == [*range(40, 53)]


def test_each_observation_is_looked_at_once_for_each_slip() -> None:
    seen = Looked([Seen(2.0, 0.1)] * 300 + [Seen(4.0, 0.1)])
    assert outliers(Learned(2.0, 0.2), seen) == [300]
    assert seen.looks <= 2 * len(seen)


def test_the_birge_ratio_is_the_reduced_chi_of_a_weighted_mean() -> None:
    # numpy's weighted average and the sum of squares about it, prior and observations alike.
    values, sds = np.array([2.0, 2.1, 2.6, 1.7]), np.array([0.2, 0.1, 0.12, 0.1])
    mean = np.average(values, weights=1 / sds**2)
    ratio = math.sqrt((((values - mean) / sds) ** 2).sum() / (len(values) - 1))
    first, *rest = map(Seen, values.tolist(), sds.tolist())
    assert birge_ratio(Learned(*first), rest) == pytest.approx(ratio, rel=1e-12)


def test_observations_that_the_model_fits_have_a_ratio_of_about_one() -> None:
    dice = random.Random(20260503)  # noqa: S311 - planted data, not secrets
    seen = [Seen(dice.gauss(2.0, 0.1), 0.1) for _ in range(500)]
    assert birge_ratio(Learned(2.0, 0.2), seen) == pytest.approx(1, abs=0.1)
    assert birge_ratio(Learned(2.0, 0.0), seen) == 1
