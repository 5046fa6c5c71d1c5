"""Where the incomplete gamma function begins and ends, and which quantiles there are none of."""

from __future__ import annotations

import math

import pytest

from eggfold.engine.gamma import gamma_below, gamma_quantile


@pytest.mark.parametrize(
    ("shape", "below"),
    [(0, 0.5), (-1, 0.5), (5, 0), (5, 1), (5, -0.1), (5, 1.1), (math.nan, 0.5), (5, math.nan)],
)
def test_what_has_no_quantile_is_refused(shape: float, below: float) -> None:
    with pytest.raises(ValueError, match="No quantile at"):
        gamma_quantile(shape, below)


@pytest.mark.parametrize("shape", [0.5, 1.0, 40.0])
def test_nothing_lies_below_nothing(shape: float) -> None:
    assert gamma_below(shape, 0.0) == 0


@pytest.mark.parametrize("shape", [1e-12, 1.5e-14, 1e-15, 1.5e-15, 1e-16])
@pytest.mark.parametrize("x", [0.1, 0.5, 0.9, 1.0])
def test_no_probability_is_above_one(shape: float, x: float) -> None:
    """All but some shape × 3 lies below 0.1: rounding alone could carry that above 1."""
    assert 1 - 1e-11 < gamma_below(shape, x) <= 1


@pytest.mark.parametrize("x", [50.0, 700.0, 1e5])
def test_all_lies_below_what_is_far_off(x: float) -> None:
    assert gamma_below(0.5, x) == pytest.approx(1, abs=1e-15)
    assert gamma_below(0.5, x) <= 1


@pytest.mark.parametrize("below", [1e-12, 0.025, 0.5, 0.975, 0.999999])
def test_a_quantile_of_shape_one_is_that_of_an_exponential(below: float) -> None:
    # the chance of less is one less e to the power of -x, whose inverse is written by hand
    assert gamma_quantile(1.0, below) == pytest.approx(-math.log1p(-below), rel=1e-10)
