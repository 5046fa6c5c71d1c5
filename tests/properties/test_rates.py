"""Intervals hold what was seen and narrow with hours, probabilities add up, needs are what is missing."""

from __future__ import annotations

import math
from random import Random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from eggfold.engine.trials import (
    chances_highest,
    dispersion,
    more_exposure_h,
    rate_interval,
    shrunk_rates,
)

takes = st.integers(0, 5000)
hours = st.floats(0.01, 1e5)
mixes = st.lists(st.tuples(st.integers(0, 400), st.floats(0.5, 5000)), min_size=1, max_size=12)


def chances_best(counts: list[int], exposures: list[float]) -> tuple[float, ...]:
    return chances_highest(shrunk_rates(counts, exposures, 1.7))


@given(takes, hours)
def test_the_interval_holds_the_rate(x: int, t: float) -> None:
    low, high = rate_interval(x, t, 1.0)
    assert low <= x / t < high


@given(st.integers(1, 500), st.floats(0.1, 1000), st.integers(2, 9))
def test_more_hours_at_the_same_rate_narrow_the_interval(x: int, t: float, times: int) -> None:
    low, high = rate_interval(x, t, 1.0)
    nearer_low, nearer_high = rate_interval(x * times, t * times, 1.0)
    assert low < nearer_low < nearer_high < high


@given(mixes)
def test_the_chances_to_be_best_add_up(listed: list[tuple[int, float]]) -> None:
    chances = chances_best([x for x, _ in listed], [t for _, t in listed])
    assert all(-1e-12 <= chance <= 1 + 1e-12 for chance in chances)
    assert math.fsum(chances) == pytest.approx(1, abs=1e-10)


@given(mixes, st.randoms())
def test_the_order_of_the_mixes_does_not_matter(
    listed: list[tuple[int, float]], random: Random
) -> None:
    order = list(range(len(listed)))
    random.shuffle(order)
    chances = chances_best([x for x, _ in listed], [t for _, t in listed])
    mixed = chances_best([listed[i][0] for i in order], [listed[i][1] for i in order])
    assert mixed == pytest.approx([chances[i] for i in order], abs=1e-11)


@given(mixes)
def test_another_take_makes_the_first_mix_likelier_the_best(
    listed: list[tuple[int, float]],
) -> None:
    assume(len(listed) > 1)
    hours_each = [t for _, t in listed]
    before = chances_best([x for x, _ in listed], hours_each)
    after = chances_best([listed[0][0] + 1, *(x for x, _ in listed[1:])], hours_each)
    assert after[0] >= before[0] - 1e-11


@given(takes, hours, takes, hours)
def test_the_hours_still_needed_solve_the_equation(x: int, t: float, y: int, u: float) -> None:
    more = more_exposure_h(x, t, y, u)
    if more is None:
        assert more_exposure_h(y, u, x, t) is None
        assert x / t == pytest.approx(y / u, rel=1e-11)
        return
    assert more == pytest.approx(more_exposure_h(y, u, x, t), rel=1e-9)
    d = ((math.sqrt(x / t) - math.sqrt(y / u)) / 2.802) ** 2
    left = 1 / (4 * (t + more)) + 1 / (4 * (u + more))
    if more == 0:
        assert left <= d * (1 + 1e-9)
    else:
        assert left == pytest.approx(d, rel=1e-6)


@given(takes, hours, st.floats(1, 400), st.floats(1.01, 10))
def test_spells_widen_the_interval_about_the_rate(
    x: int, t: float, phi: float, times: float
) -> None:
    low, high = rate_interval(x, t, phi)
    lower, higher = rate_interval(x, t, phi * times)
    assert lower <= low <= x / t < high < higher
    assert lower < low or low == 0


@pytest.mark.parametrize(("x", "t"), [(-1, 1.0), (1, 0.0), (1, math.nan), (1, math.inf)])
def test_dispersion_of_what_is_no_outing_is_refused(x: int, t: float) -> None:
    with pytest.raises(ValueError, match="No rate of"):
        dispersion({"Reed": [(x, t)]})


def test_a_mix_never_fished_does_not_count() -> None:
    assert dispersion({"Reed": [(3, 8.0)], "Sedge": []}) == dispersion({"Reed": [(3, 8.0)]})


def test_of_no_mixes_none_is_the_best() -> None:
    assert chances_best([], []) == ()


def test_each_mix_needs_its_hours() -> None:
    with pytest.raises(ValueError, match="shorter"):
        chances_best([1, 2, 3], [10.0, 20.0])


@pytest.mark.parametrize(("x", "t"), [(-1, 1.0), (1, 0.0), (1, -2.0), (1, math.nan), (1, math.inf)])
def test_what_is_no_outing_is_refused(x: int, t: float) -> None:
    with pytest.raises(ValueError, match="No rate of"):
        rate_interval(x, t, 1.0)
    with pytest.raises(ValueError, match="No rate of"):
        more_exposure_h(x, t, 1, 1.0)
