"""The fewest rolling days of a season: bait is rolled in the order in which it is fished.

A season is a line of eggs, trip after trip. Each rolling day takes the next stretch of that line, as
far as hours, trays, freezer and keeping time allow. More rolled on a day never allows less later, so
the farthest point that k days can reach says all, and the fewest days are exact.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from eggfold.engine.season import Limits, RollDay, Rolled, Season, Stretch
from eggfold.errors import NoAnswerError
from eggfold.records import NamedTuple

MOST_POINTS = 300_000
"""Points that one search may look at, about 3 s: five times what eighty weekly trips take."""


class Effort:
    """How many more points searches may look at; several can share one.

    Parameters
    ----------
    left : int
        Points, 0 or more.

    Notes
    -----
    A house limit; no source.

    Examples
    --------
    >>> effort = Effort(2)
    >>> effort.spend()
    >>> effort.left
    1
    """

    def __init__(self, left: int = MOST_POINTS) -> None:
        self.left = left

    def spend(self) -> None:
        """Count one point; raises NoAnswerError where there were enough."""
        if not self.left:
            raise NoAnswerError(
                "there are too many ways to spread so many trips over so many days: split the plan, "
                "or give fewer days in roll_on"
            )
        self.left -= 1


class _Label(NamedTuple):
    """The farthest point of some rolling days, the last of them and the ones before."""

    rolled: tuple[Rolled, ...]
    bases: tuple[int, ...]

    @property
    def upto(self) -> int:
        return self.rolled[-1].upto if self.rolled else 0

    def covers(self, other: _Label) -> bool:
        """Tell whether everything that follows another label can follow this one."""
        return self.upto >= other.upto and all(
            mine >= theirs for mine, theirs in zip(self.bases, other.bases, strict=True)
        )


def fewest_days(
    days: Sequence[RollDay],
    stretches: Sequence[Stretch],
    limits: Limits,
    *,
    effort: Effort | None = None,
) -> tuple[Rolled, ...] | None:
    """Return the fewest rolling days that make everything in time, each as late as it can be.

    Layer by layer, the farthest points that one, two, three … days reach; points that another one
    covers are dropped. Then each day, from the last, is moved as late as the others let it.

    Parameters
    ----------
    days : sequence of RollDay
        Days on which bait can be rolled, ascending.
    stretches : sequence of Stretch
        What the trips take, in the order in which they leave.
    limits : Limits
        Trays, freezer and keeping time.
    effort : Effort
        How many points the search may look at.

    Returns
    -------
    tuple of Rolled or None
        The days, and how far along the line of eggs each comes; None where no choice of days does.

    Raises
    ------
    NoAnswerError
        Where the effort does not reach.

    Notes
    -----
    Exact by the argument at the head of this file; no source. Bait is rolled in the order in which it is
    fished: no later trip's bait before an earlier one's.

    Examples
    --------
    >>> trip = Stretch(30, 1 / 20, 0.0, 0.0, 900.0, 1000.0)
    >>> fewest_days([RollDay(t, t + 50.0) for t in (0.0, 100.0, 200.0)], [trip], Limits())
    (Rolled(day=1, upto=10), Rolled(day=2, upto=30))
    """
    season = Season(days, stretches, limits)
    if not season.eggs:
        return ()
    effort = effort or Effort()
    layer = [_Label((), ())]
    while layer:
        following: dict[int, list[_Label]] = {}
        for label in layer:
            for found in _next_labels(season, label):
                effort.spend()
                if found.upto >= season.eggs:
                    return _as_late_as_can_be(season, [r.day for r in found.rolled])
                _keep(following.setdefault(found.rolled[-1].day, []), found)
        layer = list(_uncovered(season, following))
    return None


def _next_labels(season: Season, label: _Label) -> Iterator[_Label]:
    first = label.rolled[-1].day + 1 if label.rolled else 0
    for day in range(first, len(season.days)):
        if season.needed[day] > label.upto:
            return
        upto = season.reach(day, label.upto, season.freed(day, label.rolled))
        if upto > label.upto:
            rolled = (*label.rolled, Rolled(day, upto))
            yield _Label(rolled, tuple(_bases(season, rolled)))


def _bases(season: Season, rolled: tuple[Rolled, ...]) -> Iterator[int]:
    """Yield what later days find free while this day's bait still lies on the trays."""
    last = rolled[-1].day
    for day in range(last + 1, len(season.days)):
        if season.days[day].opens_s >= season.days[last].bagged_s:
            return
        yield season.freed(day, rolled)


def _keep(labels: list[_Label], found: _Label) -> None:
    if any(label.covers(found) for label in labels):
        return
    labels[:] = [label for label in labels if not found.covers(label)]
    labels.append(found)


def _uncovered(season: Season, following: dict[int, list[_Label]]) -> Iterator[_Label]:
    """Yield the labels of a layer that no earlier day with empty trays covers."""
    best = 0
    waiting: list[tuple[float, int]] = []
    for day in sorted(following):
        now = season.days[day].opens_s
        ready = [upto for free, upto in waiting if free <= now]
        best = max([best, *ready])
        waiting = [w for w in waiting if w[0] > now]
        for label in following[day]:
            if label.upto > best:
                yield label
            waiting.append((season.days[day].bagged_s, label.upto))


def _as_late_as_can_be(season: Season, chosen: list[int]) -> tuple[Rolled, ...]:
    for j in range(len(chosen) - 1, -1, -1):
        end = chosen[j + 1] if j + 1 < len(chosen) else len(season.days)
        for day in range(end - 1, chosen[j], -1):
            moved = [*chosen[:j], day, *chosen[j + 1 :]]
            if season.farthest(moved):
                chosen = moved
                break
    return season.latest(chosen)


def align_to_boxes(
    days: Sequence[RollDay],
    stretches: Sequence[Stretch],
    limits: Limits,
    rolled: Sequence[Rolled],
    box: int,
) -> tuple[Rolled, ...]:
    """Roll whole boxes of eggs on each day but the last, where the limits let it.

    Parameters
    ----------
    days : sequence of RollDay
        Days on which bait can be rolled.
    stretches : sequence of Stretch
        What the trips take.
    limits : Limits
        Trays, freezer and keeping time.
    rolled : sequence of Rolled
        The least that each day must roll, as fewest_days gives it.
    box : int
        Eggs in a box [egg], 1 or more.

    Returns
    -------
    tuple of Rolled
        The same days; none comes less far than before.

    Notes
    -----
    A house rule; no source. The last day takes what is left.

    Examples
    --------
    >>> trip = Stretch(30, 1 / 24, 0.0, 0.0, 900.0, 1000.0)
    >>> days = [RollDay(0.0, 50.0), RollDay(100.0, 150.0)]
    >>> align_to_boxes(days, [trip], Limits(), fewest_days(days, [trip], Limits()), 12)
    (Rolled(day=0, upto=12), Rolled(day=1, upto=30))
    """
    season = Season(days, stretches, limits)
    aligned: list[Rolled] = []
    for least in rolled:
        before = aligned[-1].upto if aligned else 0
        most = season.reach(least.day, before, season.freed(least.day, aligned))
        boxes = before + math.ceil(max(0, least.upto - before) / box) * box
        upto = boxes if boxes <= min(most, season.eggs) else max(least.upto, before)
        aligned.append(Rolled(least.day, upto))
    return tuple(aligned)
