"""What does not fit, and the smallest changes that make it fit."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.schedule import Hours, Lying, Shop
from eggfold.engine.session import PAN, TABLE, Day, Work, laid_out, peak_m2

if TYPE_CHECKING:
    from eggfold.jobs.bench import Bench
    from eggfold.jobs.session import Session

WHAT = ("hours", "trays", "people", "tables", "pans", "hours-and-trays", "freezer")


class Change(NamedTuple):
    """One change that alone makes everything fit; what does not belong to it is nothing.

    More time on the last day [s], more trays [m²] and how many of the user's own, one more of a
    station or of the people, or more freezer [l].
    """

    what: str
    seconds: float = 0.0
    area_m2: float = 0.0
    trays: int = 0
    litres: float = 0.0


class Unfit(NamedTuple):
    """The bowls to fit, and what they have to fit into."""

    session: Session
    works: list[Work]
    todo: tuple[int, ...]
    hours: tuple[Hours, ...]
    lying: tuple[Lying, ...]
    tray_m2: float

    def days(self, shop: Shop, hours: tuple[Hours, ...]) -> tuple[Day, ...] | None:
        """Return the days if everything fits."""
        days, left = self.session.plan(self.works, self.todo, hours, self.lying, shop)
        return None if left else days

    def endless(self) -> tuple[Hours, ...]:
        """Return the hours with a last day that does not end."""
        return (*self.hours[:-1], self.hours[-1]._replace(closes_s=math.inf))

    def peak_m2(self, days: tuple[Day, ...]) -> float:
        """Return the most tray that is in use at once."""
        before = [(0.0, tray.until_s, tray.area_m2) for tray in self.lying]
        laid = [trays for day in days for trays in laid_out(day, self.session.frees_at)]
        return peak_m2(before + laid)


def build_changes(unfit: Unfit, bench: Bench) -> tuple[Change, ...]:
    """Return every single change that makes all bowls fit, and where none does, hours and trays."""
    shop = unfit.session.shop
    roomy = shop._replace(area_m2=math.inf)
    changes = [*_hours(unfit, shop), *_trays(unfit, roomy, unfit.hours)]
    stations = shop.stations
    more = {
        "people": shop._replace(hands=shop.hands + 1),
        "tables": shop._replace(stations=_one_more(stations, TABLE)),
        "pans": shop._replace(stations=_one_more(stations, PAN)),
    }
    changes += [Change(what) for what, larger in more.items() if unfit.days(larger, unfit.hours)]
    if changes or not unfit.hours or not bench.trays:
        return tuple(changes)
    return tuple(
        Change("hours-and-trays", hours.seconds, trays.area_m2, trays.trays)
        for hours in _hours(unfit, roomy)
        for trays in _trays(unfit, roomy, unfit.endless())
    )


def _one_more(stations: tuple[int, ...], at: int) -> tuple[int, ...]:
    return tuple(n + (i == at) for i, n in enumerate(stations))


def _hours(unfit: Unfit, shop: Shop) -> list[Change]:
    if not unfit.hours:
        return []
    days = unfit.days(shop, unfit.endless())
    if days is None:
        return []
    return [Change("hours", seconds=days[-1].run.end_s - unfit.hours[-1].closes_s)]


def _trays(unfit: Unfit, roomy: Shop, hours: tuple[Hours, ...]) -> list[Change]:
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
    return [Change("trays", area_m2=low * each, trays=low)]
