"""Bowls add up, hold what they take, and are as few and as small as can be."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from eggfold.engine.scaling import loads_needed, split_eggs


@given(st.integers(1, 5000), st.floats(50, 600), st.floats(50, 100_000))
def test_eggs_add_up_and_fit(eggs: int, paste_g: float, bowl_g: float) -> None:
    groups = split_eggs(eggs, paste_g, bowl_g)
    most = max(1, math.floor(bowl_g / paste_g + 1e-9))
    assert sum(g.number * g.eggs for g in groups) == eggs
    assert all(1 <= g.eggs <= most for g in groups)
    assert len(groups) == 1 or (groups[1].number == 1 and groups[1].eggs < groups[0].eggs)


@given(st.integers(1, 5000), st.integers(1, 60))
def test_no_fewer_and_no_smaller_bowls_hold_the_eggs(eggs: int, most: int) -> None:
    groups = split_eggs(eggs, 100.0, 100.0 * most)
    bowls = sum(g.number for g in groups)
    assert (bowls - 1) * most < eggs
    assert bowls * (groups[0].eggs - 1) < eggs


@given(st.floats(0, 5000), st.floats(50, 3000), st.floats(0, 40_000))
def test_loads_are_as_few_as_fit_the_pan_and_half_an_hour(
    paste_g: float, load_g: float, roll_s: float
) -> None:
    loads = loads_needed(paste_g, load_g, roll_s)
    assert paste_g / loads <= load_g + 1e-6
    assert roll_s / loads <= 1800 + 1e-6
    assert loads == 1 or paste_g / (loads - 1) > load_g - 1e-6 or roll_s / (loads - 1) > 1800 - 1e-6
