"""A season as a line of eggs, and how far along it each rolling day can come."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence

from eggfold.records import NamedTuple

ROUNDING = 1e-9


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
        return min(self.ends[i + 1], self.ends[i] + _floor((value - self.sums[i]) / self.units[i]))

    def nearest(self, value: float) -> int:
        """Return the first egg up to which a value is needed."""
        if value <= ROUNDING:
            return 0
        i = max(0, bisect_left(self.sums, value - ROUNDING) - 1)
        return min(self.ends[i + 1], self.ends[i] + _ceil((value - self.sums[i]) / self.units[i]))


def _floor(value: float) -> int:
    return math.floor(value + 1e-6)


def _ceil(value: float) -> int:
    return math.ceil(value - 1e-6)


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
