"""One day of bowls by given choices: who starts what when, first in, first out at every station."""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Sequence

from eggfold.engine.workplace import (
    ROUNDING_M2,
    ROUNDING_S,
    BowlWork,
    Hours,
    Lying,
    PanLoad,
    Workplace,
    emptied_s,
)
from eggfold.records import NamedTuple

TOLERANCE_S = 1.0
"""A limit that is passed by less is kept."""


class Choices(NamedTuple):
    """What the rules leave open: the order of bowls and of each bowl's loads, both as places.

    The others stand in the order in which bowls are made: who has the ``pan``; ``lead``, how many rollings
    and boils of earlier bowls are still to begin when the bowl is mixed; ``fill``, whether somebody with
    nothing else to do mixes it sooner; ``hold``, how many loads wait before the pan is served; ``first``,
    whether who has the pan takes the next load to roll before the others do; ``careful``, whether it is mixed
    late enough to keep ``stand`` though each break takes a load's rolling more.
    """

    order: tuple[int, ...]
    loads: tuple[tuple[int, ...], ...]
    pan: tuple[int, ...]
    lead: tuple[int, ...]
    fill: tuple[bool, ...]
    hold: tuple[int, ...]
    first: tuple[bool, ...]
    careful: tuple[bool, ...]


class DayStep(NamedTuple):
    """One thing to do: mix, rest, roll, boil, cut, water or clean.

    ``bowl`` and ``load`` are places in what was given, ``pan`` the pan it is done in.
    """

    what: str
    person: int | None
    bowl: int | None
    load: int | None
    start_s: float
    end_s: float
    pan: int | None = None


class BowlTimes(NamedTuple):
    """One bowl of a day: who has the pan, and how long paste and baits stand at the most [s]."""

    bowl: int
    pan_person: int | None
    mix_start_s: float
    roll_start_s: float
    roll_end_s: float
    stands_s: float
    raw_s: float


class Broken(NamedTuple):
    """A limit that a bowl breaks: stand, raw, hours or trays."""

    bowl: int
    limit: str


class DayRun(NamedTuple):
    """A day by given choices: steps, bowls, when the work ends and when all is clean [s].

    ``laid`` are the trays, each from when, until when [s] and how much [m²]; ``broken`` is empty for a
    day that somebody should follow.
    """

    choices: Choices
    steps: tuple[DayStep, ...]
    bowls: tuple[BowlTimes, ...]
    end_s: float
    clean_s: float
    laid: tuple[tuple[float, float, float], ...]
    broken: tuple[Broken, ...]


class DaySetting(NamedTuple):
    """The day that bowls are made in: where, when, trays in use from before, when they are emptied."""

    workplace: Workplace
    hours: Hours = Hours()
    lying: tuple[Lying, ...] = ()
    frees_at: tuple[float, ...] = ()


class Dispatch:
    """A day in the middle of its work, by given choices.

    Whoever is free first mixes if it is time for the next bowl, then boils if he has the pan, then
    rolls. Limits and closing time are not looked at: ``over_s`` tells what a day breaks. ``mixed``,
    ``rolling`` and ``boiling`` are places in the order, ``load`` and ``basket`` those in their bowls.
    """

    mixed = rolling = load = boiling = basket = begun = 0
    begun_s = 0.0
    mix_not_before_s = math.inf
    watch: Sequence[int] = ()

    def __init__(self, bowls: Sequence[BowlWork], setting: DaySetting, choices: Choices) -> None:
        self.place = place = setting.workplace
        self.hours, self.frees_at = setting.hours, setting.frees_at
        self.choices = choices
        self.mix_s = [bowls[i].mix_s for i in choices.order]
        self.loads = [[bowls[i].loads[j] for j in choices.loads[i]] for i in choices.order]
        self.number = len(self.loads)
        self.grams = [sum(load.paste_g for load in loads if load.boil_s) for loads in self.loads]
        self.upto = _upto(self.loads)
        self.roll_s = [_rolling_s(loads, place) for loads in self.loads]
        self.longest_s = max((load.roll_s for loads in self.loads for load in loads), default=0.0)
        self.left = len(self.loads) + self.upto[-1]
        self.left_s = sum(bowl.hands_s(place.pans) for bowl in bowls)
        self.alone = place.roles and place.people == 1
        self.owned = place.roles and place.people > 1
        self.free = [self.hours.opens_s] * place.people
        self.tables = [-math.inf] * place.tables
        self.mixing = [-math.inf] * place.mixing_bowls
        self.pan_free, self.pan_g = [-math.inf] * place.pans, [0.0] * place.pans
        self.cut_at: dict[str, float] = {}
        self.ready: list[float] = []
        self.rolled: list[list[float]] = [[] for _ in self.loads]
        self.raw_s = [0.0] * len(self.loads)
        self.done: list[tuple[str, int, int, int | None, float, float, int | None]] = []
        self.laid: list[tuple[float, float, float]] = []
        self.trays = sorted(setting.lying)
        self.used_m2 = sum(tray.area_m2 for tray in self.trays)
        self.breaks = sorted(setting.hours.breaks, reverse=True)
        self._go_to(self.hours.opens_s)
        self._next_rolled()
        self._next_boiled()

    def run(self, before_s: float = math.inf) -> bool:
        """Go on until nothing is left; tell whether it came to that, and could before a time [s]."""
        while self.left:
            if not self._anybody_starts() and not self._wait(before_s):
                return False
        return True

    def _anybody_starts(self) -> bool:
        if not self.room_s:
            return False
        soon, free = self.soon, self.free
        return any(free[person] <= soon and self._start(person) for person in self.watch)

    def _start(self, person: int) -> bool:
        k, choices = self.mixed, self.choices
        more = k < self.number
        if more and self.upto[k] - self.begun <= choices.lead[k] and self._mix(person):
            return True
        boils = self._has_pan(person)
        if boils:
            if self.water_due and self._change_water(person):
                return True
            boils = self.basket < len(self.rolled[self.boiling])
            if boils and self._boil(person, choices.hold):
                return True
        if self._roll(person) or (boils and self._boil(person, None)):
            return True
        return more and choices.fill[k] and self._mix(person)

    def _mix(self, person: int) -> bool:
        k = self.mixed
        seconds = self.mix_s[k]
        if seconds > self.room_s or self._is_at_pan(person):
            return False
        bowl = self._free_one(self.mixing)
        if bowl is None or self._would_stand(k):
            return False
        self.mixing[bowl] = end = self._do("mix", person, k, None, seconds)
        self.ready.append(end + self.place.rest_s)
        self.mixed += 1
        return True

    def _would_stand(self, k: int) -> bool:
        """Tell whether a bowl that is mixed now stands too long in any case, and when it will not."""
        own_s = self.roll_s[k]
        if own_s > self.place.stand_s:
            return False
        ready = self.now + self.mix_s[k] + self.place.rest_s
        before_s = max(0.0, sum(self.roll_s[:k]) - self.begun_s)
        spare_s = self.longest_s if self.choices.careful[k] else 0.0
        last = max(
            self._worked(self.now, before_s + own_s, spare_s), self._worked(ready, own_s, spare_s)
        )
        over_s = last - ready - self.place.stand_s
        self.mix_not_before_s = self.now + over_s if over_s > ROUNDING_S else math.inf
        return over_s > ROUNDING_S

    def _worked(self, start: float, seconds: float, spare_s: float) -> float:
        """Return when so much work is done that begins then; each break takes its time and a spare."""
        for begin, end in reversed(self.breaks):
            if begin >= start + seconds:
                break
            if start < begin:
                seconds += end - begin + spare_s
            else:
                start = max(start, end)
        return start + seconds

    def _is_at_pan(self, person: int) -> bool:
        """Tell whether somebody has the pan of a bowl that is being boiled."""
        owned = self.owned and self.basket > 0
        return owned and self.choices.pan[self.boiling] == person

    def _free_one(self, stations: list[float]) -> int | None:
        for i, until in enumerate(stations):
            if until <= self.soon:
                return i
        return None

    def _roll(self, person: int) -> bool:
        k = self.rolling
        if k >= self.mixed or self.ready[k] > self.soon or (self.alone and self.boiling < k):
            return False
        table = self._free_one(self.tables)
        if table is None:
            return False
        load = self.loads[k][self.load]
        if load.roll_s > self.room_s:
            return False
        if not load.boil_s and not self._lay(load, load.roll_s):
            return False
        self.tables[table] = end = self._do("roll", person, k, self.load, load.roll_s)
        self.rolled[k].append(end)
        self.begun += 1
        self.begun_s += self.roll_s[k] / len(self.loads[k])
        self.load += 1
        if self.load == len(self.loads[k]):
            self._next_rolled()
        return True

    def _next_rolled(self) -> None:
        """Move on to the next bowl that is rolled."""
        while self.rolling < self.number and self.load == len(self.loads[self.rolling]):
            self.rolling, self.load = self.rolling + 1, 0

    def _has_pan(self, person: int) -> bool:
        k = self.boiling
        if k >= self.mixed:
            return False
        if self.alone:
            return self.rolling > k
        return not self.owned or self.choices.pan[k] == person

    def _boil(self, person: int, hold: Sequence[int] | None) -> bool:
        """Put the loads that wait into the free pans, if as many wait as are to be held back."""
        k, first = self.boiling, self.basket
        ends = self.rolled[k]
        held = 1 if hold is None else min(hold[k], len(self.loads[k]) - first)
        if len(ends) < first + held or max(ends[first : first + held]) > self.soon:
            return False
        put = 0
        for pan, free in enumerate(self.pan_free):
            if free > self.soon:
                continue
            size = self.loads[self.boiling][self.basket].size
            first_of_size = self.place.cut_s > 0 and size not in self.cut_at
            if (first_of_size and put) or not self._put(person, pan):
                break
            put += 1
            if first_of_size or self.boiling != k:
                break
        return put > 0

    def _put(self, person: int, pan: int) -> bool:
        """Put the next load into a pan; the first of its size is cut open before another goes in."""
        k, i = self.boiling, self.basket
        load = self.loads[k][i]
        if i >= len(self.rolled[k]) or self.rolled[k][i] > self.soon:
            return False
        cut_s = 0.0 if load.size in self.cut_at else self.place.cut_s
        if self.cut_at.get(load.size, -math.inf) > self.soon:
            return False
        if self.pan_g[pan] and self.pan_g[pan] + load.paste_g > self.place.water_every_g:
            return False
        if load.pan_s + cut_s > self.room_s or not self._lay(load, load.pan_s):
            return False
        self.raw_s[k] = max(self.raw_s[k], self.now - self.rolled[k][i])
        self.pan_free[pan] = end = self._do("boil", person, k, i, load.pan_s, pan)
        self.pan_g[pan] += load.paste_g
        self.cut_at.setdefault(load.size, end + cut_s)
        if cut_s:
            self.done.append(("cut", person, k, i, end, end + cut_s, None))
            self.free[person] = end + cut_s
        self.begun += 1
        self.basket += 1
        self._next_boiled()
        return True

    def _next_boiled(self) -> None:
        """Move on to the next load that is boiled; after a bowl's last one see who has the pan now."""
        k, n = self.boiling, self.number
        while k < n:
            loads = self.loads[k]
            while self.basket < len(loads) and not loads[self.basket].boil_s:
                self.basket += 1
            if self.basket < len(loads):
                break
            k, self.basket = k + 1, 0
        if k == self.boiling and self.watch:
            self._see_to_water()
            return
        self.boiling = k
        self._see_to_water()
        people = range(self.place.people)
        pan = self.choices.pan[k] if self.owned and k < n else None
        if pan is None:
            self.watch = people
        else:
            others = [p for p in people if p != pan]
            self.watch = [pan, *others] if self.choices.first[k] else [*others, pan]

    def _see_to_water(self) -> None:
        """Note the pans that would boil more than one filling should, with the next load or bowl."""
        place, k = self.place, self.boiling
        self.water_due: tuple[int, ...] = ()
        if k == self.number or place.water_every_g == math.inf:
            return
        share_g = 0.0 if self.basket else self.grams[k] / place.pans
        room_g = place.water_every_g - max(share_g, self.loads[k][self.basket].paste_g)
        if max(self.pan_g) > room_g:
            full = [pan for pan, grams in enumerate(self.pan_g) if grams and grams > room_g]
            self.water_due = tuple(full)

    def _change_water(self, person: int) -> bool:
        """Change the water of a free pan for which it is due."""
        place = self.place
        if place.water_s > self.room_s:
            return False
        for pan in self.water_due:
            if self.pan_free[pan] <= self.soon:
                self.left += 1
                self.left_s += place.water_hands_s
                self._do("water", person, self.boiling, None, place.water_hands_s, pan)
                self.pan_free[pan] = self.now + place.water_s
                self.pan_g[pan] = 0.0
                self._see_to_water()
                return True
        return False

    def _lay(self, load: PanLoad, seconds: float) -> bool:
        """Take the trays of a load, if they are free."""
        if self.used_m2 + load.area_m2 > self.place.area_m2 + ROUNDING_M2:
            return False
        until = emptied_s(self.now + seconds + load.lies_s, self.frees_at)
        self.laid.append((self.now, until, load.area_m2))
        heapq.heappush(self.trays, Lying(until, load.area_m2))
        self.used_m2 += load.area_m2
        return True

    def _do(
        self,
        what: str,
        person: int,
        bowl: int,
        load: int | None,
        seconds: float,
        pan: int | None = None,
    ) -> float:
        end = self.now + seconds
        self.done.append((what, person, bowl, load, self.now, end, pan))
        self.free[person] = max(self.free[person], end)
        self.left -= 1
        self.left_s -= seconds / self.place.pans if what == "boil" else seconds
        return end

    def _wait(self, before_s: float) -> bool:
        """Go to the next moment at which something changes; tell whether there is one in time."""
        later, soon = min(self.free), self.soon
        if later <= soon:
            later = min([m for m in self._moments() if m > soon], default=math.inf)
        if later == math.inf or self._earliest_end_s(later) >= before_s:
            return False
        self._go_to(later)
        return True

    def _moments(self) -> list[float]:
        moments = [*self.free, *self.ready[self.rolling :], *self.pan_free, *self.mixing]
        moments += [self.mix_not_before_s, *(end for _, end in self.breaks[-1:])]
        return moments + [tray.until_s for tray in self.trays[:1]]

    def _earliest_end_s(self, now: float) -> float:
        """Return when all could be done if nobody ever stood idle any more."""
        busy_s = sum([max(now, free) for free in self.free])
        end = (busy_s + self.left_s) / len(self.free)
        for start, stop in reversed(self.breaks):
            if now <= start < end - ROUNDING_S:
                end += stop - start
        return end

    def _go_to(self, now: float) -> None:
        self.now = now
        self.soon = now + ROUNDING_S
        while self.breaks and self.breaks[-1][1] <= self.soon:
            self.breaks.pop()
        room_s = self.breaks[-1][0] - now if self.breaks else math.inf
        self.room_s = room_s + ROUNDING_S if room_s > ROUNDING_S else 0.0
        while self.trays and self.trays[0].until_s <= self.soon:
            self.used_m2 -= heapq.heappop(self.trays).area_m2

    @property
    def end_s(self) -> float:
        """When the work ends."""
        return max(*self.free, self.hours.opens_s)

    @property
    def clean_s(self) -> float:
        """When all is clean: in one go after the work, before or after a break."""
        begin = self.end_s
        for start, stop in sorted(self.hours.breaks):
            if start < begin + self.place.cleaning_s - ROUNDING_S and begin < stop - ROUNDING_S:
                begin = stop
        return begin + self.place.cleaning_s

    @property
    def stands_s(self) -> list[float]:
        """How long each paste stands: from the end of its rest to its last sausage."""
        return [
            max(ends) - ready if ends else 0.0
            for ends, ready in zip(self.rolled, self.ready, strict=True)
        ]

    @property
    def over_s(self) -> float:
        """By how much limits and closing time are broken, all added up."""
        over = max(0.0, self.clean_s - self.hours.closes_s - TOLERANCE_S)
        over += sum(max(0.0, s - self.place.stand_s - TOLERANCE_S) for s in self.stands_s)
        over += sum(max(0.0, s - self.place.raw_s - TOLERANCE_S) for s in self.raw_s)
        return over

    def result(self) -> DayRun:
        """Return what was done."""
        order, loads = self.choices.order, self.choices.loads
        steps = [
            DayStep(what, who, order[k], None if i is None else loads[order[k]][i], start, end, pan)
            for what, who, k, i, start, end, pan in self.done
        ]
        rest_s = self.place.rest_s
        steps += [
            DayStep("rest", None, bowl, None, at - rest_s, at)
            for bowl, at in zip(order, self.ready, strict=True)
        ]
        clean_s = self.clean_s
        if order:
            start = clean_s - self.place.cleaning_s
            steps.append(DayStep("clean", None, None, None, start, clean_s))
        steps.sort(key=lambda step: step.start_s)
        times = self._times()
        laid, broken = tuple(self.laid), tuple(self._broken(times))
        return DayRun(self.choices, tuple(steps), times, self.end_s, clean_s, laid, broken)

    def _broken(self, times: Sequence[BowlTimes]) -> Iterator[Broken]:
        for one in times:
            if one.stands_s > self.place.stand_s + TOLERANCE_S:
                yield Broken(one.bowl, "stand")
            if one.raw_s > self.place.raw_s + TOLERANCE_S:
                yield Broken(one.bowl, "raw")
        if times and self.clean_s > self.hours.closes_s + TOLERANCE_S:
            yield Broken(times[-1].bowl, "hours")

    def _times(self) -> tuple[BowlTimes, ...]:
        mixed = {k: start for what, _, k, _, start, _, _ in self.done if what == "mix"}
        rolled = [(k, start) for what, _, k, _, start, _, _ in self.done if what == "roll"]
        starts = dict(reversed(rolled))
        stands = self.stands_s
        times = []
        for k, bowl in enumerate(self.choices.order):
            ready = self.ready[k]
            pan = self.choices.pan[k] if self.place.roles and self.grams[k] else None
            begun = starts.get(k, ready)
            end = ready + stands[k]
            times.append(BowlTimes(bowl, pan, mixed[k], begun, end, stands[k], self.raw_s[k]))
        return tuple(times)


def _rolling_s(loads: Sequence[PanLoad], place: Workplace) -> float:
    """Return about how long a bowl is rolled, those who boil it in between among the hands."""
    tables_s = sum(load.roll_s for load in loads) / min(place.tables, place.people)
    hands_s = sum(load.roll_s + load.pan_s for load in loads) / place.people
    return tables_s if place.people == 1 else max(tables_s, hands_s)


def _upto(loads: Sequence[Sequence[PanLoad]]) -> list[int]:
    """Return how many rollings and boils come before each bowl, and in all."""
    upto = [0]
    for bowl in loads:
        upto.append(upto[-1] + len(bowl) + sum(load.boil_s > 0 for load in bowl))
    return upto
