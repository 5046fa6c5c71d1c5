"""The planner of a day against all days there are, days drawn at random, and published flow shops."""

from __future__ import annotations

import math
import random
from statistics import fmean
from typing import NamedTuple

import pytest

from day_check import faults
from day_schedules import best_end_s, random_end_s
from demo_weekend import (
    AT_ONCE,
    SATURDAY,
    SMALLER_SATURDAY,
    SMALLER_SUNDAY,
    SUNDAY,
    TWO_PEOPLE,
    hours_of,
)
from eggfold.engine.day_plan import plan_day
from eggfold.engine.dispatch import DaySetting
from eggfold.engine.workplace import BowlWork, PanLoad, Workplace, station_loads


class Published(NamedTuple):
    """Times of each job on each machine, and the published end of the shortest schedule."""

    source: str
    times: tuple[tuple[int, ...], ...]
    shortest: int


# The times of the second were read in the model library of GAMS (flowshop, sequence 376), which
# takes them from the book; both shortest ends are from memory of the paper and the book.
PUBLISHED = (
    Published(
        "Johnson, Naval Research Logistics Quarterly 1, 1954, two machines: 47, at worst 78",
        ((4, 5), (4, 1), (30, 4), (6, 30), (2, 3)),
        47,
    ),
    Published(
        "Guéret, Prins, Sevaux, Applications of Optimization with Xpress-MP, 2002, section 7.2",
        ((3, 5, 5), (6, 4, 2), (3, 2, 4), (5, 4, 6), (5, 4, 3), (7, 5, 6)),
        35,
    ),
)

SMALL_PLANS = 25
RANDOM_PLANS = 1000
"""How many random plans a test draws; benchmarks/bench_day_plan.py draws 20,000."""


def small_plan(draw: random.Random) -> tuple[list[BowlWork], Workplace]:
    """Draw one to three bowls of five loads at the most, without limits of standing."""
    number = draw.choice((1, 2, 2, 3))
    left, bowls = 5, []
    for i in range(number):
        loads: list[PanLoad] = []
        most = min(3, left - (number - 1 - i))
        wanted = draw.randint(1, most)
        left -= wanted
        for size in draw.choice((("16",), ("16", "20")))[:wanted]:
            roll_s, boil_s = (
                draw.choice((300, 600, 900, 1200, 1800)),
                draw.choice((60, 120, 300, 600)),
            )
            share = math.ceil((wanted - len(loads)) / 2) if size == "16" else wanted - len(loads)
            loads += [PanLoad(size, 500.0, float(roll_s), float(boil_s), 60.0)] * share
        bowls.append(BowlWork(float(draw.choice((660, 900, 1200))), tuple(loads)))
    roles = draw.random() < 0.7
    place = Workplace(
        draw.randint(1, 3),
        tables=draw.randint(1, 2),
        mixing_bowls=draw.randint(1, 2),
        stand_s=math.inf,
        raw_s=math.inf,
        cut_s=180.0 if roles and draw.random() < 0.5 else 0.0,
        roles=roles,
    )
    return bowls, place


def test_small_plans_end_near_the_best_of_all_there_are() -> None:
    draw = random.Random(9)  # noqa: S311 - the same plans each time
    later = []
    for _ in range(SMALL_PLANS):
        bowls, place = small_plan(draw)
        setting = DaySetting(place)
        run = plan_day(bowls, setting)
        assert run is not None
        assert faults(bowls, setting, run) == []
        later.append(run.end_s / best_end_s(bowls, setting, run.end_s) - 1)
    assert fmean(later) <= 0.02
    assert max(later) <= 0.08


def test_trying_everything_finds_what_there_is() -> None:
    """By hand: two loads of 10 min from two tables at 30 min, one after the other in the pan."""
    load = PanLoad("16", 500.0, 600.0, 60.0, 60.0)
    bowl = BowlWork(1200.0, (load, load))
    for people, end in ((1, 3240.0), (2, 2640.0)):
        setting = DaySetting(Workplace(people, tables=2, cut_s=0.0))
        assert best_end_s([bowl], setting, math.inf) == end


@pytest.mark.parametrize(
    ("bowls", "day"),
    [(SMALLER_SATURDAY, 0), (SMALLER_SUNDAY, 1)],
    ids=["Saturday", "Sunday"],
)
def test_the_demo_weekend_ends_with_the_best_of_random_plans(
    bowls: tuple[BowlWork, ...], day: int
) -> None:
    setting = DaySetting(TWO_PEOPLE, hours_of(day))
    run = plan_day(bowls, setting)
    assert run is not None
    assert run.broken == ()
    draw = random.Random(4)  # noqa: S311 - the same days each time
    best = min(random_end_s(bowls, setting, draw) for _ in range(RANDOM_PLANS))
    opens = setting.hours.opens_s
    assert best < math.inf
    assert run.end_s - opens <= 1.03 * (best - opens)


def test_the_demo_saturday_is_twenty_minutes_shorter_than_one_rule_for_all_makes_it() -> None:
    """Three bowls by the rule downstream first, whoever is free: 7 h 0 min 19 s, paste up to 247 min old."""
    setting = DaySetting(AT_ONCE, hours_of(0))
    run = plan_day(SATURDAY, setting)
    assert run is not None
    assert run.broken == ()
    assert max(one.stands_s for one in run.bowls) <= 247 * 60
    assert run.end_s <= (7 * 60 - 20) * 60


@pytest.mark.parametrize("bowls", [SATURDAY, SUNDAY], ids=["Saturday", "Sunday"])
def test_large_bowls_keep_the_limits_by_later_mixing(bowls: tuple[BowlWork, ...]) -> None:
    run = plan_day(bowls, DaySetting(TWO_PEOPLE, hours_of(0)))
    assert run is not None
    assert run.broken == ()


@pytest.mark.parametrize("case", PUBLISHED, ids=lambda case: case.source.partition(",")[0])
def test_the_published_end_is_found(case: Published) -> None:
    """Jobs as bowls of one load that nobody has to wait for: on two machines none of them is mixed."""
    bowls = []
    for times in case.times:
        mix, roll, boil = (0, *times) if len(times) == 2 else times
        bowls.append(BowlWork(60.0 * mix, (PanLoad("", 0.0, 60.0 * roll, 60.0 * boil, 0.0),)))
    place = Workplace(9, rest_s=0.0, cut_s=0.0, stand_s=math.inf, raw_s=math.inf, roles=False)
    run = plan_day(bowls, DaySetting(place), evaluations=300)
    assert run is not None
    assert run.end_s == 60 * case.shortest
    assert max(one.earliest_s for one in station_loads(bowls, place)) <= run.end_s
