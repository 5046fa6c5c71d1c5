"""What would help where a weekend does not fit: smaller bowls, less to roll, one more of a thing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.days import Day
from eggfold.engine.schedule import Hours, Lying, Shop, best_run
from eggfold.engine.session import MIX, PAN, TABLE, Work
from eggfold.engine.trays import laid_out, peak_m2
from eggfold.errors import UsageProblemError
from eggfold.plan.plan_bowls import PlanBowl, in_best_order, split_bowls, with_sizes
from eggfold.plan.session import placed
from eggfold.plural import counted
from eggfold.reference.session import LONGEST_DAY_S

if TYPE_CHECKING:
    from collections.abc import Sequence

    from eggfold.engine.days import Day
    from eggfold.load.load_plan import OpenPlan
    from eggfold.load.plan import RollingPlan
    from eggfold.plan.session import Session
    from eggfold.recipe.bench import Bench


DAY_S = 86_400.0
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


class Unfit(NamedTuple):
    """The bowls to fit, and what they have to fit into."""

    session: Session
    works: list[Work]
    todo: tuple[int, ...]
    hours: tuple[Hours, ...]
    lying: tuple[Lying, ...]
    tray_m2: float
    now_s: float = -math.inf

    def days(self, shop: Shop, hours: tuple[Hours, ...]) -> tuple[Day, ...] | None:
        """Return the days if everything fits."""
        days, left = self.session.plan(self.works, self.todo, hours, self.lying, shop)
        return None if left else days

    def endless(self) -> tuple[Hours, ...]:
        """Return the hours with a last day that does not end."""
        hours = self.hours or self.session.hours[-1:]
        return (*hours[:-1], hours[-1]._replace(closes_s=math.inf))

    def changed(self, change: Remedy) -> tuple[Hours, ...]:
        """Return the hours with more time on the last day, or more days like it."""
        longer = tuple(
            day._replace(closes_s=day.closes_s + change.seconds) for day in self.hours[-1:]
        )
        whole = self.session.hours[-1]
        more = (_later(whole, (self._gone + i + 1) * DAY_S) for i in range(change.days))
        clipped = (day._replace(opens_s=max(day.opens_s, self.now_s)) for day in more)
        return (*self.hours[:-1], *longer, *clipped)

    @property
    def _gone(self) -> int:
        """How many days after the last one are over by now."""
        over_s = self.now_s - self.session.hours[-1].closes_s
        return math.floor(over_s / DAY_S) if over_s > 0 else 0

    def peak_m2(self, days: tuple[Day, ...]) -> float:
        """Return the most tray that is in use at once."""
        before = [(0.0, tray.until_s, tray.area_m2) for tray in self.lying]
        laid = [trays for day in days for trays in laid_out(day, self.session.frees_at)]
        return peak_m2(before + laid)


def build_changes(unfit: Unfit, bench: Bench) -> tuple[Remedy, ...]:
    """Return every single change that makes all bowls fit; where none does, time with trays."""
    shop = unfit.session.shop
    roomy = shop._replace(area_m2=math.inf)
    changes = [*_hours(unfit, shop), *_trays(unfit, roomy, unfit.hours), *_days(unfit, shop)]
    stations = shop.stations
    more = {
        "people": shop._replace(hands=shop.hands + 1),
        "tables": shop._replace(stations=_one_more(stations, TABLE)),
        "pans": shop._replace(stations=_one_more(stations, PAN)),
    }
    changes += [Remedy(what) for what, larger in more.items() if unfit.days(larger, unfit.hours)]
    if changes or not bench.trays:
        return tuple(changes)
    return tuple(_with_trays(unfit, roomy))


def _with_trays(unfit: Unfit, roomy: Shop) -> Iterator[Remedy]:
    """Yield more time or more days, each with the fewest trays that go with it."""
    for change in (*_hours(unfit, roomy), *_days(unfit, roomy)):
        for trays in _trays(unfit, roomy, unfit.changed(change)):
            both = trays._replace(seconds=change.seconds, days=change.days)
            yield both._replace(what=f"{change.what}-and-trays")


def _one_more(stations: tuple[int, ...], at: int) -> tuple[int, ...]:
    return tuple(n + (i == at) for i, n in enumerate(stations))


def _hours(unfit: Unfit, shop: Shop) -> list[Remedy]:
    if not unfit.hours:
        return []
    days = unfit.days(shop, unfit.endless())
    last = unfit.hours[-1]
    if days is None or days[-1].run.end_s - last.opens_s > LONGEST_DAY_S:
        return []
    return [Remedy("hours", seconds=days[-1].run.end_s - last.closes_s)]


def _days(unfit: Unfit, shop: Shop) -> list[Remedy]:
    """Return the fewest more days like the last one with which all fits."""
    for more in range(1, MOST_MORE_DAYS + 1):
        change = Remedy("days", days=more)
        if unfit.days(shop, unfit.changed(change)):
            return [change]
    return []


def _later(hours: Hours, seconds: float) -> Hours:
    breaks = tuple((start + seconds, end + seconds) for start, end in hours.breaks)
    return Hours(hours.opens_s + seconds, hours.closes_s + seconds, breaks)


def _trays(unfit: Unfit, roomy: Shop, hours: tuple[Hours, ...]) -> list[Remedy]:
    """Return the fewest more trays with which all fits, found by halving."""
    have = unfit.session.shop.area_m2
    days = None if math.isinf(have) else unfit.days(roomy, hours)
    if days is None:
        return []
    each = unfit.tray_m2
    low, high = 1, max(1, math.ceil((unfit.peak_m2(days) - have) / each - 1e-9))
    while low < high:
        middle = (low + high) // 2
        fits = unfit.days(roomy._replace(area_m2=have + middle * each), hours)
        low, high = (low, middle) if fits else (middle + 1, high)
    return [Remedy("trays", area_m2=low * each, trays=low)]


class Rescue(NamedTuple):
    """Where a session stands: bowls finished, the time now, and the eggs that are left."""

    done: int = 0
    now: str | None = None
    eggs_left: int | None = None


class Rest(NamedTuple):
    """What is left of a session."""

    todo: tuple[int, ...]
    bowls: tuple[PlanBowl, ...]
    hours: tuple[Hours, ...]
    lying: tuple[Lying, ...]
    eggs_short: int
    now_s: float = -math.inf


def build_rest(
    opened: OpenPlan[RollingPlan],
    session: Session,
    bowls: tuple[PlanBowl, ...],
    days: tuple[Day, ...],
    bowl_g: float,
    rescue: Rescue,
) -> Rest:
    """Return the bowls still to make with the eggs, the hours and the trays that are left."""
    if rescue.done > len(bowls):
        raise UsageProblemError(f"--done {rescue.done}: the plan has {counted(len(bowls), 'bowl')}")
    starts = {
        day.bowls[queue]: (start, lies_s, area)
        for day in days
        for queue, start, lies_s, area in reversed(placed(day))
    }
    now_s = _now_s(session, days, rescue)
    hours = tuple(
        h._replace(opens_s=max(h.opens_s, now_s)) for h in session.hours if h.closes_s > now_s
    )
    lying = []
    for i in range(rescue.done):
        begun = starts[i][0] if i in starts else now_s
        lies_s = max((load.pan_s for load in bowls[i].work.loads), default=0.0)
        lies_s += session.stages.cool_s + session.stages.drying_s
        until = session.emptied_s(min(begun, now_s), lies_s)
        lying.append(Lying(until, bowls[i].area_m2))
    todo = tuple(range(rescue.done, len(bowls)))
    if rescue.eggs_left is None:
        return Rest(todo, bowls, hours, tuple(lying), 0, now_s)
    kept, short = _with_eggs(opened, session, bowls, todo, rescue.eggs_left, bowl_g)
    todo = tuple(range(rescue.done, len(kept)))
    return Rest(todo, kept, hours, tuple(lying), short, now_s)


def _now_s(session: Session, days: tuple[Day, ...], rescue: Rescue) -> float:
    """Return the time now; without a day it is the one on which the next bowl was planned."""
    if rescue.now is None:
        return session.hours[0].opens_s
    day, _, time = rescue.now.rpartition(" ")
    if day:
        return session.clock.seconds(day, time)
    planned = (i for i, d in enumerate(days) if any(b >= rescue.done for b in d.bowls))
    on = next(planned, -1 if rescue.done else 0)
    moment = session.clock.moment(session.hours[on].opens_s)
    return session.clock.seconds(moment.date().isoformat(), time)


def _with_eggs(
    opened: OpenPlan[RollingPlan],
    session: Session,
    bowls: tuple[PlanBowl, ...],
    todo: tuple[int, ...],
    eggs_left: int,
    bowl_g: float,
) -> tuple[tuple[PlanBowl, ...], int]:
    """Return the bowls that the eggs allow, the last one smaller where it must, and the eggs short."""
    kept = list(bowls[: todo[0]] if todo else bowls)
    left = eggs_left
    for i in todo:
        bowl = bowls[i]
        eggs = min(left, bowl.batch.eggs)
        if eggs == bowl.batch.eggs:
            kept.append(bowl)
        elif eggs:
            wanted = opened.plan.bowls[bowl.want]
            recipe = with_sizes(opened.recipes[wanted.recipe], wanted.strength, wanted.sizes)
            made = split_bowls(recipe, bowl.batch, eggs, bowl_g, first=bowl.number, want=bowl.want)
            ordered = in_best_order(made, session.stages, session.shop)
            kept += [b._replace(number=bowl.number) for b in ordered]
        left -= eggs
    needed = sum(bowls[i].batch.eggs for i in todo)
    return tuple(kept), max(0, needed - eggs_left)


class Saving(NamedTuple):
    """One more of something, and the working time that it saves [s]."""

    what: str
    seconds: float


def build_savings(
    session: Session, days: Sequence[Day], hours: Sequence[Hours], lying: tuple[Lying, ...]
) -> tuple[Saving, ...]:
    """Return the savings, each alone: the bowls of each day planned again in its hours."""
    shop = session.shop
    pairs = [(shop._replace(stations=_more(shop, at)), what) for what, at in _STATIONS]
    pairs.append((shop._replace(hands=shop.hands + 1), "person"))
    if not math.isinf(shop.area_m2):
        pairs.append((shop._replace(area_m2=2 * shop.area_m2), "set of trays"))
    if not any(day.bowls for day in days):
        return ()
    now_s = sum(day.run.end_s for day in days)
    return tuple(
        Saving(what, max(0.0, now_s - _ends_s(session, days, hours, lying, changed)))
        for changed, what in pairs
    )


def _ends_s(
    session: Session,
    days: Sequence[Day],
    hours: Sequence[Hours],
    lying: tuple[Lying, ...],
    shop: Shop,
) -> float:
    """Return the ends of all days added up, with the same bowls in a shop of another size."""
    ends_s = 0.0
    for day, open_s in zip(days, hours, strict=True):
        run = best_run(day.tasks, shop, open_s, lying=lying, frees_at=session.frees_at)
        if run is None:
            return math.inf
        ends_s += run.end_s
        lying = run.lying
    return ends_s


_STATIONS = (("pan", PAN), ("table", TABLE), ("mixing bowl", MIX))


def _more(shop: Shop, at: int) -> tuple[int, ...]:
    return tuple(n + (i == at) for i, n in enumerate(shop.stations))
