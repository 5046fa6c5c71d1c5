"""What would help where a weekend or a season does not fit, and what is left of a day that went otherwise."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Literal

from eggfold.amounts import counted
from eggfold.engine.day_plan import ROUGH_EVALUATIONS, MadeDay, fill_days, plan_day, run_day
from eggfold.engine.drying import peak_m2
from eggfold.engine.season import Effort, Limits, RollDay, Stretch, fewest_days
from eggfold.engine.workplace import BowlWork, Hours, Lying, Workplace
from eggfold.errors import NoAnswerError, UsageProblemError
from eggfold.plan.plan_bowls import Divisible, PlanBowl, split_bowls
from eggfold.plan.session import DAY_S
from eggfold.records import NamedTuple
from eggfold.reference.session import LONGEST_DAY_S

if TYPE_CHECKING:
    from eggfold.plan.session import Session
    from eggfold.recipe.bench import Bench


MOST_MORE_DAYS = 6


class Remedy(NamedTuple):
    """One change that makes everything fit; what does not belong to it is nothing.

    More time on the last day [s], more days, more trays [m²] and how many of the user's own, or one
    more of a station or of the people.
    """

    what: str
    seconds: float = 0.0
    area_m2: float = 0.0
    trays: int = 0
    days: int = 0


class Rest(NamedTuple):
    """What is left of a session; ``late`` where the same bowls are only made later."""

    todo: tuple[int, ...]
    bowls: tuple[PlanBowl, ...]
    hours: tuple[Hours, ...]
    lying: tuple[Lying, ...]
    eggs_short: int
    now_s: float = -math.inf
    late: bool = False

    @property
    def works(self) -> list[BowlWork]:
        """What is to be done with each bowl, whether it is still to be made or not."""
        return [bowl.work for bowl in self.bowls]


class ToFit(NamedTuple):
    """What is left to be made of a session, and how large one of its trays is [m²], 0 without any."""

    session: Session
    rest: Rest
    tray_m2: float

    def days(self, place: Workplace, hours: tuple[Hours, ...]) -> tuple[MadeDay, ...] | None:
        """Return the days if everything fits by the plain rules."""
        there_s = sum(day.closes_s - day.opens_s for day in hours) * place.people
        works, todo = self.rest.works, self.rest.todo
        if sum(works[i].hands_s(place.pans) for i in todo) > there_s:
            return None
        frees_at, lying = self.session.frees_at, self.rest.lying
        days, left = fill_days(works, todo, place, hours, lying, frees_at, ROUGH_EVALUATIONS)
        return None if left else days

    def endless(self) -> tuple[Hours, ...]:
        """Return the hours with a last day that does not end."""
        hours = self.rest.hours or self.session.hours[-1:]
        return (*hours[:-1], hours[-1]._replace(closes_s=math.inf))

    def changed(self, change: Remedy) -> tuple[Hours, ...]:
        """Return the hours with more time on the last day, or more days like it."""
        longer = tuple(
            day._replace(closes_s=day.closes_s + change.seconds) for day in self.rest.hours[-1:]
        )
        whole = self.session.hours[-1]
        more = (_later(whole, (self._gone + i + 1) * DAY_S) for i in range(change.days))
        clipped = (day._replace(opens_s=max(day.opens_s, self.rest.now_s)) for day in more)
        return (*self.rest.hours[:-1], *longer, *clipped)

    @property
    def _gone(self) -> int:
        """How many days after the last one are over by now."""
        over_s = self.rest.now_s - self.session.hours[-1].closes_s
        return math.floor(over_s / DAY_S) if over_s > 0 else 0

    def peak_m2(self, days: tuple[MadeDay, ...]) -> float:
        """Return the most tray that is in use at once."""
        before = [(0.0, tray.until_s, tray.area_m2) for tray in self.rest.lying]
        laid = [trays for day in days if day.run for trays in day.run.laid]
        return peak_m2(before + laid)


def build_changes(to_fit: ToFit, bench: Bench) -> tuple[Remedy, ...]:
    """Return every single change that makes all bowls fit; where none does, time with trays."""
    place = to_fit.session.place
    roomy = place._replace(area_m2=math.inf)
    changes = [
        *_hours(to_fit, place),
        *_trays(to_fit, roomy, to_fit.rest.hours),
        *_days(to_fit, place),
    ]
    more = {
        "people": place._replace(people=place.people + 1),
        "tables": place._replace(tables=place.tables + 1),
        "pans": place._replace(pans=place.pans + 1),
    }
    changes += [
        Remedy(what) for what, larger in more.items() if to_fit.days(larger, to_fit.rest.hours)
    ]
    if changes or not bench.trays:
        return tuple(changes)
    return tuple(_with_trays(to_fit, roomy))


def _with_trays(to_fit: ToFit, roomy: Workplace) -> Iterator[Remedy]:
    """Yield more time or more days, each with the fewest trays that go with it."""
    for change in (*_hours(to_fit, roomy), *_days(to_fit, roomy)):
        for trays in _trays(to_fit, roomy, to_fit.changed(change)):
            both = trays._replace(seconds=change.seconds, days=change.days)
            yield both._replace(what=f"{change.what}-and-trays")


def _hours(to_fit: ToFit, place: Workplace) -> list[Remedy]:
    if not to_fit.rest.hours:
        return []
    days = to_fit.days(place, to_fit.endless())
    last = to_fit.rest.hours[-1]
    run = days[-1].run if days else None
    if run is None or run.clean_s - last.opens_s > LONGEST_DAY_S:
        return []
    return [Remedy("hours", seconds=run.clean_s - last.closes_s)]


def _days(to_fit: ToFit, place: Workplace) -> list[Remedy]:
    """Return the fewest more days like the last one with which all fits."""
    for more in range(1, MOST_MORE_DAYS + 1):
        change = Remedy("days", days=more)
        if to_fit.days(place, to_fit.changed(change)):
            return [change]
    return []


def _later(hours: Hours, seconds: float) -> Hours:
    breaks = tuple((start + seconds, end + seconds) for start, end in hours.breaks)
    return Hours(hours.opens_s + seconds, hours.closes_s + seconds, breaks)


def _trays(to_fit: ToFit, roomy: Workplace, hours: tuple[Hours, ...]) -> list[Remedy]:
    """Return the fewest more trays with which all fits, found by halving."""
    have = to_fit.session.place.area_m2
    days = None if math.isinf(have) else to_fit.days(roomy, hours)
    if days is None:
        return []
    each = to_fit.tray_m2
    low, high = 1, max(1, math.ceil((to_fit.peak_m2(days) - have) / each - 1e-9))
    while low < high:
        middle = (low + high) // 2
        fits = to_fit.days(roomy._replace(area_m2=have + middle * each), hours)
        low, high = (low, middle) if fits else (middle + 1, high)
    return [Remedy("trays", area_m2=low * each, trays=low)]


class Rescue(NamedTuple):
    """Where a session stands: bowls finished, the time now or how late it is, and the eggs left."""

    done: int = 0
    now: str | None = None
    eggs_left: int | None = None
    late_s: float = 0.0


START = Rescue()


def build_rest(
    wants: Sequence[Divisible],
    session: Session,
    bowls: tuple[PlanBowl, ...],
    days: tuple[MadeDay, ...],
    rescue: Rescue,
) -> Rest:
    """Return the bowls still to make with the eggs, the hours and the trays that are left."""
    if rescue.done > len(bowls):
        raise UsageProblemError(f"--done {rescue.done}: the plan has {counted(len(bowls), 'bowl')}")
    order = sorted(range(len(bowls)), key=lambda i: bowls[i].number)
    now_s = _now_s(session, bowls, days, rescue)
    hours = tuple(
        h._replace(opens_s=max(h.opens_s, now_s)) for h in session.hours if h.closes_s > now_s
    )
    begun = {
        bowl: start_s
        for day in days
        for bowl, start_s, _ in reversed(dried([b.work for b in bowls], day))
    }
    lying = []
    for i in order[: rescue.done]:
        lies_s = max((load.pan_s + load.lies_s for load in bowls[i].work.loads), default=0.0)
        dry_s = min(begun.get(i, now_s), now_s) + lies_s
        lying.append(Lying(session.emptied_s(dry_s), bowls[i].area_m2))
    todo = order[rescue.done :] if rescue.done else list(range(len(bowls)))
    late = bool(rescue.late_s) and not rescue.done and rescue.eggs_left is None
    if rescue.eggs_left is None or rescue.eggs_left >= sum(bowls[i].batch.eggs for i in todo):
        return Rest(tuple(todo), bowls, hours, tuple(lying), 0, now_s, late)
    kept, todo, short = _with_eggs(wants, session, bowls, todo, rescue.eggs_left)
    return Rest(tuple(todo), kept, hours, tuple(lying), short, now_s)


def later_days(
    session: Session, days: tuple[MadeDay, ...], rest: Rest
) -> tuple[MadeDay, ...] | None:
    """Return the same days in the hours that are left, None where that breaks a limit."""
    if len(rest.hours) < len(days) or sum(len(day.bowls) for day in days) < len(rest.todo):
        return None
    works, lying, found = rest.works, rest.lying, []
    for day, hours in zip(days, rest.hours, strict=True):
        run = day.run
        if run:
            own = [works[i] for i in day.bowls]
            run = run_day(own, session.setting(hours, lying), run.choices)
            if run is None or run.broken:
                return None
            lying = (*lying, *(Lying(until, area) for _, until, area in run.laid))
        found.append(day._replace(run=run))
    return tuple(found)


def dried(works: Sequence[BowlWork], day: MadeDay) -> list[tuple[int, float, float]]:
    """Return each load that is laid out: its bowl, when it goes into the pan, and when it is dry."""
    found = []
    for step in day.run.steps if day.run else ():
        if step.bowl is None or step.load is None:
            continue
        bowl = day.bowls[step.bowl]
        load = works[bowl].loads[step.load]
        if step.what == ("boil" if load.boil_s else "roll"):
            found.append((bowl, step.start_s, step.end_s + load.lies_s))
    return found


def _now_s(
    session: Session, bowls: tuple[PlanBowl, ...], days: tuple[MadeDay, ...], rescue: Rescue
) -> float:
    """Return the time now; without a day it is the one on which the next bowl was planned."""
    planned = (
        i for i, day in enumerate(days) if any(bowls[b].number > rescue.done for b in day.bowls)
    )
    on = next(planned, -1 if rescue.done else 0)
    if rescue.now is None:
        counts = rescue.late_s or rescue.done
        return _late_s(session, bowls, days, rescue, on) if counts else session.hours[0].opens_s
    day, _, time = rescue.now.rpartition(" ")
    if day:
        return session.clock.seconds(day, time)
    moment = session.clock.moment(session.hours[on].opens_s)
    return session.clock.seconds(moment.date().isoformat(), time)


def _late_s(
    session: Session,
    bowls: tuple[PlanBowl, ...],
    days: tuple[MadeDay, ...],
    rescue: Rescue,
    on: int,
) -> float:
    """Return the planned end of the last bowl that is done, or the start of the next day, and the delay."""
    ends = [
        step.end_s
        for day in days
        for step in (day.run.steps if day.run else ())
        if step.bowl is not None and bowls[day.bowls[step.bowl]].number <= rescue.done
    ]
    return max([session.hours[on].opens_s, *ends]) + rescue.late_s


def _with_eggs(
    wants: Sequence[Divisible],
    session: Session,
    bowls: tuple[PlanBowl, ...],
    todo: Sequence[int],
    eggs_left: int,
) -> tuple[tuple[PlanBowl, ...], list[int], int]:
    """Return the bowls that the eggs allow, the last one smaller where it must, and the eggs short."""
    kept, still, left = list(bowls), [], eggs_left
    for i in todo:
        bowl = bowls[i]
        eggs = min(left, bowl.batch.eggs)
        if eggs == bowl.batch.eggs:
            still.append(i)
        elif eggs:
            want = wants[bowl.want]._replace(whole=bowl.batch)
            [made] = split_bowls(
                want, (eggs,), session.workshop, first=bowl.number, place=bowl.want
            )
            still.append(len(kept))
            kept.append(made)
        left -= eggs
    return tuple(kept), still, sum(bowls[i].batch.eggs for i in todo) - eggs_left


class Saving(NamedTuple):
    """One more of something, and the working time that it saves [s]."""

    what: str
    seconds: float


def build_savings(session: Session, rest: Rest, days: Sequence[MadeDay]) -> tuple[Saving, ...]:
    """Return the savings, each alone: the bowls of each day planned again in its hours."""
    if not any(day.run for day in days):
        return ()
    place = session.place
    more = {
        "pan": place._replace(pans=place.pans + 1),
        "table": place._replace(tables=place.tables + 1),
        "mixing bowl": place._replace(mixing_bowls=place.mixing_bowls + 1),
        "person": place._replace(people=place.people + 1),
    }
    if not math.isinf(place.area_m2):
        more["set of trays"] = place._replace(area_m2=2 * place.area_m2)
    now_s = _ends_s(session, rest, days, place)
    return tuple(
        Saving(what, max(0.0, now_s - _ends_s(session, rest, days, changed)))
        for what, changed in more.items()
    )


def _ends_s(session: Session, rest: Rest, days: Sequence[MadeDay], place: Workplace) -> float:
    """Return the ends of all days added up, with the same bowls in another workplace."""
    ends_s, works, lying = 0.0, rest.works, rest.lying
    for day, hours in zip(days, rest.hours, strict=True):
        if not day.run:
            continue
        own = [works[i] for i in day.bowls]
        setting = session.setting(hours, lying, place)
        run = plan_day(own, setting, evaluations=ROUGH_EVALUATIONS)
        if run is None:
            return math.inf
        ends_s += run.clean_s
        lying = (*lying, *(Lying(until, area) for _, until, area in run.laid))
    return ends_s


STEPS = 40
"""Halvings in the search for the smallest change: far finer than any figure shown."""
MOST_LIFE_DAYS = 730
"""How long bait may be said to keep frozen [d]."""
HOURS_SEARCHED = 24.0
"""How many times the hours of a day are tried at the most."""

Limit = Literal["litres", "area_m2", "hours", "life_s"]
"""What holds a season back, as ``Limits`` calls it, and the hours of each day as a share of themselves."""


def explain_shortfall(
    days: Sequence[RollDay],
    stretches: Sequence[Stretch],
    limits: Limits,
    dates: Sequence[str],
    names: Sequence[str],
) -> str:
    """Return the sentence that says what does not fit and what would make it fit."""
    early = _too_early(days, stretches)
    if early is not None:
        first = f"the first is {dates[0]}" if dates else "there is none"
        return (
            f"no rolling day is early enough for {names[early]}: {first}; is some made already, say so with "
            "eggfold note count; else add days to roll_on, begin with roll_from earlier, dry for less "
            "time, or leave the trip out with --skip"
        )
    effort = Effort()
    try:
        ways = _ways(days, stretches, limits, effort) or _both(days, stretches, limits, effort)
    except NoAnswerError as error:
        return f"not everything can be made in time; {error}"
    if not ways:
        return (
            "not everything can be made in time, and no one change of freezer, trays, hours or "
            "keeping is enough: add days to roll_on or begin with roll_from earlier"
        )
    return f"not everything can be made in time; what makes it fit: {', or '.join(ways)}"


def _too_early(days: Sequence[RollDay], stretches: Sequence[Stretch]) -> int | None:
    """Return the first stretch that no day's bait can reach."""
    first = min((d.bagged_s for d in days), default=math.inf)
    return next((i for i, s in enumerate(stretches) if s.leave_s < first), None)


def _ways(
    days: Sequence[RollDay], stretches: Sequence[Stretch], limits: Limits, effort: Effort
) -> list[str]:
    """Return each limit that makes all fit where it alone is another."""
    most: dict[Limit, float] = {
        **_totals(stretches),
        "hours": HOURS_SEARCHED,
        "life_s": MOST_LIFE_DAYS * DAY_S,
    }
    found = [(what, _least(days, stretches, limits, what, most[what], effort)) for what in most]
    return [_way(what, value, limits) for what, value in found if value is not None]


def _totals(stretches: Sequence[Stretch]) -> dict[Limit, float]:
    """Return the freezer and the trays that are enough for everything at once."""
    return {
        "litres": sum(s.eggs * s.litres for s in stretches),
        "area_m2": sum(s.eggs * s.area_m2 for s in stretches),
    }


def _way(what: Limit, value: float, limits: Limits) -> str:
    """Return what another limit is, in words."""
    if what == "litres":
        return f"a freezer of {math.ceil(value)} l instead of {limits.litres:g} l"
    if what == "area_m2":
        more = math.ceil(value * 100) / 100
        return f"trays of {more:g} m² instead of {limits.area_m2:.2f} m²"
    if what == "hours":
        return f"{math.ceil((value - 1) * 100)} % more rolled in a day (hours, people or tables)"
    return f"bait that keeps {counted(math.ceil(value / DAY_S), 'day')} frozen"


def _both(
    days: Sequence[RollDay], stretches: Sequence[Stretch], limits: Limits, effort: Effort
) -> list[str]:
    """Return the least freezer, and the least trays beside it, where only both together help."""
    if math.isinf(limits.area_m2):
        return []
    most = _totals(stretches)
    roomy = limits._replace(area_m2=most["area_m2"])
    freezer = _least(days, stretches, roomy, "litres", most["litres"], effort)
    if freezer is None:
        return []
    larger = limits._replace(litres=float(math.ceil(freezer)))
    trays = _least(days, stretches, larger, "area_m2", most["area_m2"], effort)
    if trays is None:
        return []
    return [f"{_way('litres', freezer, limits)} together with {_way('area_m2', trays, limits)}"]


def _least(
    days: Sequence[RollDay],
    stretches: Sequence[Stretch],
    limits: Limits,
    what: Limit,
    most: float,
    effort: Effort,
) -> float | None:
    """Return the least value of one limit with which all fits, None where it alone does not help."""
    low, high = 1.0 if what == "hours" else getattr(limits, what), most
    if math.isinf(low) or high <= low or not _holds(days, stretches, limits, what, high, effort):
        return None
    for _ in range(STEPS):
        middle = (low + high) / 2
        if _holds(days, stretches, limits, what, middle, effort):
            high = middle
        else:
            low = middle
        if high - low < 1e-3 * high:
            break
    return high


def _holds(
    days: Sequence[RollDay],
    stretches: Sequence[Stretch],
    limits: Limits,
    what: Limit,
    value: float,
    effort: Effort,
) -> bool:
    """Tell whether all fits with another value of one limit."""
    if what == "hours":
        stretches = [s._replace(share=s.share / value) for s in stretches]
    else:
        limits = limits._replace(**{what: value})
    return fewest_days(days, stretches, limits, effort=effort) is not None
