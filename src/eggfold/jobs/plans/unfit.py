"""What does not fit, and the smallest changes that make it fit."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.days import Day
from eggfold.engine.drying import laid_out, peak_m2
from eggfold.engine.schedule import Hours, Lying, Shop
from eggfold.engine.session import PAN, TABLE, Work
from eggfold.reference.session import LONGEST_DAY_S

if TYPE_CHECKING:
    from eggfold.jobs.bowl.bench import Bench
    from eggfold.jobs.plans.session import Session

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
