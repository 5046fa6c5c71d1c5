"""Stations in series, people shared between them, first in, first out: who can start what, when."""

from __future__ import annotations

import heapq
import math
from bisect import bisect_left
from collections.abc import Callable, Sequence
from typing import Literal, NamedTuple

ROUNDING_S = 1e-6
"""Two times closer than this are the same moment."""
ROUNDING_M2 = 1e-9

Rule = Literal["downstream", "queue", "upstream"]
RULES: tuple[Rule, ...] = ("downstream", "queue", "upstream")
"""Which station is served first when several could go on at the same moment.

Downstream first keeps raw baits from piling up before the pan."""
WORTH_SHARE = 0.03
"""Another rule is taken only where it ends earlier by this share of the working time; house default."""


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

    def have_break_in(self, start_s: float, end_s: float) -> bool:
        """Tell whether a break falls between two times."""
        return any(
            begins < end_s - ROUNDING_S and start_s < ends - ROUNDING_S
            for begins, ends in self.breaks
        )


class Lying(NamedTuple):
    """Trays in use until a time [s]."""

    until_s: float
    area_m2: float


class Run(NamedTuple):
    """When each task starts and the last one ends [s], and the trays still in use."""

    starts: tuple[float, ...]
    end_s: float
    lying: tuple[Lying, ...]


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

    Notes
    -----
    A list schedule, by a rule and without looking ahead; no source. It keeps every limit but need not end
    soonest: best_run compares rules, and ordering.py tries orders.

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


Order = Callable[[tuple[int, int], int], tuple[int, int]]
_ORDER: dict[Rule, Order] = {"downstream": _downstream, "queue": _queue, "upstream": _upstream}


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
        heapq.heapify(self.trays)
        self.used_m2 = sum(tray.area_m2 for tray in self.trays)
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

    def run(self, order: Order) -> None:
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
            while self.trays and self.trays[0].until_s <= self.now + ROUNDING_S:
                self.used_m2 -= heapq.heappop(self.trays).area_m2

    def _start_one(self, order: Order) -> bool:
        heads = [(s, queue[0]) for s, queue in enumerate(self.ready) if queue and self.idle[s]]
        if len(heads) > 1:
            heads.sort(key=lambda pair: order(pair[1], pair[0]))
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
            if self.hours.have_break_in(self.now, end):
                return False
        if not task.area_m2:
            return True
        return self.used_m2 + task.area_m2 <= self.area_m2 + ROUNDING_M2

    def _start(self, i: int, task: Task) -> None:
        end = self.now + task.seconds
        self.starts[i] = self.now
        self.idle[task.station] -= 1
        self.hands -= task.hands
        heapq.heappush(self.events, (end, i))
        if task.area_m2:
            until = emptied_s(self.now + task.lies_s, self.frees_at)
            heapq.heappush(self.trays, Lying(until, task.area_m2))
            self.used_m2 += task.area_m2
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
        When the bait is dry [s], on the clock of frees_at.
    frees_at : sequence of float
        Moments at which trays are emptied, ascending [s].

    Returns
    -------
    float
        Time [s]; the moment it is dry where no other is given.

    Notes
    -----
    The first moment that is late enough; no source. After the last one the trays are emptied at once.

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
    """Return the run that serves downstream first, or one by another rule that ends clearly earlier.

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

    Notes
    -----
    A choice among three rules by a house default, WORTH_SHARE; no source.

    Examples
    --------
    >>> two = [Task(0, 0, 60.0, 1), Task(0, 1, 30.0, 1, after=(0,))]
    >>> best_run(two, Shop((1, 1), 1), Hours()).end_s
    90.0
    """
    best: Run | None = None
    for rule in RULES:
        run = run_shop(tasks, shop, hours, rule=rule, lying=lying, frees_at=frees_at)
        if run is None:
            continue
        worth_s = WORTH_SHARE * (run.end_s - hours.opens_s)
        if best is None or run.end_s < best.end_s - worth_s:
            best = run
    return best
