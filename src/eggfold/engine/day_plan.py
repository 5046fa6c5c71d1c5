"""The best day of bowls that a short search finds, the same for a weekend and for a season."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TypeVar

from eggfold.engine.dispatch import TOLERANCE_S, Broken, Choices, DayRun, DaySetting, Dispatch
from eggfold.engine.workplace import BowlWork, Hours, Lying, PanLoad, Workplace
from eggfold.records import NamedTuple

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
    """Return the day that given choices make.

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
    >>> run = run_day([bowl], alone, _rule_choices([bowl], alone.workplace)[0])
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


def _rule_choices(bowls: Sequence[BowlWork], workplace: Workplace) -> list[Choices]:
    """Return the choices of the plain rules, all as written, the last person at the pan, then safe ones.

    A bowl is mixed so early that it has rested when the tables need it.
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
        *rules, safe = _rule_choices(self.bowls, place)
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


class MadeDay(NamedTuple):
    """One of several days: which bowls are made, and how; a step's bowl is a place among them.

    ``run`` is None where nothing is made.
    """

    bowls: tuple[int, ...]
    run: DayRun | None


class LastCall(NamedTuple):
    """The decision of a day: the time by which the bowl ``last`` must be begun, or it is left out.

    What is worth more is not left for it: it is the last of the bowls that are worth least.
    """

    at_s: float
    last: int


def plan_days(
    bowls: Sequence[BowlWork],
    workplace: Workplace,
    days: Sequence[Hours],
    *,
    lying: tuple[Lying, ...] = (),
    frees_at: tuple[float, ...] = (),
) -> tuple[tuple[MadeDay, ...], tuple[Broken, ...]]:
    """Give each day as many of the next bowls as it holds; what is worth least is left out.

    Bowls are given out as written where all of them fit, by their worth where they do not. One that is
    begun is finished the same day.

    Parameters
    ----------
    bowls : sequence of BowlWork
        All bowls as written.
    workplace : Workplace
        Where they are made.
    days : sequence of Hours
        Working hours of each day, cleaning included, ascending.
    lying : tuple of Lying
        Trays in use from before.
    frees_at : tuple of float
        Moments at which trays are emptied, ascending [s].

    Returns
    -------
    tuple
        All days, and the bowls that fit into none, each with what forbids it.

    Notes
    -----
    A day's number of bowls is the most for which plan_day keeps every limit, counted up from the most that
    its plain rules hold; no source. A bowl that no day holds even alone stands in nobody's way; the limit
    that it breaks is named, else trays or hours.

    Examples
    --------
    >>> bowl = BowlWork(1200.0, (PanLoad("20 mm", 500.0, 1200.0, 110.0, 60.0),))
    >>> days, left = plan_days([bowl] * 3, Workplace(1), [Hours(0.0, 9000.0)])
    >>> days[0].bowls, left
    ((0, 1), (Broken(bowl=2, limit='hours'),))
    """
    written = range(len(bowls))
    made, left = fill_days(bowls, written, workplace, days, lying, frees_at, MOST_EVALUATIONS)
    if not left:
        return made, ()
    alone = {bowl: _forbidden(bowl, workplace, days) for bowl in dict.fromkeys(bowls)}
    possible = sorted((i for i in written if not alone[bowls[i]]), key=lambda i: -bowls[i].worth)
    made, left = fill_days(bowls, possible, workplace, days, lying, frees_at, MOST_EVALUATIONS)
    spread: set[int] = set()
    if left and workplace.area_m2 < math.inf:
        roomy = workplace._replace(area_m2=math.inf)
        spread.update(
            i
            for day in fill_days(bowls, possible, roomy, days, (), (), RULE_EVALUATIONS)[0]
            for i in day.bowls
        )
    why = {i: alone[bowls[i]] or ("trays" if i in spread else "hours") for i in written}
    out = sorted({*left, *(i for i in written if alone[bowls[i]])})
    return made, tuple(Broken(i, why[i]) for i in out)


def fill_days(
    bowls: Sequence[BowlWork],
    order: Sequence[int],
    workplace: Workplace,
    days: Sequence[Hours],
    lying: tuple[Lying, ...],
    frees_at: tuple[float, ...],
    evaluations: int,
) -> tuple[tuple[MadeDay, ...], tuple[int, ...]]:
    """Fill day after day with the next bowls of an order.

    Parameters
    ----------
    bowls : sequence of BowlWork
        All bowls.
    order : sequence of int
        In which order they are given out.
    workplace : Workplace
        Where they are made.
    days : sequence of Hours
        Working hours of each day, cleaning included, ascending.
    lying : tuple of Lying
        Trays in use from before.
    frees_at : tuple of float
        Moments at which trays are emptied, ascending [s].
    evaluations : int
        How many days each search tries at the most, 1 or more.

    Returns
    -------
    tuple
        All days, and the places of the bowls that are left.

    Notes
    -----
    Each day takes the most it holds; no source.

    Examples
    --------
    >>> bowl = BowlWork(1200.0, (PanLoad("20 mm", 500.0, 1200.0, 110.0, 60.0),))
    >>> day = [Hours(0.0, 9000.0)]
    >>> fill_days([bowl] * 3, (0, 1, 2), Workplace(1), day, (), (), 7)[1]
    (2,)
    """
    left = tuple(order)
    made = []
    for hours in days:
        setting = DaySetting(workplace, hours, lying, frees_at)
        day = _fullest(bowls, left, setting, evaluations)
        made.append(day)
        left = left[len(day.bowls) :]
        if day.run:
            lying = (*lying, *(Lying(until, area) for _, until, area in day.run.laid))
    return tuple(made), left


def _fullest(
    bowls: Sequence[BowlWork], left: tuple[int, ...], setting: DaySetting, evaluations: int
) -> MadeDay:
    """Return the day with the most of the next bowls."""
    day = MadeDay((), None)
    low, high = 0, _room(bowls, left, setting)
    room, tried, late_s = high, high, 0.0
    rules = min(evaluations, RULE_EVALUATIONS)
    while low < high:
        run = plan_day([bowls[i] for i in left[:tried]], setting, evaluations=rules)
        if run and not run.broken:
            low, day = tried, MadeDay(left[:tried], run)
        else:
            high, late_s = tried - 1, run.clean_s - setting.hours.closes_s if run else math.inf
        tried = (low + high + 1) // 2
    if evaluations <= RULE_EVALUATIONS:
        return day
    if late_s > HOPELESS_SHARE * (setting.hours.closes_s - setting.hours.opens_s):
        room = low
    room = min(room, low + MOST_MORE_BOWLS)
    for number in range(max(low, 1), room + 1):
        run = plan_day([bowls[i] for i in left[:number]], setting, evaluations=evaluations)
        if run is None or run.broken:
            break
        day = MadeDay(left[:number], run)
    return day


MOST_MORE_BOWLS = 2
"""So many bowls more than by the plain rules are searched for."""
HOPELESS_SHARE = 0.05
"""What ends later than this share of the hours by the plain rules is not searched for."""


def _room(bowls: Sequence[BowlWork], left: Sequence[int], setting: DaySetting) -> int:
    """Return how many of the next bowls there are hands for in a day, no less than it can hold."""
    hours, place = setting.hours, setting.workplace
    hands_s = place.people * (_worked_s(hours.opens_s, hours.closes_s, hours) - place.cleaning_s)
    for n, i in enumerate(left):
        hands_s -= bowls[i].hands_s(place.pans)
        if hands_s < -TOLERANCE_S:
            return n
    return len(left)


def _forbidden(bowl: BowlWork, workplace: Workplace, days: Sequence[Hours]) -> str | None:
    """Return the limit that a bowl breaks alone on every day, with all trays free."""
    if limit := _forbids(bowl, DaySetting(workplace._replace(area_m2=math.inf))):
        return limit
    if _forbids(bowl, DaySetting(workplace)):
        return "trays"
    fits = any(not _forbids(bowl, DaySetting(workplace, hours)) for hours in days)
    return None if fits else "hours"


def _forbids(bowl: BowlWork, setting: DaySetting) -> str | None:
    """Return the limit that a bowl breaks alone."""
    run = plan_day([bowl], setting, evaluations=RULE_EVALUATIONS)
    if run and not run.broken:
        return None
    return run.broken[0].limit if run else "trays"


def largest_share(bowl: BowlWork, workplace: Workplace) -> float:
    """Return the largest share of a bowl that keeps the limits of standing when it is made alone.

    Parameters
    ----------
    bowl : BowlWork
        A bowl as large as can be.
    workplace : Workplace
        Where it is made; its trays are taken as large enough.

    Returns
    -------
    float
        Share [-] of its paste, 1 where the whole bowl keeps them, 0 where no part does.

    Notes
    -----
    Found by halving, with no more loads of each size than the share needs; no source. No break falls into
    it: shorten stand_s by a break that paste is to stand through.

    Examples
    --------
    >>> bowl = BowlWork(1200.0, (PanLoad("20 mm", 500.0, 1200.0, 110.0, 60.0),) * 9)
    >>> largest_share(bowl, Workplace(2, tables=2)), round(largest_share(bowl, Workplace(1)), 2)
    (1.0, 0.78)
    """
    roomy = DaySetting(workplace._replace(area_m2=math.inf))
    if _forbids(bowl, roomy) is None:
        return 1.0
    low, high = 0.0, 1.0
    while high - low > 1e-3:
        middle = (low + high) / 2
        low, high = (low, middle) if _forbids(_part(bowl, middle), roomy) else (middle, high)
    return low


def _part(bowl: BowlWork, share: float) -> BowlWork:
    """Return a share of a bowl, in no more loads of each size than its paste needs."""
    loads: list[PanLoad] = []
    for size in dict.fromkeys(load.size for load in bowl.loads):
        own = [load for load in bowl.loads if load.size == size]
        number = math.ceil(share * len(own) - 1e-9)
        loads += [load.part(share * len(own) / number) for load in own[:number]]
    return bowl._replace(loads=tuple(loads))


def last_call(bowls: Sequence[BowlWork], run: DayRun, setting: DaySetting) -> LastCall | None:
    """Return the time by which the last bowl must be begun.

    What the day does from the mixing of its last bowl on must fit between this time and the end of the
    hours, breaks and cleaning aside.

    Parameters
    ----------
    bowls : sequence of BowlWork
        Bowls of the day.
    run : DayRun
        How they are made, keeping all limits.
    setting : DaySetting
        Where and when.

    Returns
    -------
    LastCall or None
        None for a day of one bowl or without an end.

    Notes
    -----
    The rest of the day is taken to last as long as planned; no source. A break at another place of it can
    cost up to one load more, so a page rounds down.

    Examples
    --------
    >>> bowl = BowlWork(1200.0, (PanLoad("20 mm", 500.0, 1200.0, 110.0, 60.0),))
    >>> setting = DaySetting(Workplace(1, cut_s=0.0), Hours(0.0, 9000.0))
    >>> last_call([bowl, bowl], plan_day([bowl, bowl], setting), setting)
    LastCall(at_s=3260.0, last=1)
    """
    hours = setting.hours
    if len(run.bowls) < 2 or math.isinf(hours.closes_s):
        return None
    later = run.bowls[1:]
    k = min(range(len(later)), key=lambda k: (bowls[later[k].bowl].worth, -k))
    last = later[k]
    left_s = _worked_s(last.mix_start_s, run.end_s, hours)
    at_s = _begin_s(_work_closes_s(setting), left_s, hours)
    return LastCall(at_s, last.bowl)


def _worked_s(start: float, end: float, hours: Hours) -> float:
    """Return the time between two moments without the breaks in it."""
    pauses = (max(0.0, min(stop, end) - max(begin, start)) for begin, stop in hours.breaks)
    return end - start - sum(pauses)


def _work_closes_s(setting: DaySetting) -> float:
    """Return when the work must end so that all is clean in time, and not in a break."""
    cleaning_s = setting.workplace.cleaning_s
    end = setting.hours.closes_s - cleaning_s
    for start, stop in sorted(setting.hours.breaks, reverse=True):
        if start < end + cleaning_s and end < stop:
            end = start - cleaning_s
    return end


def _begin_s(end: float, seconds: float, hours: Hours) -> float:
    """Return the moment from which so much working time is left until an end."""
    for start, stop in sorted(hours.breaks, reverse=True):
        if stop <= end < stop + seconds:
            end, seconds = start, seconds - (end - stop)
    return end - seconds
