"""Days of rolling planned at random and by trying everything, and a check of any plan's every limit.

Written apart from the planner: nothing here is imported from its dispatch but the shapes of what goes in
and what comes out.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from itertools import permutations, product
from typing import Any, NamedTuple

from day_check import is_in_break
from eggfold.engine.dispatch import DaySetting
from eggfold.engine.workplace import BowlWork, PanLoad, Workplace

SLACK_S = 1e-4
ROUND_S = 1e-6


class Line(NamedTuple):
    """Bowls in the order in which they are made, with their loads in order, and who has the pan."""

    bowls: tuple[BowlWork, ...]
    pans: tuple[int, ...]

    @property
    def loads(self) -> tuple[tuple[int, PanLoad], ...]:
        return tuple((k, load) for k, bowl in enumerate(self.bowls) for load in bowl.loads)


class Yard(NamedTuple):
    """A day between two decisions, one pan: who is busy until when, and how far each station is."""

    now: float
    free: tuple[float, ...]
    waits: tuple[bool, ...]
    tables: tuple[float, ...]
    mixing: tuple[float, ...]
    pan: float = 0.0
    pan_g: float = 0.0
    ready: tuple[float, ...] = ()
    rolled: tuple[float, ...] = ()
    boiled: int = 0
    cut: frozenset[tuple[str, float]] = frozenset()
    broken: bool = False


class Model(NamedTuple):
    """The rules of a day for one line of bowls."""

    setting: DaySetting
    line: Line
    loads: tuple[tuple[int, PanLoad], ...]

    @property
    def place(self) -> Workplace:
        return self.setting.workplace

    def begin(self) -> Yard:
        at, place = self.setting.hours.opens_s, self.place
        return Yard(
            at,
            (at,) * place.people,
            (False,) * place.people,
            (at,) * place.tables,
            (at,) * place.mixing_bowls,
        )

    def is_over(self, yard: Yard) -> bool:
        return len(yard.ready) == len(self.line.bowls) and yard.boiled == len(self.loads)

    def fits(self, start: float, seconds: float) -> bool:
        return not is_in_break(self.setting.hours, start + ROUND_S, start + seconds - ROUND_S)

    def options(self, yard: Yard) -> list[tuple[int, str]]:
        """Return what somebody who is free may begin now, and that he may wait."""
        found = []
        for person, free in enumerate(yard.free):
            if free > yard.now + SLACK_S or yard.waits[person]:
                continue
            what = [w for w in ("mix", "boil", "roll") if self.may(yard, person, w)]
            found += [(person, w) for w in ("water",) if self.may(yard, person, w)] or [
                (person, w) for w in what
            ]
            found.append((person, "wait"))
        return found

    def may(self, yard: Yard, person: int, what: str) -> bool:
        if what == "roll":
            return self.may_roll(yard)
        rules = {"mix": self.may_mix, "boil": self.may_boil, "water": self.may_change}
        return rules[what](yard, person)

    def may_mix(self, yard: Yard, person: int) -> bool:
        k = len(yard.ready)
        if k == len(self.line.bowls) or min(yard.mixing) > yard.now + SLACK_S:
            return False
        if self.place.roles and self.place.people > 1 and self.in_midst(yard) == person:
            return False
        return self.fits(yard.now, self.line.bowls[k].mix_s)

    def in_midst(self, yard: Yard) -> int | None:
        """Return who has the pan of a bowl that is partly boiled."""
        if not 0 < yard.boiled < len(self.loads):
            return None
        k, before = self.loads[yard.boiled][0], self.loads[yard.boiled - 1][0]
        return self.line.pans[k] if k == before else None

    def may_roll(self, yard: Yard) -> bool:
        i = len(yard.rolled)
        if i == len(self.loads) or min(yard.tables) > yard.now + SLACK_S:
            return False
        k, load = self.loads[i]
        if k >= len(yard.ready) or yard.ready[k] > yard.now + SLACK_S:
            return False
        alone = self.place.roles and self.place.people == 1
        if alone and yard.boiled < sum(b < k for b, _ in self.loads):
            return False
        return self.fits(yard.now, load.roll_s)

    def has_pan(self, yard: Yard, person: int) -> bool:
        if yard.boiled == len(self.loads) or yard.pan > yard.now + SLACK_S:
            return False
        k = self.loads[yard.boiled][0]
        if not self.place.roles:
            return True
        if self.place.people == 1:
            return len(yard.rolled) >= sum(b <= k for b, _ in self.loads)
        return self.line.pans[k] == person

    def may_boil(self, yard: Yard, person: int) -> bool:
        if not self.has_pan(yard, person) or yard.boiled >= len(yard.rolled):
            return False
        load = self.loads[yard.boiled][1]
        if yard.rolled[yard.boiled] > yard.now + SLACK_S:
            return False
        if yard.pan_g and yard.pan_g + load.paste_g > self.place.water_every_g:
            return False
        cut = dict(yard.cut)
        if cut.get(load.size, yard.now) > yard.now + SLACK_S:
            return False
        cut_s = 0.0 if load.size in cut else self.place.cut_s
        return self.fits(yard.now, load.boil_s + load.wait_s + cut_s)

    def may_change(self, yard: Yard, person: int) -> bool:
        """Tell whether the water is to be changed now: before the bowl that would need too much of it."""
        if not yard.pan_g or not self.has_pan(yard, person):
            return False
        k, load = self.loads[yard.boiled]
        grams = load.paste_g
        if not yard.boiled or self.loads[yard.boiled - 1][0] != k:
            grams = sum(one.paste_g for b, one in self.loads if b == k)
        due = yard.pan_g + grams > self.place.water_every_g and k < len(yard.ready)
        return due and self.fits(yard.now, self.place.water_s)

    def after(self, yard: Yard, person: int, what: str) -> Yard:
        """Return the day after a decision."""
        if what == "wait":
            return yard._replace(waits=_put(yard.waits, person, value=True))
        yard = yard._replace(waits=(False,) * len(yard.waits))
        now, place = yard.now, self.place
        if what == "mix":
            end = now + self.line.bowls[len(yard.ready)].mix_s
            yard = yard._replace(
                ready=(*yard.ready, end + place.rest_s), mixing=_busy(yard.mixing, now, end)
            )
        elif what == "roll":
            k, load = self.loads[len(yard.rolled)]
            end = now + load.roll_s
            yard = yard._replace(
                rolled=(*yard.rolled, end),
                tables=_busy(yard.tables, now, end),
                broken=yard.broken or end - yard.ready[k] > place.stand_s + SLACK_S,
            )
        elif what == "water":
            end = now + place.water_hands_s
            yard = yard._replace(pan=now + place.water_s, pan_g=0.0)
        else:
            load = self.loads[yard.boiled][1]
            out = now + load.boil_s + load.wait_s
            first = load.size not in dict(yard.cut)
            end = out + place.cut_s if first else out
            stood = now - yard.rolled[yard.boiled] > place.raw_s + SLACK_S
            yard = yard._replace(
                pan=out,
                pan_g=yard.pan_g + load.paste_g,
                boiled=yard.boiled + 1,
                cut=yard.cut | {(load.size, end)} if first else yard.cut,
                broken=yard.broken or stood,
            )
        return yard._replace(free=_put(yard.free, person, end))

    def later(self, yard: Yard) -> Yard | None:
        """Return the day at the next moment at which anything changes; None where nothing ever does."""
        ends = [end for _, end in self.setting.hours.breaks]
        moments = [*yard.free, *yard.ready, *yard.rolled[yard.boiled :], *yard.mixing, *yard.tables]
        moments += [at for _, at in yard.cut]
        later = [m for m in (*moments, *ends, yard.pan) if m > yard.now + SLACK_S]
        if not later:
            return None
        return yard._replace(now=min(later), waits=(False,) * len(yard.waits))

    def left_s(self, yard: Yard) -> float:
        """Return the people's work that is still to begin."""
        mixing = sum(bowl.mix_s for bowl in self.line.bowls[len(yard.ready) :])
        rolling = sum(load.roll_s for _, load in self.loads[len(yard.rolled) :])
        return mixing + rolling + sum(ld.boil_s + ld.wait_s for _, ld in self.loads[yard.boiled :])

    def bound_s(self, yard: Yard) -> float:
        """Return a time before which no day that goes on from here ends."""
        busy = sum(max(free, yard.now) for free in yard.free)
        shared = (busy + self.left_s(yard)) / len(yard.free)
        boils = [ld.boil_s + ld.wait_s for _, ld in self.loads[yard.boiled :]]
        at_pan = max(yard.pan, yard.now) + sum(boils)
        rolls = sum(ld.roll_s for _, ld in self.loads[len(yard.rolled) :])
        at_tables = (sum(max(t, yard.now) for t in yard.tables) + rolls) / len(yard.tables)
        last = at_tables + (boils[-1] if rolls and boils else 0.0)
        return max(shared, at_pan, last, *yard.free)


def _put(values: tuple[Any, ...], at: int, value: object) -> tuple[Any, ...]:
    return (*values[:at], value, *values[at + 1 :])


def _busy(stations: tuple[float, ...], now: float, end: float) -> tuple[float, ...]:
    """Return stations with a free one taken; which one does not matter."""
    free = next(i for i, until in enumerate(stations) if until <= now + SLACK_S)
    return tuple(sorted(_put(stations, free, end)))


def lines(bowls: Sequence[BowlWork], people: int) -> Iterator[Line]:
    """Yield every order of bowls, of sizes in each bowl and of people at the pan."""
    kinds = [tuple(dict.fromkeys(load.size for load in bowl.loads)) for bowl in bowls]
    for order in permutations(range(len(bowls))):
        for sizes in product(*(tuple(permutations(kinds[i])) for i in order)):
            made = tuple(
                bowls[i]._replace(
                    loads=tuple(ld for s in own for ld in bowls[i].loads if ld.size == s)
                )
                for i, own in zip(order, sizes, strict=True)
            )
            for pans in product(range(people), repeat=len(bowls)):
                yield Line(made, pans)


def model_of(setting: DaySetting, line: Line) -> Model:
    return Model(setting, line, line.loads)


def best_end_s(bowls: Sequence[BowlWork], setting: DaySetting, before_s: float) -> float:
    """Return the earliest end of all days within the limits, or a time that none ends before."""
    best = before_s
    people = setting.workplace.people
    tried: set[tuple[tuple[BowlWork, ...], tuple[int, ...]]] = set()
    for line in lines(bowls, people if setting.workplace.roles else 1):
        # People are alike: only who is the same person as whom tells two lines apart.
        named = {p: n for n, p in enumerate(dict.fromkeys(line.pans))}
        key = (line.bowls, tuple(named[p] for p in line.pans))
        if key not in tried:
            tried.add(key)
            best = _search(model_of(setting, line), best)
    return best


def _search(model: Model, best: float) -> float:
    stack, seen = [model.begin()], set()
    while stack:
        yard = stack.pop()
        if yard in seen or yard.broken or model.bound_s(yard) >= best - 1e-3:
            continue
        seen.add(yard)
        if model.is_over(yard):
            best = min(best, max(yard.free))
            continue
        options = model.options(yard)
        if options:
            person = options[0][0]
            stack += [model.after(yard, p, what) for p, what in reversed(options) if p == person]
        elif later := model.later(yard):
            stack.append(later)
    return best


def random_end_s(bowls: Sequence[BowlWork], setting: DaySetting, draw: random.Random) -> float:
    """Return when a day ends that is planned by chance within the limits; infinity where it breaks one."""
    order = list(bowls)
    if draw.random() < 0.5:
        draw.shuffle(order)
    made = []
    for bowl in order:
        kinds = list(dict.fromkeys(load.size for load in bowl.loads))
        if draw.random() < 0.5:
            draw.shuffle(kinds)
        made.append(
            bowl._replace(loads=tuple(ld for s in kinds for ld in bowl.loads if ld.size == s))
        )
    people = setting.workplace.people
    first = draw.randrange(people)
    pans = tuple(first if draw.random() < 0.7 else draw.randrange(people) for _ in made)
    model = model_of(setting, Line(tuple(made), pans))
    weights = {what: draw.random() ** 3 for what in ("mix", "boil", "roll")}
    weights |= {"wait": 0.02 * draw.random() ** 3, "water": 1.0}
    return _chance(model, weights, draw)


def _chance(model: Model, weights: dict[str, float], draw: random.Random) -> float:
    yard: Yard | None = model.begin()
    while yard and not yard.broken:
        if model.is_over(yard):
            return max(yard.free)
        options = model.options(yard)
        if options:
            chances = [weights[what] if len(options) > 1 else 1.0 for _, what in options]
            person, what = draw.choices(options, chances)[0]
            yard = model.after(yard, person, what)
        else:
            yard = model.later(yard)
    return math.inf
