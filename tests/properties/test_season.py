"""The fewest rolling days are the fewest, and every limit holds at every moment."""

from __future__ import annotations

import math
from itertools import combinations, product

from hypothesis import given
from hypothesis import strategies as st

from eggfold.engine.season import Limits, RollDay, Rolled, Stretch, align_to_boxes, fewest_days

DAY = 86_400.0


@st.composite
def seasons(draw: st.DrawFn, *, alike: bool) -> tuple[list[RollDay], list[Stretch], Limits]:
    drying = draw(st.integers(1, 4))
    dates = sorted(draw(st.sets(st.integers(0, 14), min_size=1, max_size=5)))
    days = [RollDay(d * DAY, (d + drying) * DAY + 3600) for d in dates]
    one = (0.5, 0.5, 1.0)
    stretches = []
    leave = 0
    for _ in range(draw(st.integers(1, 3))):
        leave += draw(st.integers(1, 8))
        eggs = draw(st.integers(1, 3))
        share, area, litres = (
            one
            if alike
            else draw(st.tuples(*(st.sampled_from([0.2, 0.25, 0.5]) for _ in range(3))))
        )
        stretches.append(Stretch(eggs, share, area, litres, (leave + 3) * DAY, (leave + 3.4) * DAY))
    limits = Limits(
        draw(st.sampled_from([math.inf, 1.0, 1.5])),
        draw(st.sampled_from([math.inf, 2.0, 3.0])),
        draw(st.sampled_from([math.inf, 4 * DAY, 8 * DAY])),
    )
    return days, stretches, limits


def eggs_of(stretches: list[Stretch]) -> list[Stretch]:
    return [s._replace(eggs=1) for s in stretches for _ in range(s.eggs)]


def holds(days: list[RollDay], eggs: list[Stretch], limits: Limits, on: tuple[int, ...]) -> bool:
    """Tell egg by egg whether a choice of a day for each keeps every limit."""
    pairs = [(days[d], egg) for d, egg in zip(on, eggs, strict=True)]
    for day, egg in pairs:
        if day.bagged_s > egg.leave_s or egg.thaw_s - day.bagged_s > limits.life_s:
            return False
    for day in days:
        if sum(e.share for d, e in pairs if d is day) > 1 + 1e-9:
            return False
        lying = sum(e.area_m2 for d, e in pairs if d.opens_s <= day.opens_s < d.bagged_s)
        held = sum(
            e.litres for d, e in pairs if d.bagged_s <= day.bagged_s and e.thaw_s > day.bagged_s
        )
        if lying > limits.area_m2 + 1e-9 or held > limits.litres + 1e-9:
            return False
    return True


def brute_force(
    days: list[RollDay], stretches: list[Stretch], limits: Limits, *, in_order: bool
) -> int | None:
    eggs = eggs_of(stretches)
    for number in range(1, len(days) + 1):
        for chosen in combinations(range(len(days)), number):
            for on in product(chosen, repeat=len(eggs)):
                if in_order and list(on) != sorted(on):
                    continue
                if holds(days, eggs, limits, on):
                    return number
    return None


def days_of(rolled: tuple[Rolled, ...]) -> tuple[int, ...]:
    on: list[int] = []
    for one in rolled:
        on += [one.day] * (one.upto - len(on))
    return tuple(on)


@given(seasons(alike=True))
def test_no_choice_of_days_is_shorter_in_whatever_order(
    season: tuple[list[RollDay], list[Stretch], Limits],
) -> None:
    days, stretches, limits = season
    found = fewest_days(days, stretches, limits)
    best = brute_force(days, stretches, limits, in_order=False)
    assert (found and len(found)) == best


@given(seasons(alike=False))
def test_no_choice_of_days_is_shorter_in_order(
    season: tuple[list[RollDay], list[Stretch], Limits],
) -> None:
    days, stretches, limits = season
    found = fewest_days(days, stretches, limits)
    best = brute_force(days, stretches, limits, in_order=True)
    assert (found and len(found)) == best


@given(seasons(alike=False), st.integers(1, 4))
def test_what_is_found_keeps_every_limit(
    season: tuple[list[RollDay], list[Stretch], Limits], box: int
) -> None:
    days, stretches, limits = season
    found = fewest_days(days, stretches, limits)
    if found is not None:
        assert holds(days, eggs_of(stretches), limits, days_of(found))
        aligned = align_to_boxes(days, stretches, limits, found, box)
        assert holds(days, eggs_of(stretches), limits, days_of(aligned))
        assert [r.day for r in aligned] == [r.day for r in found]
