"""The best day of bowls that a short search finds, the same for a weekend and for a season."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TypeVar

from eggfold.engine.dispatch import (
    TOLERANCE_S,
    Choices,
    DayRun,
    DaySetting,
    Dispatch,
)
from eggfold.engine.workplace import BowlWork, Workplace

T = TypeVar("T")

MOST_EVALUATIONS = 60
"""Days that one search tries."""
RULES = (
    (1, False, 1.0),
    (2, False, 1.0),
    (3, False, 1.0),
    (2, True, 1.0),
    (2, False, 1.6),
    (3, True, 1.6),
)
"""Plain dispatch rules: loads that wait before the pan is served, whether somebody idle mixes, and how
early a bowl is mixed against the time that mixing and resting take."""
RULE_EVALUATIONS = len(RULES) + 1
"""How many of them are plain rules and the safe one, before anything is changed."""
ROUGH_EVALUATIONS = 4
"""How many of them are tried where two plans are only compared."""
MOST_LOADS_TRIED = 7_200
"""Loads of all days that one search tries together: more than 120 on one day are tried less often."""
FIRST_DRAW = 5
"""Where the fixed sequence of changes begins; any other would do."""
OVER_WORTH = 5.0
"""What a second over a limit counts for in the search, against a second of a later end."""
STAND_WORTH = 0.002
"""What a second of standing paste counts for: of two days that end alike the fresher one."""
FUSS_SHARE = 0.005
"""A change of the order as written, or of hands at the pan, must save this share of the day to be worth
the reader's trouble; house default."""


def run_day(bowls: Sequence[BowlWork], setting: DaySetting, choices: Choices) -> DayRun | None:
    """Return a day by given choices, as those of a day that begins later than it was planned to.

    Whoever is free mixes if it is time for the next bowl, then boils if he has the pan, then rolls.

    Parameters
    ----------
    bowls : sequence of BowlWork
        Bowls of the day.
    setting : DaySetting
        Where and when.
    choices : Choices
        What the rules leave open.

    Returns
    -------
    DayRun or None
        None where the trays never hold a load.

    Notes
    -----
    A list schedule with the choices as its priorities; no source.

    Examples
    --------
    >>> from eggfold.engine.workplace import PanLoad
    >>> bowl = BowlWork(1200.0, (PanLoad("20 mm", 500.0, 1200.0, 110.0, 60.0),))
    >>> alone = DaySetting(Workplace(1, cut_s=0.0))
    >>> run = run_day([bowl], alone, rule_choices([bowl], alone.workplace)[0])
    >>> [(step.what, step.start_s) for step in run.steps]
    [('mix', 0.0), ('rest', 1200.0), ('roll', 1800.0), ('boil', 3000.0), ('clean', 3170.0)]
    """
    dispatch = Dispatch(bowls, setting, choices)
    return dispatch.result() if dispatch.run() else None


def plan_day(
    bowls: Sequence[BowlWork], setting: DaySetting, *, evaluations: int = MOST_EVALUATIONS
) -> DayRun | None:
    """Return the best day of some bowls that a short search finds.

    Plain rules give the first days; then one to three choices of the best day so far are changed at a
    time, in a fixed sequence, and what is better is kept. Limits count first, then the end.

    Parameters
    ----------
    bowls : sequence of BowlWork
        All of them are made.
    setting : DaySetting
        Where and when.
    evaluations : int
        How many days are tried at the most, 1 or more; RULE_EVALUATIONS for the plain rules alone.
        Days of more than 120 loads are tried less often, at least ROUGH_EVALUATIONS times.

    Returns
    -------
    DayRun or None
        ``broken`` says which bowl breaks which limit where no day was found that keeps them all; None
        where the trays never hold a load.

    Notes
    -----
    A local search with a house limit; no source. tests compare it with all days there are, and with
    days drawn at random.

    Examples
    --------
    >>> from eggfold.engine.workplace import PanLoad
    >>> bowl = BowlWork(1200.0, (PanLoad("20 mm", 500.0, 1200.0, 110.0, 60.0),) * 4)
    >>> day = plan_day([bowl, bowl], DaySetting(Workplace(2, tables=2)))
    >>> [one.bowl for one in day.bowls], day.broken
    ([0, 1], ())
    """
    search = _DaySearch(bowls, setting, evaluations)
    search.run()
    return search.best.result() if search.best else None


def rule_choices(bowls: Sequence[BowlWork], workplace: Workplace) -> list[Choices]:
    """Return the choices of the plain rules: all as written, the last person at the pan.

    Parameters
    ----------
    bowls : sequence of BowlWork
        Bowls of a day.
    workplace : Workplace
        Where they are made.

    Returns
    -------
    list of Choices
        One for each way of serving the pan and of mixing while somebody is idle.

    Notes
    -----
    House rules; no source. A bowl is mixed so early that it has rested when the tables need it.

    Examples
    --------
    >>> from eggfold.engine.workplace import PanLoad
    >>> bowl = BowlWork(1200.0, (PanLoad("20 mm", 500.0, 1200.0, 110.0, 60.0),) * 4)
    >>> rule_choices([bowl, bowl], Workplace(2, tables=2))[0].lead
    (0, 4)
    """
    n = len(bowls)
    loads = tuple(tuple(range(len(bowl.loads))) for bowl in bowls)
    lead = tuple(_lead(a, b, workplace) for a, b in pairwise(bowls))
    plain = Choices(
        order=tuple(range(n)),
        loads=loads,
        pan=(workplace.people - 1,) * n,
        lead=(0, *lead)[:n],
        fill=(False,) * n,
        hold=(1,) * n,
        first=(False,) * n,
        careful=(False,) * n,
    )
    rules = [
        plain._replace(
            hold=(hold,) * n, fill=(fill,) * n, lead=tuple(round(early * k) for k in plain.lead)
        )
        for hold, fill, early in RULES
    ]
    safe = plain._replace(lead=(0,) * n, fill=(True,) * n, hold=(2,) * n, careful=(True,) * n)
    return [*rules, safe]


def _lead(before: BowlWork, bowl: BowlWork, place: Workplace) -> int:
    """Return how many rollings and boils of the bowl before take as long as mixing and resting."""
    loads = before.loads
    if place.roles and place.people == 1:
        pan_s = sum(load.pan_s for load in loads)
        return math.ceil(place.rest_s * len(loads) / pan_s) if pan_s else 0
    work_s = sum(load.roll_s + load.pan_s for load in loads)
    hands = min(place.people, place.tables + 1) - 0.5
    away_s = bowl.mix_s + place.rest_s
    return 2 * math.ceil(away_s * hands * len(loads) / work_s) if work_s else 0


class _DaySearch:
    """Days tried so far: the one to change next, and the best of those that keep every limit."""

    def __init__(self, bowls: Sequence[BowlWork], setting: DaySetting, evaluations: int) -> None:
        self.bowls = bowls
        self.setting = setting
        loads = sum(len(bowl.loads) for bowl in bowls)
        self.left = min(evaluations, max(ROUGH_EVALUATIONS, MOST_LOADS_TRIED // max(1, loads)))
        self.base: Dispatch | None = None
        self.base_cost_s = math.inf
        self.kept: Dispatch | None = None
        self.kept_cost_s = math.inf
        self.day_s = 0.0
        self.seen: set[Choices] = set()

    @property
    def best(self) -> Dispatch | None:
        """The best day."""
        return self.kept or self.base

    def run(self) -> None:
        """Try the rules, then changes of what was best, until the evaluations are used up."""
        place = self.setting.workplace
        *rules, safe = rule_choices(self.bowls, place)
        for choices in rules:
            self._attempt(choices)
        if not self.kept:
            self._attempt(safe)
        kinds = _kinds(self.bowls, place)
        draws = _draws()
        idle = 0
        while kinds and self.base and self.left and idle < MOST_EVALUATIONS:
            choices = self.base.choices
            for _ in range(1 + next(draws) % 3):
                choices = _changed(
                    self.bowls, place, choices, kinds[next(draws) % len(kinds)], draws
                )
            idle = 0 if self._attempt(choices) else idle + 1

    def _attempt(self, choices: Choices) -> bool:
        """Try a day unless it was tried; tell whether it was new."""
        if choices in self.seen or not self.left:
            return False
        self.seen.add(choices)
        self.left -= 1
        fuss_s = FUSS_SHARE * self.day_s * _fuss(choices)
        day = Dispatch(self.bowls, self.setting, choices)
        if day.run(max(self.base_cost_s, self.kept_cost_s) - fuss_s):
            if not self.day_s:
                self.day_s = day.end_s - self.setting.hours.opens_s
            cost_s = day.end_s + fuss_s + STAND_WORTH * sum(day.stands_s)
            self._compare(day, cost_s, day.over_s)
        return True

    def _compare(self, day: Dispatch, cost_s: float, over_s: float) -> None:
        if not over_s and cost_s < self.kept_cost_s - TOLERANCE_S:
            self.kept, self.kept_cost_s = day, cost_s
        cost_s += OVER_WORTH * over_s
        if cost_s < self.base_cost_s - TOLERANCE_S:
            self.base, self.base_cost_s = day, cost_s


def _fuss(choices: Choices) -> float:
    """Return how often a day departs from what was written, and the pan changes hands."""
    moved = sum(a > b for a, b in pairwise(choices.order))
    turned = sum(a > b for loads in choices.loads for a, b in pairwise(loads))
    return moved + turned + sum(a != b for a, b in pairwise(choices.pan))


def _draws() -> Iterator[int]:
    """Yield a fixed sequence of whole numbers: Park and Miller, Communications of the ACM, 1988."""
    number = FIRST_DRAW
    while True:
        number = number * 48_271 % 2_147_483_647
        yield number


def _kinds(bowls: Sequence[BowlWork], place: Workplace) -> list[str]:
    """Return which choices there are to change."""
    kinds = ["order", "lead", "fill"] if len(bowls) > 1 else []
    if place.people > 1:
        kinds += ["hold", "pan", "first"] if place.roles else ["hold"]
    if any(bowl.sizes > 1 for bowl in bowls):
        kinds.append("loads")
    return kinds


def _changed(
    bowls: Sequence[BowlWork], place: Workplace, choices: Choices, kind: str, draws: Iterator[int]
) -> Choices:
    """Return choices with one of them changed."""
    k = next(draws) % len(bowls)
    if kind == "order":
        return _moved(bowls, choices, k, next(draws) % len(bowls))
    if kind == "loads":
        return choices._replace(loads=_put(choices.loads, k, _turned(bowls[k], choices.loads[k])))
    if kind == "pan":
        person = (choices.pan[k] + 1 + next(draws) % (place.people - 1)) % place.people
        return choices._replace(pan=_put(choices.pan, k, person))
    if kind == "lead":
        lead = choices.lead[k] + (-3, -2, -1, 1, 2, 3)[next(draws) % 6]
        return choices._replace(lead=_put(choices.lead, k, max(0, lead)))
    if kind == "hold":
        hold = choices.hold[k] + (-1, 1)[next(draws) % 2]
        return choices._replace(hold=_put(choices.hold, k, max(1, hold)))
    return choices._replace(
        **{kind: _put(getattr(choices, kind), k, not getattr(choices, kind)[k])}
    )


def _put(values: tuple[T, ...], at: int, value: T) -> tuple[T, ...]:
    return (*values[:at], value, *values[at + 1 :])


def _moved(bowls: Sequence[BowlWork], choices: Choices, start: int, end: int) -> Choices:
    """Return choices with one bowl at another place, unless bowls that are alike change places."""
    order = [*choices.order[:start], *choices.order[start + 1 :]]
    order.insert(end, choices.order[start])
    if all(bowls[a] == bowls[b] for a, b in zip(order, choices.order, strict=True)):
        return choices
    return choices._replace(order=tuple(order))


def _turned(bowl: BowlWork, loads: tuple[int, ...]) -> tuple[int, ...]:
    """Return the loads of a bowl with its first size last."""
    if not loads:
        return loads
    first = bowl.loads[loads[0]].size
    own = [i for i in loads if bowl.loads[i].size == first]
    return (*(i for i in loads if bowl.loads[i].size != first), *own)
