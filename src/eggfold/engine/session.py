"""A day of rolling as tasks: mix, rest, roll in loads, boil in loads, lay out to dry."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from eggfold.engine.schedule import (
    ROUNDING_S,
    RULES,
    Hours,
    Lying,
    Run,
    Shop,
    Task,
    best_run,
    run_shop,
)

MIX, REST, TABLE, PAN = range(4)
STATIONS = ("mix", "rest", "roll", "boil")
ANY_NUMBER = 1_000_000
"""Bowls that may rest side by side."""


class Load(NamedTuple):
    """One basket: paste in it [g], time the pan is taken [s], tray it needs [m²]."""

    paste_g: float
    pan_s: float
    area_m2: float


class Work(NamedTuple):
    """One bowl: its loads, and the want it belongs to."""

    loads: tuple[Load, ...]
    want: int = 0


class Stages(NamedTuple):
    """How long each stage takes [s], and how fast one table rolls [kg/h]."""

    mix_s: float
    rest_s: float
    cool_s: float
    drying_s: float
    pace_kg_h: float


class Day(NamedTuple):
    """What is done in one day: which bowls, as which tasks, and when."""

    bowls: tuple[int, ...]
    tasks: tuple[Task, ...]
    run: Run


def session_tasks(works: Sequence[Work], stages: Stages) -> tuple[Task, ...]:
    """Return the tasks of bowls in the order in which they are made.

    A bowl is mixed, rests, is rolled load by load, each load is boiled, cools and dries. Its trays
    are laid out when the load goes into the pan.

    Parameters
    ----------
    works : sequence of Work
        Bowls in order.
    stages : Stages
        Times and pace.

    Returns
    -------
    tuple of Task
        Stations are mix, rest, roll, boil.

    Notes
    -----
    The steps of a bowl one by one; no source.

    Examples
    --------
    >>> stages = Stages(1200.0, 600.0, 600.0, 172800.0, 1.5)
    >>> [t.station for t in session_tasks([Work((Load(500.0, 210.0, 0.06),))], stages)]
    [0, 1, 2, 3]
    """
    tasks: list[Task] = []
    for queue, work in enumerate(works):
        tasks.append(Task(queue, MIX, stages.mix_s, 1))
        tasks.append(Task(queue, REST, stages.rest_s, 0, (len(tasks) - 1,)))
        rest = len(tasks) - 1
        for load in work.loads:
            seconds = roll_s(load.paste_g, stages.pace_kg_h)
            tasks.append(Task(queue, TABLE, seconds, 1, (rest,)))
            after = (len(tasks) - 1,)
            lies_s = load.pan_s + stages.cool_s + stages.drying_s
            tasks.append(Task(queue, PAN, load.pan_s, 1, after, load.area_m2, lies_s))
    return tuple(tasks)


def roll_s(paste_g: float, pace_kg_h: float) -> float:
    """Return how long one table rolls.

    ``t = paste_g / 1000 / pace_kg_h * 3600``

    Parameters
    ----------
    paste_g : float
        Paste [g].
    pace_kg_h : float
        What one table rolls, above 0 [kg/h].

    Returns
    -------
    float
        Time [s].

    Notes
    -----
    The definition of a pace; no source.

    Examples
    --------
    >>> roll_s(500.0, 1.5)
    1200.0
    """
    return paste_g / 1000 / pace_kg_h * 3600


def plan_days(
    works: Sequence[Work],
    order: Sequence[int],
    stages: Stages,
    shop: Shop,
    days: Sequence[Hours],
    *,
    frees_at: Sequence[float] = (),
    lying: tuple[Lying, ...] = (),
) -> tuple[tuple[Day, ...], tuple[int, ...]]:
    """Give each day as many of the next bowls as can be finished in it.

    A bowl that is begun is boiled the same day: no raw paste stands overnight.

    Parameters
    ----------
    works : sequence of Work
        All bowls.
    order : sequence of int
        In which order they are made.
    stages : Stages
        Times and pace.
    shop : Shop
        Stations, people, trays.
    days : sequence of Hours
        Working hours of each day, ascending.
    frees_at : sequence of float
        Moments at which trays are emptied [s].
    lying : tuple of Lying
        Trays in use from before.

    Returns
    -------
    tuple
        The days, and the bowls that fit into none.

    Notes
    -----
    The most bowls of a day are found by halving, which takes it that fewer bowls of the same order never end
    later; no source.

    Examples
    --------
    >>> stages, shop = Stages(1200.0, 600.0, 600.0, 172800.0, 1.5), Shop((1, ANY_NUMBER, 1, 1), 1)
    >>> bowl = Work((Load(500.0, 210.0, 0.06),))
    >>> days, left = plan_days([bowl] * 3, (0, 1, 2), stages, shop, [Hours(0.0, 7200.0)])
    >>> days[0].bowls, left
    ((0, 1), (2,))
    """
    left = list(order)
    planned = []
    for hours in days:
        day = _fullest(works, left, stages, shop, hours, frees_at, lying)
        planned.append(day)
        left = left[len(day.bowls) :]
        lying = day.run.lying
    return tuple(planned), tuple(left)


def _fullest(
    works: Sequence[Work],
    left: list[int],
    stages: Stages,
    shop: Shop,
    hours: Hours,
    frees_at: Sequence[float],
    lying: tuple[Lying, ...],
) -> Day:
    """Return the day with the most of the next bowls, found by halving."""
    best = Day((), (), Run((), hours.opens_s, lying))
    low, high = 0, len(left)
    tried = high
    while low < high:
        bowls = tuple(left[:tried])
        tasks = session_tasks([works[i] for i in bowls], stages)
        run = best_run(tasks, shop, hours, lying=lying, frees_at=frees_at)
        if run is None:
            high = tried - 1
        else:
            low = tried
            best = Day(bowls, tasks, mix_late(tasks, run, shop, hours))
        tried = (low + high + 1) // 2
    return best


def fit_day(works: Sequence[Work], stages: Stages, shop: Shop, hours: Hours) -> Day | None:
    """Return one day with all of some bowls, by the first rule that ends in time.

    Parameters
    ----------
    works : sequence of Work
        Bowls in order.
    stages : Stages
        Times and pace.
    shop : Shop
        Stations, people, trays.
    hours : Hours
        When people work.

    Returns
    -------
    Day or None
        None where the bowls do not fit.

    Notes
    -----
    Three rules tried in turn; no source.

    Examples
    --------
    >>> stages, shop = Stages(1200.0, 600.0, 600.0, 172800.0, 1.5), Shop((1, ANY_NUMBER, 1, 1), 1)
    >>> bowl = Work((Load(500.0, 210.0, 0.06),))
    >>> fit_day([bowl, bowl], stages, shop, Hours()).run.end_s
    5220.0
    >>> fit_day([bowl, bowl], stages, shop, Hours(0.0, 3600.0)) is None
    True
    """
    tasks = session_tasks(works, stages)
    for rule in RULES:
        if run := run_shop(tasks, shop, hours, rule=rule):
            return Day(tuple(range(len(works))), tasks, mix_late(tasks, run, shop, hours))
    return None


def mix_late(tasks: Sequence[Task], run: Run, shop: Shop, hours: Hours) -> Run:
    """Move each mixing as late as the table allows, so that no paste stands longer than it must.

    Parameters
    ----------
    tasks : sequence of Task
        Tasks of a day, as session_tasks gives them.
    run : Run
        When they start.
    shop : Shop
        Stations and people.
    hours : Hours
        Breaks that nobody mixes in.

    Returns
    -------
    Run
        The same run with later mixings and rests; nothing else moves.

    Notes
    -----
    A house rule; no source. Raw egg in the warm is what it keeps short.

    Examples
    --------
    The second bowl rolls at 3960 s; resting and mixing take 1800 s before that:

    >>> stages, shop = Stages(1200.0, 600.0, 600.0, 172800.0, 1.5), Shop((1, ANY_NUMBER, 1, 1), 2)
    >>> tasks = session_tasks([Work((Load(900.0, 210.0, 0.1),))] * 2, stages)
    >>> run = run_shop(tasks, shop, Hours())
    >>> run.starts[4], mix_late(tasks, run, shop, Hours()).starts[4]
    (1200.0, 2160.0)
    """
    starts = list(run.starts)
    for i in range(len(tasks) - 1, -1, -1):
        if tasks[i].station != MIX:
            continue
        rest_s = tasks[i + 1].seconds
        rolls = [starts[j] for j in range(i + 2, len(tasks)) if tasks[j].after == (i + 1,)]
        latest = min(rolls, default=starts[i] + tasks[i].seconds + rest_s) - rest_s
        starts[i] = _latest_start(tasks, starts, i, latest, shop, hours)
        starts[i + 1] = starts[i] + tasks[i].seconds
    return run._replace(starts=tuple(starts))


def _latest_start(
    tasks: Sequence[Task], starts: list[float], i: int, ends_by: float, shop: Shop, hours: Hours
) -> float:
    """Return the latest start of a mixing at which a person and a bowl are free throughout."""
    seconds = tasks[i].seconds
    others = [
        (starts[j], starts[j] + t.seconds, t.station == MIX)
        for j, t in enumerate(tasks)
        if t.hands and j != i and starts[j] < ends_by and starts[j] + t.seconds > starts[i]
    ]
    ends = {ends_by, *(start for start, _, _ in others), *(start for start, _ in hours.breaks)}
    for end in sorted((e for e in ends if e <= ends_by), reverse=True):
        start = end - seconds
        if start <= starts[i]:
            break
        if _free(others, start, end, shop) and not hours.have_break_in(start, end):
            return start
    return starts[i]


def _free(others: list[tuple[float, float, bool]], start: float, end: float, shop: Shop) -> bool:
    """Tell whether one more mixing fits between two times."""
    inside = [o for o in others if o[0] < end - ROUNDING_S and o[1] > start + ROUNDING_S]
    moments = sorted({start, end, *(max(o[0], start) for o in inside)})
    for moment, _ in pairwise(moments):
        busy = [o for o in inside if o[0] <= moment + ROUNDING_S and o[1] > moment + ROUNDING_S]
        mixing = sum(mix for _, _, mix in busy)
        if len(busy) >= shop.hands or mixing >= shop.stations[MIX]:
            return False
    return True
