"""What a second pan, table, person or set of trays would save."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.schedule import Hours, Shop, run_shop
from eggfold.engine.session import MIX, PAN, TABLE, Work, session_tasks

if TYPE_CHECKING:
    from collections.abc import Sequence

    from eggfold.jobs.plans.session import Session


class Saving(NamedTuple):
    """One more of something, and the working time that it saves [s]."""

    what: str
    seconds: float


def build_savings(
    session: Session, works: Sequence[Work], made: Sequence[int]
) -> tuple[Saving, ...]:
    """Return the savings, each alone, over all bowls in one long day without breaks."""
    shop = session.shop
    tasks = session_tasks([works[i] for i in made], session.stages)

    def end_s(changed: Shop) -> float:
        run = run_shop(tasks, changed, Hours(), frees_at=session.frees_at)
        return run.end_s if run else math.inf

    now = end_s(shop)
    pairs = [(shop._replace(stations=_more(shop, at)), what) for what, at in _STATIONS]
    pairs.append((shop._replace(hands=shop.hands + 1), "person"))
    if not math.isinf(shop.area_m2):
        pairs.append((shop._replace(area_m2=2 * shop.area_m2), "set of trays"))
    return tuple(Saving(what, max(0.0, now - end_s(changed))) for changed, what in pairs if made)


_STATIONS = (("pan", PAN), ("table", TABLE), ("mixing bowl", MIX))


def _more(shop: Shop, at: int) -> tuple[int, ...]:
    return tuple(n + (i == at) for i, n in enumerate(shop.stations))
