"""What a shop makes certain before any clock runs: bounds, the best order for two machines, hands."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from eggfold.engine.schedule import ROUNDING_S, Shop, Task


class Bound(NamedTuple):
    """What a resource makes certain: its work shared out [s], and the earliest end [s]."""

    work_s: float
    earliest_s: float


def bounds(tasks: Sequence[Task], shop: Shop) -> tuple[Bound, ...]:
    """Return what each station, and last the people, make certain.

    ``earliest = min(head) + sum(seconds) / number + min(tail)``: the work of a station shared out
    over its number, behind the shortest way to it and before the shortest way out of it [1]_.

    Parameters
    ----------
    tasks : sequence of Task
        ``after`` must name earlier places.
    shop : Shop
        Stations and people.

    Returns
    -------
    tuple of Bound
        One for each station in order, and one for the people.

    Examples
    --------
    >>> two = [Task(0, 0, 60.0, 1), Task(0, 1, 30.0, 1, after=(0,))]
    >>> bounds(two, Shop((1, 1), 2))[1]
    Bound(work_s=30.0, earliest_s=90.0)

    References
    ----------
    .. [1] Carlier, J., "The one-machine sequencing problem", European Journal of Operational
       Research, 1982, the bound of section 3.
    """
    heads = _heads(tasks)
    tails = _tails(tasks)
    found = []
    for station, number in enumerate(shop.stations):
        here = [i for i, t in enumerate(tasks) if t.station == station]
        work = sum(tasks[i].seconds for i in here) / number
        found.append(_bound(work, here, heads, tails))
    held = [i for i, t in enumerate(tasks) if t.hands]
    work = sum(tasks[i].seconds * tasks[i].hands for i in held) / shop.hands
    return (*found, _bound(work, held, heads, tails))


def _bound(work_s: float, here: list[int], heads: list[float], tails: list[float]) -> Bound:
    if not here:
        return Bound(0.0, 0.0)
    return Bound(work_s, min(heads[i] for i in here) + work_s + min(tails[i] for i in here))


def _heads(tasks: Sequence[Task]) -> list[float]:
    """Return the longest way to the start of each task [s]."""
    heads: list[float] = []
    for task in tasks:
        heads.append(max((heads[j] + tasks[j].seconds for j in task.after), default=0.0))
    return heads


def _tails(tasks: Sequence[Task]) -> list[float]:
    """Return the longest way from the end of each task [s]."""
    tails = [0.0] * len(tasks)
    for i in range(len(tasks) - 1, -1, -1):
        for j in tasks[i].after:
            tails[j] = max(tails[j], tails[i] + tasks[i].seconds)
    return tails


def johnson_order(pairs: Iterable[tuple[float, float]]) -> tuple[int, ...]:
    """Return the order in which jobs pass two machines soonest.

    Jobs that are shorter on the first machine go first, the shortest before; the others follow,
    the longest on the second machine before [1]_.

    Parameters
    ----------
    pairs : iterable of (float, float)
        Time of each job on the first and on the second machine, in one unit.

    Returns
    -------
    tuple of int
        Places in the sequence given; equal jobs keep their order.

    Examples
    --------
    >>> johnson_order([(4, 5), (4, 1), (30, 4), (6, 30), (2, 3)])
    (4, 0, 3, 2, 1)

    References
    ----------
    .. [1] Johnson, S. M., "Optimal two- and three-stage production schedules with setup times
       included", Naval Research Logistics Quarterly, 1954, theorem 1.
    """
    jobs = list(enumerate(pairs))
    first = sorted((j for j in jobs if j[1][0] <= j[1][1]), key=lambda j: j[1][0])
    last = sorted((j for j in jobs if j[1][0] > j[1][1]), key=lambda j: -j[1][1])
    return tuple(i for i, _ in (*first, *last))


def assign_hands(tasks: Sequence[Task], starts: Sequence[float], hands: int) -> tuple[int, ...]:
    """Give each task that needs somebody a person: the one at that station last, if free.

    Parameters
    ----------
    tasks : sequence of Task
        Each needs nobody or one person.
    starts : sequence of float
        When each starts [s]; never more at once than there are people.
    hands : int
        People, 1 or more.

    Returns
    -------
    tuple of int
        A person from 0 for each task, -1 where nobody is needed.

    Notes
    -----
    A house rule; no source. It finds somebody wherever the starts never need more people than there are.

    Examples
    --------
    >>> assign_hands([Task(0, 0, 60.0, 1), Task(1, 0, 60.0, 1)], [0.0, 30.0], 2)
    (0, 1)
    """
    free_at = [-math.inf] * hands
    last_at: dict[int, int] = {}
    given = [-1] * len(tasks)

    def turn(i: int) -> tuple[float, bool, int, int]:
        return starts[i], tasks[i].seconds > 0, tasks[i].station, i  # what takes no time goes first

    for i in sorted(range(len(tasks)), key=turn):
        task = tasks[i]
        if not task.hands:
            continue
        free = [p for p in range(hands) if free_at[p] <= starts[i] + ROUNDING_S]
        here = last_at.get(task.station)
        elsewhere = {p for s, p in last_at.items() if s != task.station}
        person = here if here in free else min(free, key=lambda p: (p in elsewhere, p))
        given[i] = person
        last_at[task.station] = person
        free_at[person] = starts[i] + task.seconds
    return tuple(given)
