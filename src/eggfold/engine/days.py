"""Which bowls a day of rolling takes, and its mixings as late as the table allows."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, takewhile
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
from eggfold.engine.session import MIX, Stages, Work, session_tasks


class Day(NamedTuple):
    """What is done in one day: which bowls, as which tasks, and when."""

    bowls: tuple[int, ...]
    tasks: tuple[Task, ...]
    run: Run


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
    >>> from eggfold.engine.session import ANY_NUMBER, Load
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
    room = _room(works, left, stages, shop, hours)
    tried = high
    while low < high:
        bowls = tuple(left[:tried])
        tasks = session_tasks([works[i] for i in bowls], stages) if tried <= room else ()
        run = best_run(tasks, shop, hours, lying=lying, frees_at=frees_at) if tasks else None
        if run is None:
            high = tried - 1
        else:
            low = tried
            best = Day(bowls, tasks, run)
        tried = (low + high + 1) // 2
    return best._replace(run=mix_late(best.tasks, best.run, shop, hours))


def _room(
    works: Sequence[Work], left: Sequence[int], stages: Stages, shop: Shop, hours: Hours
) -> int:
    """Return how many of the next bowls there are hands for in a day, more than it can hold."""
    hands_s = shop.hands * (hours.closes_s - hours.opens_s)
    for n, i in enumerate(left):
        hands_s -= sum(t.seconds * t.hands for t in session_tasks([works[i]], stages))
        if hands_s < -1:
            return n
    return len(left)


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
    >>> from eggfold.engine.session import ANY_NUMBER, Load
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

    >>> from eggfold.engine.session import ANY_NUMBER, Load
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
        own = takewhile(lambda j: tasks[j].station != MIX, range(i + 2, len(tasks)))
        rolls = [starts[j] for j in own if tasks[j].after == (i + 1,)]
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
