"""What a second pan, table, person or set of trays would save."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.schedule import Hours, Lying, Shop, best_run
from eggfold.engine.session import MIX, PAN, TABLE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from eggfold.engine.days import Day
    from eggfold.jobs.plans.session import Session


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
