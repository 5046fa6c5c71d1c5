"""Predictions for blends stay within their limits, whatever the neighbours say."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from eggfold.engine.powder import KnownMix, predict_blend

parts = st.dictionaries(st.sampled_from("abcdefgh"), st.floats(0.1, 100), min_size=1, max_size=6)
wet = st.floats(0.25, 1)
mixes = st.lists(st.builds(KnownMix, st.just("mix"), parts, wet, st.floats(0, 0.25)), max_size=12)


@given(parts, mixes, st.sampled_from([0.1, 10.0]))
def test_a_neighbour_ten_times_off_moves_no_more_than_the_limits_allow(
    blend: dict[str, float], known: list[KnownMix], times: float
) -> None:
    known = [mix._replace(wet_per_dry=mix.wet_per_dry * times) for mix in known[:1]] + known[1:]
    found = predict_blend(blend, known, 0.5)
    for taken in (found.taken, *found.ingredients.values()):
        assert 0.25 <= taken.wet_per_dry <= 1
        assert 0.05 <= taken.sd <= 0.25
        assert taken.sd == 0.25 or not taken.cut
    assert found.taken.cut == (found.mean != found.taken.wet_per_dry)
    assert 1 <= found.absorbency <= 4


@given(parts, mixes, st.floats(1e-3, 1e3), st.floats(0.01, 100))
def test_neither_the_unit_of_the_shares_nor_of_the_wet_matters(
    blend: dict[str, float], known: list[KnownMix], times: float, unit: float
) -> None:
    found = predict_blend(blend, known, 0.5)
    other = predict_blend(
        {name: part * times for name, part in blend.items()},
        [mix._replace(wet_per_dry=mix.wet_per_dry * unit) for mix in known],
        0.5 * unit,
    )
    assert other.taken.wet_per_dry == pytest.approx(found.taken.wet_per_dry * unit, rel=1e-6)
    assert other.taken.sd == pytest.approx(found.taken.sd, rel=1e-6)


@given(parts, mixes, parts, wet)
def test_another_mix_never_adds_doubt(
    blend: dict[str, float], known: list[KnownMix], more: dict[str, float], taken: float
) -> None:
    before = predict_blend(blend, known, 0.5)
    after = predict_blend(blend, [*known, KnownMix("one more", more, taken, 0.05)], 0.5)
    assert after.variance <= before.variance * (1 + 1e-9)


@given(parts, st.sampled_from([1e-9, 1e-4, 1e4, 1e9]))
def test_figures_far_beyond_any_mix_are_worked_with(blend: dict[str, float], taken: float) -> None:
    known = [KnownMix("slip", blend, taken, 0.0)] * 3
    assert 0.25 <= predict_blend(blend, known, 0.5).taken.wet_per_dry <= 1


@pytest.mark.parametrize("blend", [{}, {"a": 0.0}, {"a": math.nan}])
def test_a_blend_of_nothing_is_refused(blend: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="add up to"):
        predict_blend(blend, [], 0.5)


@pytest.mark.parametrize("taken", [0.0, -1.0, math.nan, math.inf])
def test_a_mix_that_takes_nothing_is_refused(taken: float) -> None:
    with pytest.raises(ValueError, match="No mix takes"):
        predict_blend({"a": 1.0}, [KnownMix("slip", {"a": 1.0}, taken, 0.05)], 0.5)
    with pytest.raises(ValueError, match="No mix takes"):
        predict_blend({"a": 1.0}, [], taken)
