"""No plan of a day does what nobody could do, and days give out their bowls by worth."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from day_check import faults, steps_of
from eggfold.engine.day_plan import largest_share, last_call, plan_day, plan_days, run_day
from eggfold.engine.dispatch import DaySetting
from eggfold.engine.workplace import (
    BowlWork,
    Hours,
    Lying,
    PanLoad,
    Workplace,
    emptied_s,
    mixing_s,
    station_loads,
)

MINUTE = 60.0
HOUR = 60 * MINUTE
DAY = 24 * HOUR


@st.composite
def bowl_works(draw: st.DrawFn) -> BowlWork:
    """Draw a bowl of one or two sizes, rolled by the gun or by hand, boiled or not."""
    loads: list[PanLoad] = []
    for size in draw(
        st.lists(st.sampled_from(["14", "16", "20"]), min_size=1, max_size=2, unique=True)
    ):
        load = PanLoad(
            size,
            float(draw(st.integers(50, 900))),
            draw(st.integers(2, 30)) * MINUTE,
            float(draw(st.sampled_from([0, 30, 110, 600]))),
            float(draw(st.integers(30, 300))),
            draw(st.floats(0.01, 0.2)),
            draw(st.integers(12, 72)) * HOUR,
        )
        loads += [load] * draw(st.integers(1, 4))
    return BowlWork(
        draw(st.integers(10, 20)) * MINUTE, tuple(loads), float(draw(st.integers(0, 2)))
    )


works = st.lists(bowl_works(), min_size=1, max_size=5)


@st.composite
def places(draw: st.DrawFn) -> Workplace:
    roles = draw(st.booleans())
    return Workplace(
        draw(st.integers(1, 4)),
        tables=draw(st.integers(1, 3)),
        pans=draw(st.integers(1, 3)) if roles else 1,
        mixing_bowls=draw(st.integers(1, 2)),
        area_m2=draw(st.one_of(st.just(math.inf), st.floats(1, 3))),
        stand_s=draw(st.sampled_from([HOUR, 2.5 * HOUR])),
        raw_s=draw(st.sampled_from([HOUR, 2 * HOUR])),
        cut_s=draw(st.sampled_from([0.0, 3 * MINUTE])) if roles else 0.0,
        water_every_g=draw(st.sampled_from([2000.0, 10_000.0])),
        roles=roles,
    )


workplaces = places()


def hours_of(day: int, length_h: int, breaks: int) -> Hours:
    length, opens = length_h * HOUR, day * DAY
    starts = [opens + length * (b + 1) / 5 for b in range(breaks)]
    return Hours(opens, opens + length, tuple((at, at + 20 * MINUTE) for at in starts))


@given(works, workplaces, st.integers(4, 12), st.integers(0, 3), st.floats(0, 0.5))
def test_a_day_can_be_done(
    bowls: list[BowlWork], place: Workplace, length_h: int, breaks: int, lying: float
) -> None:
    hours = hours_of(0, length_h, breaks)
    setting = DaySetting(place, hours, (Lying(3 * HOUR, lying),), (20 * HOUR, 44 * HOUR, 92 * HOUR))
    run = plan_day(bowls, setting, evaluations=20)
    if run is None:
        assert place.area_m2 < math.inf
    else:
        assert faults(bowls, setting, run) == []
        assert plan_day(bowls, setting, evaluations=20) == run
        assert run_day(bowls, setting, run.choices) == run


@given(works, workplaces)
def test_no_day_ends_before_its_busiest_station_is_done(
    bowls: list[BowlWork], place: Workplace
) -> None:
    place = place._replace(area_m2=math.inf)
    run = plan_day(bowls, DaySetting(place), evaluations=10)
    assert run is not None
    assert all(run.end_s >= s.earliest_s - 1e-5 for s in station_loads(bowls, place))


@given(works, workplaces)
def test_trying_longer_is_never_worse(bowls: list[BowlWork], place: Workplace) -> None:
    setting = DaySetting(place._replace(area_m2=math.inf), hours_of(0, 12, 1))
    short, long = (plan_day(bowls, setting, evaluations=n) for n in (8, 30))
    assert short is not None
    assert long is not None
    assert bool(long.broken) <= bool(short.broken)


@settings(max_examples=20)
@given(works, workplaces, st.integers(3, 9))
def test_days_hold_their_bowls_and_leave_out_the_least_worth(
    bowls: list[BowlWork], place: Workplace, length_h: int
) -> None:
    days = [hours_of(day, length_h, 1) for day in range(2)]
    frees_at = tuple(i * DAY / 2 for i in range(20))
    planned, left = plan_days(bowls, place, days, frees_at=frees_at)
    out = [broken.bowl for broken in left]
    assert sorted([*out, *(i for day in planned for i in day.bowls)]) == list(range(len(bowls)))
    lying: tuple[Lying, ...] = ()
    for day, hours in zip(planned, days, strict=True):
        if day.run:
            setting = DaySetting(place, hours, lying, frees_at)
            assert faults([bowls[i] for i in day.bowls], setting, day.run) == []
            assert day.run.broken == ()
            lying = (*lying, *(Lying(until, area) for _, until, area in day.run.laid))
    made = [bowls[i].worth for day in planned for i in day.bowls]
    for i in out:
        alone = [plan_day([bowls[i]], DaySetting(place, hours), evaluations=7) for hours in days]
        if any(run and not run.broken for run in alone):
            assert bowls[i].worth <= min(made, default=math.inf)


def test_a_bowl_that_no_day_can_hold_says_which_limit_forbids_it() -> None:
    load = PanLoad("20", 500.0, 20 * MINUTE, 110.0, 60.0, 0.1, DAY)
    large, small = BowlWork(20 * MINUTE, (load,) * 6), BowlWork(20 * MINUTE, (load,) * 2)
    hand = BowlWork(20 * MINUTE, (load._replace(roll_s=55 * MINUTE),) * 3)
    alone = Workplace(1, area_m2=0.55)
    _, left = plan_days([large, small, hand], alone, [hours_of(0, 9, 0)])
    assert [(b.bowl, b.limit) for b in left] == [(0, "trays"), (2, "stand")]
    roomy = alone._replace(area_m2=math.inf)
    _, left = plan_days([large, small], roomy._replace(raw_s=HOUR), [hours_of(0, 9, 0)])
    assert [(b.bowl, b.limit) for b in left] == [(0, "raw")]
    _, left = plan_days([small] * 3, alone, [hours_of(0, 4, 0)])
    assert [b.limit for b in left] == ["trays"]
    _, left = plan_days([small] * 3, roomy, [hours_of(0, 3, 0)])
    assert [b.limit for b in left] == ["hours"]


def demo_bowl(grams: float, worth: float = 0.0) -> BowlWork:
    number = math.ceil(grams / 525)
    paste_g = grams / number
    load = PanLoad("20", paste_g, paste_g * 2.4, 110.0, 60.0)
    return BowlWork(mixing_s(grams, 5000.0), (load,) * number, worth)


LUNCH = Hours(0.0, 9 * HOUR, ((3.5 * HOUR, 4.25 * HOUR),))


@given(st.floats(2600, 10_000), st.integers(1, 3))
def test_the_largest_share_keeps_the_limits_and_a_tenth_more_does_not(
    grams: float, people: int
) -> None:
    place = Workplace(people, tables=min(people, 2))
    bowl = demo_bowl(grams)
    share = largest_share(bowl, place)
    for part, keeps in ((share - 0.002, True), (share + 0.1, False)):
        number = len(bowl.loads) * part
        load = bowl.loads[0].part(number / math.ceil(number))
        run = plan_day([BowlWork(0.0, (load,) * math.ceil(number))], DaySetting(place))
        assert run is not None
        assert part > 1 or (not run.broken) == keeps


@given(st.integers(2, 4), st.floats(1500, 3500), st.integers(1, 2))
def test_a_day_that_begins_later_is_the_same_day_later(
    number: int, grams: float, people: int
) -> None:
    bowls = [demo_bowl(grams)] * number
    setting = DaySetting(Workplace(people, tables=people))
    run = plan_day(bowls, setting)
    assert run is not None
    later = run_day(bowls, setting._replace(hours=Hours(25 * MINUTE)), run.choices)
    assert later is not None
    assert math.isclose(later.end_s, run.end_s + 25 * MINUTE)


@given(st.integers(2, 4), st.floats(1500, 3500), st.floats(0, 2))
def test_the_last_call_is_in_time_and_half_an_hour_later_is_not(
    number: int, grams: float, more_h: float
) -> None:
    bowls = [demo_bowl(grams)] * number
    place = Workplace(2, tables=2)
    run = plan_day(bowls, DaySetting(place))
    assert run is not None
    setting = DaySetting(place, Hours(0.0, run.clean_s + more_h * HOUR))
    call = last_call(bowls, run, setting)
    assert call is not None
    assert call.last == run.bowls[-1].bowl
    late_s = call.at_s - run.bowls[-1].mix_start_s
    assert math.isclose(late_s, more_h * HOUR, abs_tol=1e-3)


def test_the_last_call_leaves_breaks_and_cleaning_out() -> None:
    """Counted by hand: 2 h of work end at 8 h, or at 6 h 30 before a break that cleaning must not cross."""
    bowls = [demo_bowl(1500.0)] * 2
    place = Workplace(2, tables=2, cleaning_s=HOUR)
    run = plan_day(bowls, DaySetting(place))
    assert run is not None
    work_s = run.end_s - run.bowls[-1].mix_start_s
    for breaks, ends_h in (((), 8.0), (((7.5 * HOUR, 8.5 * HOUR),), 6.5), (((1.0, 2.0),), 8.0)):
        call = last_call(bowls, run, DaySetting(place, Hours(0.0, 9 * HOUR, breaks)))
        assert call is not None
        assert math.isclose(call.at_s, ends_h * HOUR - work_s)
    call = last_call(bowls, run, DaySetting(place, Hours(0.0, 9 * HOUR, ((7.5 * HOUR, 8 * HOUR),))))
    assert call is not None
    assert math.isclose(call.at_s, 7.5 * HOUR - work_s)


def test_paste_rests_through_a_break_and_nobody_cleans_in_one() -> None:
    run = plan_day([demo_bowl(3500.0)] * 4, DaySetting(Workplace(2, tables=2), LUNCH))
    assert run is not None
    assert run.broken == ()
    mixed = [one for one in run.bowls if one.mix_start_s < 3.5 * HOUR < one.roll_start_s]
    assert len(mixed) == 1
    assert mixed[0].roll_start_s == 4.25 * HOUR


@pytest.mark.parametrize("what", ["mix", "rest", "roll", "boil", "cut", "water", "clean"])
def test_the_check_sees_what_is_begun_too_early_or_left_out(what: str) -> None:
    bowls = [demo_bowl(3500.0)] * 4
    setting = DaySetting(Workplace(2, tables=2), LUNCH)
    run = plan_day(bowls, setting)
    assert run is not None
    assert faults(bowls, setting, run) == []
    found = [i for i, step in enumerate(run.steps) if step.what == what]
    assert found
    for i in found:
        step = run.steps[i]
        early = step._replace(start_s=step.start_s - 10 * MINUTE, end_s=step.end_s - 10 * MINUTE)
        moved = run._replace(steps=(*run.steps[:i], early, *run.steps[i + 1 :]))
        assert faults(bowls, setting, moved)
        assert faults(bowls, setting, run._replace(steps=(*run.steps[:i], *run.steps[i + 1 :])))


def test_the_check_sees_another_person_at_the_pan_and_a_wait_told_wrong() -> None:
    bowls = [demo_bowl(3500.0)] * 4
    setting = DaySetting(Workplace(3, tables=2), LUNCH)
    run = plan_day(bowls, setting)
    assert run is not None
    i = next(i for i, step in enumerate(run.steps) if step.what == "boil")
    other = run.steps[i]._replace(person=(run.bowls[0].pan_person or 0) - 1)
    assert faults(bowls, setting, run._replace(steps=(*run.steps[:i], other, *run.steps[i + 1 :])))
    fresh = run.bowls[0]._replace(stands_s=0.0)
    assert faults(bowls, setting, run._replace(bowls=(fresh, *run.bowls[1:])))


def test_one_person_alone_rolls_a_bowl_to_its_end_and_then_boils_it() -> None:
    run = plan_day([demo_bowl(2500.0)] * 2, DaySetting(Workplace(1), LUNCH))
    assert run is not None
    assert run.broken == ()
    for bowl in (0, 1):
        done = [s.what for s in run.steps if s.bowl == bowl and s.what in {"roll", "boil"}]
        assert done == ["roll"] * 5 + ["boil"] * 5


def test_two_pans_boil_side_by_side_by_one_pair_of_hands() -> None:
    load = PanLoad("20", 500.0, 5 * MINUTE, 10 * MINUTE, MINUTE)
    bowl = BowlWork(20 * MINUTE, (load,) * 6)
    ends = []
    for pans in (1, 2):
        setting = DaySetting(Workplace(3, tables=2, pans=pans, cut_s=0.0))
        run = plan_day([bowl], setting)
        assert run is not None
        assert faults([bowl], setting, run) == []
        ends.append(run.end_s)
    assert ends[1] < ends[0] - 20 * MINUTE


def test_pan_water_is_changed_before_the_bowl_that_would_need_too_much() -> None:
    """Three bowls of 4 kg and 10 kg to a filling: before the third; five of 2 kg need no change."""
    setting = DaySetting(Workplace(2, tables=2))
    run = plan_day([demo_bowl(4000.0)] * 3, setting)
    assert run is not None
    assert [s.bowl for s in steps_of(run, "water")] == [run.bowls[2].bowl]
    run = plan_day([demo_bowl(2000.0)] * 5, setting)
    assert run is not None
    assert steps_of(run, "water") == []


@given(st.lists(st.integers(0, 100), max_size=5).map(sorted), st.integers(0, 120))
def test_trays_are_emptied_at_the_next_moment(moments: list[int], dry: int) -> None:
    found = emptied_s(dry, moments)
    later = [m for m in moments if m >= dry]
    assert found == (later[0] if later else dry)
