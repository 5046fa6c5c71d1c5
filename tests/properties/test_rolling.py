"""Bowls add up to what was wanted, the rest planned again is the rest, and changes make it fit."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from day_check import faults
from eggfold.engine.drying import peak_m2
from eggfold.engine.workplace import Lying
from eggfold.errors import UsageProblemError
from eggfold.formats.plans_json import rolling_document
from eggfold.plan.plan_bowls import whole_batch
from eggfold.plan.remedies import Rescue
from eggfold.plan.rolling import Rolling, build_rolling
from plan_files import MIXES, rolling_plan

BENCH = "bowl: {bowl} kg\npan: {pan} l\ntrays: {{count: {trays}, length: 80 cm, width: 60 cm}}\nfreezer: 200 l\n"


amounts = st.one_of(
    st.integers(200, 9000).map(lambda g: f"bait: {g} g"),
    st.integers(20, 1500).map(lambda n: f"count: {n}"),
    st.integers(1, 60).map(lambda n: f"eggs: {n}"),
)
sizes = st.sampled_from(
    ["", ", sizes: 16 mm", ", sizes: [{size: 14 mm, share: 30 %}, {size: 20 mm}]"]
)
wants = st.lists(
    st.tuples(st.sampled_from(MIXES), amounts, sizes).map(
        lambda w: f"  - {{recipe: {w[0]}, {w[1]}{w[2]}}}\n"
    ),
    min_size=1,
    max_size=3,
).map("".join)
plans = st.builds(
    lambda bowls, hours, people, days: (
        f"start: 2027-03-27 09:00\nzone: Europe/London\nhours: {hours} h\npeople: {people}\n"
        f"tables: {people}\ndays: {days}\nbreaks: {{at: 12:30, lasts: 40 min}}\nbowls:\n{bowls}"
    ),
    wants,
    st.integers(4, 12),
    st.integers(1, 3),
    st.integers(1, 3),
)
benches = st.builds(
    lambda bowl, pan, trays: BENCH.format(bowl=bowl, pan=pan, trays=trays),
    st.sampled_from([1, 2.5, 5]),
    st.sampled_from([3, 5, 10]),
    st.sampled_from([2, 6, 40]),
)


@settings(max_examples=25)
@given(plan=plans, bench=benches)
def test_bowls_add_up_and_days_keep_their_hours(folder: Path, plan: str, bench: str) -> None:
    opened = rolling_plan(folder, plan, bench)
    rolling = build_rolling(opened)
    for i, wanted in enumerate(opened.plan.bowls):
        whole = whole_batch(opened.recipes[wanted.recipe], wanted.strength, wanted)
        own = [b.batch for b in rolling.bowls if b.want == i]
        assert sum(b.eggs for b in own) == whole.eggs
        assert math.isclose(sum(b.paste.mass_g for b in own), whole.paste.mass_g, abs_tol=0.5)
        assert math.isclose(
            sum(b.powder.base_mix_g for b in own), whole.powder.base_mix_g, abs_tol=0.5
        )
        for n, line in enumerate(whole.doses):
            parts = sum(b.doses[n].amount.g for b in own)
            assert math.isclose(parts, line.amount.g, abs_tol=0.5)
    made = [b.number for b in rolling.made]
    assert made == list(range(1, len(made) + 1))
    for bowl in rolling.bowls:
        loads = sum(basket.paste_g for basket in bowl.baskets)
        kept = bowl.batch.paste.mass_g * 0.97 - bowl.batch.unrolled_g
        assert math.isclose(loads, kept, abs_tol=0.5)
    works = [bowl.work for bowl in rolling.bowls]
    lying: tuple[Lying, ...] = ()
    for day, hours in zip(rolling.days, rolling.session.hours, strict=True):
        if day.run is None:
            continue
        setting = rolling.session.setting(hours, lying)
        assert day.run.broken == ()
        assert faults([works[i] for i in day.bowls], setting, day.run) == []
        assert day.run.clean_s <= hours.closes_s + 1.1
        lying = (*lying, *(Lying(until, area) for _, until, area in day.run.laid))
    laid = [t for day in rolling.days if day.run for t in day.run.laid]
    assert peak_m2(laid) <= rolling.session.place.area_m2 + 1e-6


@settings(max_examples=15)
@given(plan=plans, bench=benches)
def test_planning_again_with_nothing_done_changes_nothing(
    folder: Path, plan: str, bench: str
) -> None:
    opened = rolling_plan(folder, plan, bench)
    first = rolling_document(build_rolling(opened))
    eggs = sum(b["eggs"]["count"] for b in [*first["bowls"], *first["left_out"]])
    for rescue in (Rescue(0), Rescue(0, "09:00"), Rescue(0, "2027-03-27 09:00", eggs)):
        assert rolling_document(build_rolling(opened, rescue)) == first


ONE_DAY = """\
start: 2027-03-27 09:00
hours: {hours} min
people: 2
tables: 2
bowls:
  - {{recipe: osierfen-caraway, bait: 14 kg}}
"""


def changes_of(rolling: Rolling) -> dict[str, tuple[float, int]]:
    return {c.what: (c.seconds, c.trays) for c in rolling.changes}


def test_more_time_on_the_last_day_makes_it_fit_and_much_less_does_not(folder: Path) -> None:
    """A little less may do, with bowls of another size."""
    short = build_rolling(rolling_plan(folder, ONE_DAY.format(hours=240)))
    assert short.left_out
    seconds, _ = changes_of(short)["hours"]
    more = 240 + seconds / 60
    text = ONE_DAY.format(hours=f"{more + 0.001:.4f}")
    assert build_rolling(rolling_plan(folder, text)).fits
    text = ONE_DAY.format(hours=f"{more - 30:.4f}")
    assert not build_rolling(rolling_plan(folder, text)).fits


def test_more_trays_make_it_fit_and_one_less_does_not(folder: Path) -> None:
    plan = ONE_DAY.format(hours=600)
    short = build_rolling(rolling_plan(folder, plan, BENCH.format(bowl=5, pan=5, trays=1)))
    _, trays = changes_of(short)["trays"]
    for more, fits in ((trays, True), (trays - 1, False)):
        bench = BENCH.format(bowl=5, pan=5, trays=1 + more)
        assert build_rolling(rolling_plan(folder, plan, bench)).fits == fits


def test_both_are_named_where_neither_is_enough(folder: Path) -> None:
    bench = BENCH.format(bowl=5, pan=5, trays=1)
    short = build_rolling(rolling_plan(folder, ONE_DAY.format(hours=240), bench))
    assert "hours" not in changes_of(short)
    assert "trays" not in changes_of(short)
    seconds, trays = changes_of(short)["hours-and-trays"]
    text = ONE_DAY.format(hours=f"{240 + seconds / 60 + 0.001:.4f}")
    bench = BENCH.format(bowl=5, pan=5, trays=1 + trays)
    assert build_rolling(rolling_plan(folder, text, bench)).fits


def test_a_small_freezer_is_named(folder: Path) -> None:
    rolling = build_rolling(rolling_plan(folder, ONE_DAY.format(hours=600), "freezer: 10 l\n"))
    assert not rolling.fits
    assert rolling.freezer_l.short == pytest.approx(rolling.freezer_l.needed - 10)


def test_the_rest_is_the_rest(folder: Path) -> None:
    opened = rolling_plan(folder, ONE_DAY.format(hours=600))
    whole = build_rolling(opened)
    rest = build_rolling(opened, Rescue(2, "12:20"))
    assert [b.number for b in rest.made] == [b.number for b in whole.made[2:]]
    begins = min(s.start for s in rest.steps if s.what == "mix")
    assert begins >= datetime(2027, 3, 27, 12, 20, tzinfo=UTC)


def test_few_eggs_shorten_the_last_bowl(folder: Path) -> None:
    opened = rolling_plan(folder, ONE_DAY.format(hours=600))
    eggs = [b.batch.eggs for b in build_rolling(opened).made]
    rest = build_rolling(opened, Rescue(1, "10:00", eggs[1] + 5))
    assert [b.batch.eggs for b in sorted(rest.made, key=lambda b: b.number)] == [eggs[1], 5]
    assert rest.eggs_short == sum(eggs[2:]) - 5
    assert not rest.fits
    nothing = build_rolling(opened, Rescue(1, "10:00", 0))
    assert not nothing.made
    assert nothing.eggs_short == sum(eggs[1:])


@pytest.mark.parametrize(
    ("day", "night_h"),
    [("2027-03-27", 23), ("2027-10-30", 25), ("2027-06-05", 24)],
)
def test_nights_with_a_clock_change_are_right(folder: Path, day: str, night_h: int) -> None:
    text = ONE_DAY.format(hours=600).replace("2027-03-27", day) + "days: 2\nzone: Europe/London\n"
    rolling = build_rolling(rolling_plan(folder, text))
    first, second = rolling.session.hours
    assert second.opens_s - first.opens_s == night_h * 3600
    clock = rolling.session.clock
    assert [clock.moment(h.opens_s).hour for h in (first, second)] == [9, 9]
    moments = [clock.moment(s) for s in rolling.session.frees_at]
    assert {(m.hour, m.minute) for m in moments} == {(8, 0), (20, 0)}
    dry = timedelta(hours=48)
    boiled = {s.bowls[0]: s.end for s in rolling.steps if s.what == "boil"}
    for step in (s for s in rolling.steps if s.what == "bag"):
        elapsed = [step.start.astimezone(UTC) - boiled[n].astimezone(UTC) for n in step.bowls]
        assert min(elapsed) >= dry


def test_a_day_does_not_last_into_the_next_one(folder: Path) -> None:
    text = ONE_DAY.format(hours=1440) + "days: 3\nzone: Europe/London\n"
    hours = build_rolling(rolling_plan(folder, text)).session.hours
    assert all(day.closes_s <= after.opens_s for day, after in pairwise(hours))


def test_after_the_last_hour_another_day_is_named(folder: Path) -> None:
    opened = rolling_plan(folder, ONE_DAY.format(hours=600))
    late = build_rolling(opened, Rescue(1, "20:00"))
    assert not late.made
    assert {c.what: c.days for c in late.changes} == {"days": 1}


def test_more_bowls_than_planned_cannot_be_done(folder: Path) -> None:
    opened = rolling_plan(folder, ONE_DAY.format(hours=600))
    with pytest.raises(UsageProblemError, match=r"the plan has \d bowls"):
        build_rolling(opened, Rescue(9))


def test_a_time_alone_means_the_first_day_where_nothing_fits(folder: Path) -> None:
    text = ONE_DAY.format(hours=100) + "days: 3\n"
    opened = rolling_plan(folder, text)
    first = rolling_document(build_rolling(opened))
    assert not first["bowls"]
    assert rolling_document(build_rolling(opened, Rescue(0, "09:00"))) == first
