"""Which bowls the days of a session take, how large a bowl may be, and the decision of a day."""

from __future__ import annotations

import math
from collections.abc import Sequence

from eggfold.engine.day_plan import MOST_EVALUATIONS, RULE_EVALUATIONS, plan_day
from eggfold.engine.dispatch import TOLERANCE_S, Broken, DayRun, DaySetting
from eggfold.engine.schedule import Hours, Lying
from eggfold.engine.workplace import BowlWork, PanLoad, Workplace
from eggfold.records import NamedTuple


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
