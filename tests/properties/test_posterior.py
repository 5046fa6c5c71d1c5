"""What bowls teach: units do not matter, ranges hold their figure, one slip does not hide the rest."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from eggfold.engine.learning import (
    SeenBowl,
    after_bowls,
    before_bowls,
    bowl_range,
    learn,
    trial_sd,
)
from eggfold.reference.learning import ABSORBENCY, DENSITY, YIELD, Learning
from next_bowl import chance_below

settings = st.sampled_from([ABSORBENCY, YIELD, DENSITY])
bowls = st.lists(st.builds(SeenBowl, st.floats(0.8, 1.25), st.floats(0, 0.05)), max_size=12)


@given(bowls, st.floats(1e-3, 1e3))
def test_the_unit_does_not_matter(seen: list[SeenBowl], unit: float) -> None:
    found = learn(1.0, seen, ABSORBENCY)
    scaled = [bowl._replace(value=bowl.value * unit) for bowl in seen]
    other = learn(unit, scaled, ABSORBENCY)
    wanted = [value * unit for value in bowl_range(found.posterior)]
    assert list(bowl_range(other.posterior)) == pytest.approx(wanted, rel=1e-8)
    assert other.posterior.level_sd == pytest.approx(found.posterior.level_sd, rel=1e-6)
    assert [far.position for far in other.far] == [far.position for far in found.far]


@given(bowls, settings, st.integers(2, 40))
def test_a_range_holds_its_figure_and_a_batch_of_bowls_is_surer(
    seen: list[SeenBowl], setting: Learning, batch: int
) -> None:
    known = learn(1.0, seen, setting).posterior
    one, many = bowl_range(known), bowl_range(known, bowls=batch)
    assert one.low < many.low < many.expected == one.expected < many.high < one.high
    for batch_of, found in ((1, one), (batch, many)):
        chances = [chance_below(known, value, bowls=batch_of) for value in found[1:]]
        assert chances == pytest.approx([0.05, 0.95], abs=1e-8)


@given(bowls, settings, st.integers(0, 12))
def test_bowls_may_come_one_after_another_or_together(
    seen: list[SeenBowl], setting: Learning, first: int
) -> None:
    apart = after_bowls(after_bowls(before_bowls(1.0, setting), seen[:first]), seen[first:])
    together = learn(1.0, seen, setting).posterior
    assert apart.bowls == together.bowls == len(seen)
    assert apart.expected == pytest.approx(together.expected, rel=1e-9)
    assert apart.scatter == pytest.approx(together.scatter, rel=1e-9)


@given(settings, st.floats(0.99, 1.01), st.integers(2, 20))
def test_bowls_that_agree_narrow_the_range_and_those_that_do_not_widen_it(
    setting: Learning, value: float, count: int
) -> None:
    before = before_bowls(1.0, setting)
    alike = after_bowls(before, [SeenBowl(value)] * count)
    apart = after_bowls(before, [SeenBowl(0.75), SeenBowl(1.3)] * count)
    widths = [found.high / found.low for found in map(bowl_range, (alike, before, apart))]
    assert widths == sorted(widths)
    assert alike.scatter < before.scatter < apart.scatter
    assert alike.level_sd < before.level_sd


@given(settings, st.integers(3, 30), st.integers(0, 29), st.booleans())
def test_a_bowl_twice_off_is_named_wherever_it_stands(
    setting: Learning, count: int, at: int, heavy: bool
) -> None:
    values = [1.0 + 0.002 * (i % 3) for i in range(count)]
    values.insert(at % count, 2.0 if heavy else 0.5)
    (far,) = learn(1.0, [SeenBowl(value) for value in values], setting).far
    assert far.position == at % count
    assert far.others == pytest.approx(1.0, abs=0.01)


@given(st.lists(st.floats(1e-6, 1e6), max_size=8), settings)
def test_figures_far_beyond_any_bowl_are_worked_with(
    values: list[float], setting: Learning
) -> None:
    lesson = learn(1.0, [SeenBowl(value) for value in values], setting)
    found = bowl_range(lesson.posterior)
    assert 0 < found.low < found.expected < found.high < math.inf
    assert len(lesson.far) <= 3


@given(st.floats(0, 0.5), st.floats(0, 0.5), bowls)
def test_any_doubt_a_recipe_may_assume_is_worked_with(
    level_sd: float, bowl_sd: float, seen: list[SeenBowl]
) -> None:
    setting = ABSORBENCY._replace(level_sd=level_sd, bowl_sd=bowl_sd)
    found = bowl_range(learn(1.0, seen, setting).posterior)
    assert 0 < found.low < found.expected < found.high < math.inf


@given(st.integers(1, 500))
def test_more_eggs_make_a_trial_surer_but_weighed_eggs_surest(eggs: int) -> None:
    assert trial_sd(eggs) > trial_sd(eggs + 1) > trial_sd(None)


def test_a_trial_without_eggs_is_refused() -> None:
    with pytest.raises(ValueError, match="No trial has 0 eggs"):
        trial_sd(0)


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_what_is_no_figure_is_refused(value: float) -> None:
    known = before_bowls(1.0, ABSORBENCY)
    with pytest.raises(ValueError, match="Nothing is learned"):
        before_bowls(value, ABSORBENCY)
    with pytest.raises(ValueError, match="Nothing is learned"):
        after_bowls(known, [SeenBowl(value)])
