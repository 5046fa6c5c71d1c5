"""Bags add up to the batch, and a month is never passed over."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import build_batch
from eggfold.recipe.labels import Keeping, bag_weights_g, build_labels, months_after
from recipe_files import recipes_of
from running import RECIPES


@given(st.floats(1, 1e6), st.floats(10, 1e5))
def test_bags_add_up_and_none_is_nearly_empty(finished_g: float, bag_g: float) -> None:
    assume(finished_g / bag_g < 1000)
    *full, last = bag_weights_g(finished_g, bag_g)
    assert sum(full) + last == pytest.approx(finished_g, rel=1e-12)
    assert len(set(full)) <= 1
    assert all(bag_g <= one <= 1.1 * bag_g for one in full)
    assert last <= (full[0] if full else 1.1 * bag_g) * (1 + 1e-6)
    assert not full or last > 0.0999 * bag_g


def test_a_small_rest_is_shared_out() -> None:
    assert bag_weights_g(4050, 1000) == pytest.approx((1012.5,) * 4)
    assert bag_weights_g(4500, 1000) == (1000, 1000, 1000, 1000, 500)


@given(st.integers(1, 1000), st.floats(10, 5000))
def test_a_whole_number_of_bags_leaves_no_empty_one(bags: int, bag_g: float) -> None:
    assert len(bag_weights_g(bags * bag_g, bag_g)) == bags


@given(st.dates(date(1900, 1, 1), date(2999, 12, 31)), st.integers(1, 60))
def test_months_move_the_month_and_keep_the_day_where_there_is_one(day: date, months: int) -> None:
    later = months_after(day, months)
    moved = (later.year - day.year) * 12 + later.month - day.month
    assert moved == months
    assert later.day == day.day or (later.day < day.day and (later + timedelta(1)).day == 1)


@pytest.mark.parametrize("eggs", [1, 7, 48])
def test_labels_of_a_recipe_weigh_what_the_card_says(eggs: int) -> None:
    asked = Asked("freebie", BatchSize("eggs", eggs))
    keeping = Keeping(date(2026, 1, 31))
    recipes = recipes_of(RECIPES)
    assert recipes
    for opened in recipes:
        labels = build_labels(opened, asked, keeping, 450.0)
        finished = build_batch(opened, asked).paste.finished_g
        assert sum(label.weight_g for label in labels) == pytest.approx(finished, rel=1e-12)
        assert [label.bag for label in labels] == list(range(1, labels[0].bags + 1))
        assert {label.keeping.use_by for label in labels} == {date(2026, 7, 31)}


@given(st.dates(date(1900, 1, 1), date(2999, 1, 1)), st.integers(1, 60))
def test_a_dried_bag_keeps_as_many_days_as_its_maker_says(made: date, days: int) -> None:
    keeping = Keeping(made, days=days)
    assert (keeping.use_by - made).days == days
    assert (keeping.origin, Keeping(made).origin) == ("yours", "common practice")
