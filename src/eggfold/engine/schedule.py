"""Stations in series, people shared between them, first in, first out: who can start what, when."""

from __future__ import annotations

import heapq
import math
from bisect import bisect_left
from collections.abc import Iterable, Sequence
from typing import Literal, NamedTuple

ROUNDING_S = 1e-6
"""Two times closer than this are the same moment."""
ROUNDING_M2 = 1e-9

Rule = Literal["downstream", "queue", "upstream"]
RULES: tuple[Rule, ...] = ("downstream", "queue", "upstream")
"""Which station is served first when several could go on at the same moment."""


class Task(NamedTuple):
    """One thing to do at one station: its place in the queue, how long [s], and what it needs.

    ``after`` names the tasks that must have ended; ``hands`` are people held while it lasts;
    ``area_m2`` lies on the trays from its start for ``lies_s``.
    """

    queue: int
    station: int
    seconds: float
    hands: int = 0
    after: tuple[int, ...] = ()
    area_m2: float = 0.0
    lies_s: float = 0.0


class Shop(NamedTuple):
    """How many of each station there are, how many people, and how much tray."""

    stations: tuple[int, ...]
    hands: int
    area_m2: float = math.inf


class Hours(NamedTuple):
    """When people work [s]: from opening to closing, without the breaks."""

    opens_s: float = 0.0
    closes_s: float = math.inf
    breaks: tuple[tuple[float, float], ...] = ()


class Lying(NamedTuple):
    """Trays in use until a time [s]."""

    until_s: float
    area_m2: float


class Run(NamedTuple):
    """When each task starts and the last one ends [s], and the trays still in use."""

    starts: tuple[float, ...]
    end_s: float
    lying: tuple[Lying, ...]


class Bound(NamedTuple):
    """What a resource makes certain: its work shared out [s], and the earliest end [s]."""

    work_s: float
    earliest_s: float


def run_shop(
    tasks: Sequence[Task],
    shop: Shop,
    hours: Hours,
    *,
    rule: Rule = "downstream",
    lying: tuple[Lying, ...] = (),
    frees_at: Sequence[float] = (),
) -> Run | None:
    """Start every task as soon as its station, its people and its trays are free.

    At each station the task that is first in the queue goes first; nobody overtakes.

    Parameters
    ----------
    tasks : sequence of Task
        In any order; ``after`` holds places in this sequence.
    shop : Shop
        Stations, people and trays.
    hours : Hours
        When people work; what needs nobody goes on regardless.
    rule : str
        Which station is served first.
    lying : tuple of Lying
        Trays that are in use from before.
    frees_at : sequence of float
        Moments at which trays are emptied, ascending [s]; none: at any moment.

    Returns
    -------
    Run or None
        None where some task can never start: the hours close, or the trays are too small.

    Examples
    --------
    >>> two = [Task(0, 0, 60.0, 1), Task(0, 1, 30.0, 1, after=(0,))]
    >>> run_shop(two, Shop((1, 1), 1), Hours()).end_s
    90.0
    """
    state = _State(tasks, shop, hours, lying, frees_at)
    state.run(_ORDER[rule])
    if state.left:
        return None
    return Run(tuple(state.starts), state.end_s, tuple(state.trays))


def _downstream(head: tuple[int, int], station: int) -> tuple[int, int]:
    return -station, head[0]


def _queue(head: tuple[int, int], station: int) -> tuple[int, int]:
    return head[0], -station


def _upstream(head: tuple[int, int], station: int) -> tuple[int, int]:
    return station, head[0]


_ORDER = {"downstream": _downstream, "queue": _queue, "upstream": _upstream}


class _State:
    """A shop in the middle of its work."""

    def __init__(
        self,
        tasks: Sequence[Task],
        shop: Shop,
        hours: Hours,
        lying: tuple[Lying, ...],
        frees_at: Sequence[float],
    ) -> None:
        self.tasks = tasks
        self.hours = hours
        self.frees_at = frees_at
        self.area_m2 = shop.area_m2
        self.idle = list(shop.stations)
        self.hands = shop.hands
        self.now = hours.opens_s
        self.starts = [math.nan] * len(tasks)
        self.left = len(tasks)
        self.end_s = hours.opens_s
        self.trays = [tray for tray in lying if tray.until_s > self.now + ROUNDING_S]
        self.ready: list[list[tuple[int, int]]] = [[] for _ in shop.stations]
        self.missing = [len(t.after) for t in tasks]
        self.next: list[list[int]] = [[] for _ in tasks]
        self.events: list[tuple[float, int]] = [(end, -1) for _, end in hours.breaks]
        self.events += [(tray.until_s, -1) for tray in self.trays]
        heapq.heapify(self.events)
        for i, task in enumerate(tasks):
            for before in task.after:
                self.next[before].append(i)
            if not task.after:
                heapq.heappush(self.ready[task.station], (task.queue, i))

    def run(self, order: object) -> None:
        """Go from event to event until nothing is left or nothing happens any more."""
        while True:
            while self._start_one(order):
                pass
            if not self.left or not self.events:
                return
            self.now = max(self.now, self.events[0][0])
            while self.events and self.events[0][0] <= self.now + ROUNDING_S:
                _, i = heapq.heappop(self.events)
                if i >= 0:
                    self._finish(i)
            self.trays = [t for t in self.trays if t.until_s > self.now + ROUNDING_S]

    def _start_one(self, order: object) -> bool:
        heads = [(s, queue[0]) for s, queue in enumerate(self.ready) if queue and self.idle[s]]
        if len(heads) > 1:
            heads.sort(key=lambda pair: order(pair[1], pair[0]))  # type: ignore[operator]
        for station, (_, i) in heads:
            if self._can_start(self.tasks[i]):
                heapq.heappop(self.ready[station])
                self._start(i, self.tasks[i])
                return True
        return False

    def _can_start(self, task: Task) -> bool:
        if task.hands:
            end = self.now + task.seconds
            if self.hands < task.hands or end > self.hours.closes_s + ROUNDING_S:
                return False
            if any(
                start < end - ROUNDING_S and self.now < stop - ROUNDING_S
                for start, stop in self.hours.breaks
            ):
                return False
        if not task.area_m2:
            return True
        used = sum(t.area_m2 for t in self.trays)
        return used + task.area_m2 <= self.area_m2 + ROUNDING_M2

    def _start(self, i: int, task: Task) -> None:
        end = self.now + task.seconds
        self.starts[i] = self.now
        self.idle[task.station] -= 1
        self.hands -= task.hands
        heapq.heappush(self.events, (end, i))
        if task.area_m2:
            until = emptied_s(self.now + task.lies_s, self.frees_at)
            self.trays.append(Lying(until, task.area_m2))
            heapq.heappush(self.events, (until, -1))

    def _finish(self, i: int) -> None:
        task = self.tasks[i]
        self.left -= 1
        self.idle[task.station] += 1
        self.hands += task.hands
        self.end_s = max(self.end_s, self.starts[i] + task.seconds)
        for following in self.next[i]:
            self.missing[following] -= 1
            if not self.missing[following]:
                entry = (self.tasks[following].queue, following)
                heapq.heappush(self.ready[self.tasks[following].station], entry)


def emptied_s(dry_s: float, frees_at: Sequence[float]) -> float:
    """Return when a tray is emptied: the first such moment at which its bait is dry.

    Parameters
    ----------
    dry_s : float
        When the bait is dry [s].
    frees_at : sequence of float
        Moments at which trays are emptied, ascending [s].

    Returns
    -------
    float
        Time [s]; the moment it is dry where no other is given.

    Examples
    --------
    >>> emptied_s(100.0, [50.0, 150.0])
    150.0
    """
    at = bisect_left(frees_at, dry_s - ROUNDING_S)
    return frees_at[at] if at < len(frees_at) else dry_s


def best_run(
    tasks: Sequence[Task],
    shop: Shop,
    hours: Hours,
    *,
    lying: tuple[Lying, ...] = (),
    frees_at: Sequence[float] = (),
) -> Run | None:
    """Return the run that ends first of those by each rule; the earlier rule wins a tie.

    Parameters
    ----------
    tasks : sequence of Task
        As for run_shop.
    shop : Shop
        Stations, people and trays.
    hours : Hours
        When people work.
    lying : tuple of Lying
        Trays that are in use from before.
    frees_at : sequence of float
        Moments at which trays are emptied [s].

    Returns
    -------
    Run or None
        None where no rule finds a run.
    """
    best: Run | None = None
    for rule in RULES:
        run = run_shop(tasks, shop, hours, rule=rule, lying=lying, frees_at=frees_at)
        if run and (best is None or run.end_s < best.end_s - 1):
            best = run
    return best


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
        People.

    Returns
    -------
    tuple of int
        A person from 0 for each task, -1 where nobody is needed.

    Examples
    --------
    >>> assign_hands([Task(0, 0, 60.0, 1), Task(1, 0, 60.0, 1)], [0.0, 30.0], 2)
    (0, 1)
    """
    free_at = [-math.inf] * hands
    last_at: dict[int, int] = {}
    given = [-1] * len(tasks)
    for i in sorted(range(len(tasks)), key=lambda i: (starts[i], tasks[i].station, i)):
        task = tasks[i]
        if not task.hands:
            continue
        free = [p for p in range(hands) if free_at[p] <= starts[i] + ROUNDING_S]
        here = last_at.get(task.station)
        elsewhere = {p for s, p in last_at.items() if s != task.station}
        person = here if here in free else min(free, key=lambda p: (p in elsewhere, p))
        given[i] = person  # type: ignore[assignment]
        last_at[task.station] = person  # type: ignore[assignment]
        free_at[person] = starts[i] + task.seconds  # type: ignore[index]
    return tuple(given)
