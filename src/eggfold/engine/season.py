"""A season as a line of eggs, and how far along it each rolling day can come."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence

from eggfold.errors import NoAnswerError
from eggfold.records import NamedTuple

ROUNDING, EGG_ROUNDING = 1e-9, 1e-6


class RollDay(NamedTuple):
    """A day on which bait can be rolled: when it begins, and when its bait is bagged [s]."""

    opens_s: float
    bagged_s: float
    held_l: float = 0.0
    """Freezer that bait in hand takes when this day's is bagged [l]."""
    lying_m2: float = 0.0
    """Tray on which bait in hand still dries that day [m²]."""


class Stretch(NamedTuple):
    """One thing that a trip takes: its eggs, and what one egg of it needs.

    ``share`` of a day's hours, tray [m²] and freezer [l]; ``thaw_s`` and ``leave_s`` are when it
    comes out of the freezer and when the trip begins.
    """

    eggs: int
    share: float
    area_m2: float
    litres: float
    thaw_s: float
    leave_s: float


class Limits(NamedTuple):
    """Trays [m²], freezer [l] and how long bait keeps frozen [s]."""

    area_m2: float = math.inf
    litres: float = math.inf
    life_s: float = math.inf


class Rolled(NamedTuple):
    """One rolling day that is used, and how far along the line of eggs it comes."""

    day: int
    upto: int


class _Line:
    """What is needed along the line of eggs, adding up from its start."""

    def __init__(self, stretches: Sequence[Stretch], unit: Callable[[Stretch], float]) -> None:
        self.ends = [0]
        self.sums = [0.0]
        self.units = [unit(s) for s in stretches]
        for stretch, each in zip(stretches, self.units, strict=True):
            self.ends.append(self.ends[-1] + stretch.eggs)
            self.sums.append(self.sums[-1] + stretch.eggs * each)

    def value(self, egg: int) -> float:
        """Return what all eggs up to one need."""
        i = min(bisect_right(self.ends, egg) - 1, len(self.units) - 1)
        return self.sums[i] + (egg - self.ends[i]) * self.units[i]

    def farthest(self, value: float) -> int:
        """Return the last egg up to which no more than a value is needed."""
        if value >= self.sums[-1] - ROUNDING:
            return self.ends[-1]
        i = bisect_right(self.sums, value + ROUNDING) - 1
        eggs = math.floor((value - self.sums[i]) / self.units[i] + EGG_ROUNDING)
        return min(self.ends[i + 1], self.ends[i] + eggs)

    def nearest(self, value: float) -> int:
        """Return the first egg up to which a value is needed."""
        if value <= ROUNDING:
            return 0
        i = max(0, bisect_left(self.sums, value - ROUNDING) - 1)
        eggs = math.ceil((value - self.sums[i]) / self.units[i] - EGG_ROUNDING)
        return min(self.ends[i + 1], self.ends[i] + eggs)


class Season:
    """Days, the line of eggs and the limits, ready to be planned."""

    def __init__(
        self, days: Sequence[RollDay], stretches: Sequence[Stretch], limits: Limits
    ) -> None:
        self.days = days
        self.limits = limits
        self.share = _Line(stretches, lambda s: s.share)
        self.area = _Line(stretches, lambda s: s.area_m2)
        self.litres = _Line(stretches, lambda s: s.litres)
        self.eggs = self.share.ends[-1]
        ends = self.share.ends[1:]
        thaws = [s.thaw_s for s in stretches]
        leaves = [s.leave_s for s in stretches]
        self.needed = [self._upto(ends, leaves, d.bagged_s, before=True) for d in days]
        self.most = []
        for day in days:
            young = self._upto(ends, thaws, day.bagged_s + limits.life_s, before=False)
            out = self._upto(ends, thaws, day.bagged_s, before=False)
            free = max(0.0, limits.litres - day.held_l)
            held = self.litres.farthest(self.litres.value(out) + free)
            self.most.append(min(young, held))

    @staticmethod
    def _upto(ends: list[int], times: list[float], time: float, *, before: bool) -> int:
        """Return the eggs of all stretches that come before a time."""
        i = bisect_left(times, time) if before else bisect_right(times, time)
        return ends[i - 1] if i else 0

    def reach(self, day: int, before: int, base: int) -> int:
        """Return how far a day comes.

        ``before`` is how far the day before it came, ``base`` what was rolled when the trays that
        are free on it were emptied last.
        """
        hours = self.share.farthest(self.share.value(before) + 1)
        free = max(0.0, self.limits.area_m2 - self.days[day].lying_m2)
        trays = self.area.farthest(self.area.value(base) + free)
        return min(self.most[day], hours, trays)

    def freed(self, day: int, rolled: Sequence[Rolled]) -> int:
        """Return how far the line was rolled on the last day whose trays are empty by a day."""
        opens = self.days[day].opens_s
        done = (r.upto for r in reversed(rolled) if self.days[r.day].bagged_s <= opens)
        return next(done, 0)

    def farthest(self, chosen: Sequence[int]) -> tuple[Rolled, ...] | None:
        """Return how far each of some days can come at the most; None where a trip goes short."""
        rolled: list[Rolled] = []
        for day in chosen:
            before = rolled[-1].upto if rolled else 0
            if before < self.needed[day]:
                return None
            upto = max(before, self.reach(day, before, self.freed(day, rolled)))
            rolled.append(Rolled(day, upto))
        whole = rolled and rolled[-1].upto >= self.eggs
        return tuple(rolled) if whole else None

    def latest(self, chosen: Sequence[int]) -> tuple[Rolled, ...]:
        """Return how little each of some days must roll, so that bait is as fresh as it can be."""
        count = len(chosen)
        least = [0] * (count + 1)
        least[count] = self.eggs
        for j in range(count, 0, -1):
            day = chosen[j - 1]
            opens = self.days[day].opens_s
            base = next(
                (i for i in range(j - 1, 0, -1) if self.days[chosen[i - 1]].bagged_s <= opens), 0
            )
            hours = self.share.nearest(self.share.value(least[j]) - 1)
            free = max(0.0, self.limits.area_m2 - self.days[day].lying_m2)
            trays = self.area.nearest(self.area.value(least[j]) - free)
            least[j - 1] = max(least[j - 1], self.needed[day], hours)
            least[base] = max(least[base], trays)
        return tuple(Rolled(day, least[j + 1]) for j, day in enumerate(chosen))


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
    Bait is rolled in the order in which it is fished: no later trip's bait before an earlier one's. Then to
    have come farther, with trays emptied farther along, never allows less on a later day, so a point that
    another covers leads to nothing that the other does not: exact for this order; no source.

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
