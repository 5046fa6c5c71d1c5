"""No run is over capacity or early, good orders are near the best there is, and days hold their bowls."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from eggfold.engine.days import Day, mix_late, plan_days
from eggfold.engine.flow import assign_hands, bounds
from eggfold.engine.ordering import arrange, arranged
from eggfold.engine.schedule import Hours, Lying, Shop, Task, emptied_s, run_shop
from eggfold.engine.session import ANY_NUMBER, MIX, REST, Load, Stages, Work, session_tasks
from eggfold.engine.trays import laid_out, peak_m2

MINUTE = 60.0
DAY = 24 * 60 * MINUTE

loads = st.builds(
    Load, st.integers(50, 900).map(float), st.integers(30, 900).map(float), st.floats(0.01, 0.2)
)
works = st.lists(
    st.builds(Work, st.lists(loads, min_size=1, max_size=4).map(tuple), st.integers(0, 2)),
    min_size=1,
    max_size=6,
)
stages = st.builds(
    Stages,
    st.integers(1, 40).map(lambda m: m * MINUTE),
    st.integers(0, 30).map(lambda m: m * MINUTE),
    st.just(10 * MINUTE),
    st.integers(12, 72).map(lambda h: h * 60 * MINUTE),
    st.floats(0.5, 4),
)
shops = st.builds(
    Shop,
    st.tuples(st.integers(1, 2), st.just(ANY_NUMBER), st.integers(1, 3), st.integers(1, 2)),
    st.integers(1, 4),
    st.one_of(st.just(math.inf), st.floats(0.2, 3)),
)


def used(spans: list[tuple[float, float, float]]) -> float:
    """Return the most in use at once, counted over at every start."""
    return max(
        (sum(n for s, e, n in spans if s <= at < e - 1e-5) for at, _, _ in spans), default=0.0
    )


def check_day(day: Day, shop: Shop, hours: Hours, frees_at: list[float]) -> None:
    spans = [
        (start, start + task.seconds, task)
        for task, start in zip(day.tasks, day.run.starts, strict=True)
    ]
    for station, number in enumerate(shop.stations):
        assert used([(s, e, 1) for s, e, t in spans if t.station == station]) <= number
    assert used([(s, e, t.hands) for s, e, t in spans]) <= shop.hands
    for start, end, task in spans:
        assert all(start >= spans[before][1] - 1e-5 for before in task.after)
        if task.hands:
            assert start >= hours.opens_s - 1e-5
            assert end <= hours.closes_s + 1e-5
            assert all(end <= b + 1e-5 or start >= e - 1e-5 for b, e in hours.breaks)
    assert used(laid_out(day, frees_at)) <= shop.area_m2 + 1e-6


@given(works, stages, shops, st.integers(2, 10), st.integers(0, 3))
def test_days_hold_their_bowls(
    bowls: list[Work], times: Stages, shop: Shop, hours: int, breaks: int
) -> None:
    length = hours * 60 * MINUTE
    days = [
        Hours(
            i * DAY,
            i * DAY + length,
            tuple(
                (i * DAY + length * (b + 1) / 5, i * DAY + length * (b + 1) / 5 + 20 * MINUTE)
                for b in range(breaks)
            ),
        )
        for i in range(3)
    ]
    frees_at = [i * DAY / 2 for i in range(20)]
    order, loads_of = arrange(bowls, times, shop)
    assert [sorted(one) for one in loads_of] == [list(range(len(b.loads))) for b in bowls]
    assert sorted(order) == list(range(len(bowls)))
    planned, left = plan_days(bowls, order, times, shop, days, frees_at=frees_at)
    made = [i for day in planned for i in day.bowls]
    assert [*made, *left] == list(order)
    for day, open_hours in zip(planned, days, strict=True):
        check_day(day, shop, open_hours, frees_at)
    laid = [trays for day in planned for trays in laid_out(day, frees_at)]
    assert used(laid) <= shop.area_m2 + 1e-6
    assert peak_m2(laid) == pytest.approx(used(laid))


@given(works, stages, shops)
def test_nothing_ends_before_its_bounds(bowls: list[Work], times: Stages, shop: Shop) -> None:
    tasks = session_tasks(bowls, times)
    run = run_shop(tasks, shop._replace(area_m2=math.inf), Hours())
    assert run is not None
    assert all(run.end_s >= bound.earliest_s - 1e-5 for bound in bounds(tasks, shop))


@given(works, stages, shops)
def test_mixing_later_moves_nothing_else(bowls: list[Work], times: Stages, shop: Shop) -> None:
    shop = shop._replace(area_m2=math.inf)
    tasks = session_tasks(bowls, times)
    run = run_shop(tasks, shop, Hours())
    assert run is not None
    late = mix_late(tasks, run, shop, Hours())
    for task, before, after in zip(tasks, run.starts, late.starts, strict=True):
        assert after >= before - 1e-5 if task.station in (MIX, REST) else after == before
    check_day(Day((), tasks, late), shop, Hours(), [])


@given(works, stages, shops)
def test_each_hand_does_one_thing_at_a_time(bowls: list[Work], times: Stages, shop: Shop) -> None:
    tasks = session_tasks(bowls, times)
    run = run_shop(tasks, shop._replace(area_m2=math.inf), Hours())
    assert run is not None
    who = assign_hands(tasks, run.starts, shop.hands)
    assert all((person >= 0) == bool(task.hands) for person, task in zip(who, tasks, strict=True))
    for person in range(shop.hands):
        spans = sorted(
            (start, start + task.seconds)
            for task, start, one in zip(tasks, run.starts, who, strict=True)
            if one == person
        )
        assert all(before[1] <= after[0] + 1e-5 for before, after in pairwise(spans))


@given(st.lists(st.integers(0, 100), max_size=5).map(sorted), st.integers(0, 120))
def test_trays_are_emptied_at_the_next_moment(moments: list[int], dry: int) -> None:
    found = emptied_s(dry, moments)
    later = [m for m in moments if m >= dry]
    assert found == (later[0] if later else dry)


def test_a_tray_in_use_from_before_is_waited_for() -> None:
    task = Task(0, 0, 60.0, 1, (), 1.0, 100.0)
    run = run_shop([task], Shop((1,), 1, 1.5), Hours(), lying=(Lying(30.0, 1.0),))
    assert run is not None
    assert run.starts == (30.0,)


small = st.lists(
    st.builds(
        Work,
        st.lists(
            st.builds(
                Load,
                st.sampled_from([250.0, 500.0, 1000.0]),
                st.sampled_from([120.0, 600.0, 1800.0]),
                st.just(0.0),
            ),
            min_size=1,
            max_size=2,
        ).map(tuple),
        st.integers(0, 3),
    ),
    min_size=1,
    max_size=4,
).filter(lambda bowls: sum(len(b.loads) for b in bowls) <= 5)


def ends_before(tasks: tuple[Task, ...], shop: Shop, limit_s: float) -> bool:
    """Tell by trying every order of starting tasks whether any schedule ends before a limit.

    Serial schedule generation over all lists of tasks holds a shortest schedule of any project with
    limited resources (Kolisch, European Journal of Operational Research, 1996).
    """
    tails = [0.0] * len(tasks)
    for i in range(len(tasks) - 1, -1, -1):
        for j in tasks[i].after:
            tails[j] = max(tails[j], tails[i] + tasks[i].seconds)
    seen: set[tuple[tuple[int, float], ...]] = set()

    def search(placed: dict[int, float]) -> bool:
        key = tuple(sorted(placed.items()))
        if key in seen:
            return False
        seen.add(key)
        if len(placed) == len(tasks):
            return True
        for i, task in enumerate(tasks):
            if i in placed or any(j not in placed for j in task.after):
                continue
            start = earliest(tasks, shop, placed, i)
            if start + task.seconds + tails[i] < limit_s and search(placed | {i: start}):
                return True
        return False

    return search({})


def earliest(tasks: tuple[Task, ...], shop: Shop, placed: dict[int, float], i: int) -> float:
    """Return the first moment at which a task finds its station and its people throughout."""
    task = tasks[i]
    ready = max((placed[j] + tasks[j].seconds for j in task.after), default=0.0)
    ends = {s + tasks[j].seconds for j, s in placed.items()}
    for start in sorted({ready, *(e for e in ends if e > ready)}):
        end = start + task.seconds
        inside = [
            (max(s, start), s + tasks[j].seconds, tasks[j])
            for j, s in placed.items()
            if s < end and s + tasks[j].seconds > start
        ]
        moments = {start, *(s for s, _, _ in inside)}
        if all(fits(task, [t for s, e, t in inside if s <= at < e], shop) for at in moments):
            return start
    raise AssertionError


def fits(task: Task, busy: list[Task], shop: Shop) -> bool:
    at_station = sum(t.station == task.station for t in busy)
    hands = sum(t.hands for t in busy)
    return hands + task.hands <= shop.hands and at_station < shop.stations[task.station]


@settings(max_examples=40)
@given(small, st.integers(1, 2), st.integers(1, 2), st.integers(1, 3))
def test_the_chosen_run_is_within_a_tenth_of_brute_force(
    bowls: list[Work], tables: int, pans: int, hands: int
) -> None:
    times = Stages(20 * MINUTE, 10 * MINUTE, 0.0, DAY, 1.5)
    shop = Shop((1, ANY_NUMBER, tables, pans), hands)
    bowls = list(arranged(bowls, arrange(bowls, times, shop)))
    days, left = plan_days(bowls, range(len(bowls)), times, shop, [Hours()])
    assert not left
    limit = days[0].run.end_s / 1.10
    tasks = session_tasks(bowls, times)
    if max(bound.earliest_s for bound in bounds(tasks, shop)) < limit:
        assert not ends_before(tasks, shop, limit - 1e-6)


def test_brute_force_finds_what_there_is() -> None:
    tasks = (Task(0, 0, 60.0, 1), Task(1, 0, 30.0, 1), Task(1, 1, 60.0, 1, (1,)))
    assert ends_before(tasks, Shop((1, 1), 2), 90.5)
    assert not ends_before(tasks, Shop((1, 1), 2), 90.0)
    assert not ends_before(tasks, Shop((1, 1), 1), 150.0)
