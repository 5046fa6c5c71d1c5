"""What the trips of a season take, trip by trip, and which of them are over or have been noted."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from eggfold.nearest import fold
from eggfold.plan.plan_bowls import whole_batch
from eggfold.reference import session as default
from eggfold.stock.baits import ShelfLife, Want
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.load.load_plan import OpenPlan
    from eggfold.load.notebook import Notebook
    from eggfold.load.plan import Campaign, Quantity, Trip
    from eggfold.load.recipe import Strength
    from eggfold.recipe.batch import Batch


def life_of(plan: Campaign, drying_h: float) -> ShelfLife:
    """Return how long bait keeps and dries; ``drying_h`` is the bench's."""
    hours = amount_in(plan.drying, "h") if plan.drying else drying_h
    return ShelfLife(
        plan.freezer_life or default.FREEZER_LIFE_DAYS,
        plan.thawed_life or default.THAWED_LIFE_DAYS,
        plan.dry_life or default.DRY_LIFE_DAYS,
        math.ceil(hours / 24),
    )


def trips_in_order(plan: Campaign) -> list[int]:
    """Return the trips of a plan as they leave."""
    trips = plan.trips
    return sorted(range(len(trips)), key=lambda i: (trips[i].leave, trips[i].at or "", i))


def has_left(trip: Trip, today: str) -> bool:
    """Tell whether a trip has begun before today: its bait has left the freezer."""
    return trip.leave < today


def noted_trips(notebook: Notebook | None) -> dict[str, bool]:
    """Return the trips that were booked, by the day they began; False for those taken as planned."""
    found: dict[str, bool] = {}
    for entry in notebook.trip if notebook else ():
        found |= dict.fromkeys(entry.assumed, False) | {entry.leave: True}
    return found


def trip_name(trip: Trip) -> str:
    """Return what a trip is called."""
    return trip.name or f"the trip of {trip.leave}"


def quantities_of(trip: Trip) -> Iterator[tuple[Strength, Quantity]]:
    """Yield what a trip takes, freebies first."""
    for quantity in trip.freebies:
        yield "freebie", quantity
    for quantity in trip.hookbaits:
        yield "hookbait", quantity


def want_of(plan: Campaign, trip: int, quantity: Quantity, whole: Batch) -> Want:
    """Return what a trip takes of one kind; ``whole`` is all of it as one batch."""
    own = plan.trips[trip]
    leave = datetime.fromisoformat(f"{own.leave}T{own.at or default.TRIP_LEAVES_AT}")
    thaw_s = amount_in(plan.thaw, "s") if plan.thaw else default.THAW_S
    finished_g = whole.paste.finished_g
    each_g = finished_g / max(1, sum(line.count for line in whole.baits))
    if quantity.bait is not None:
        need_g = amount_in(quantity.bait, "g")
    else:
        need_g = finished_g if quantity.count is None else quantity.count * each_g
    return Want(
        trip,
        (fold(whole.recipe), whole.strength),
        leave.date(),
        (leave - timedelta(seconds=thaw_s)).date(),
        need_g,
        each_g,
        frozenset(line.diameter_mm for line in whole.baits),
    )


def build_wants(opened: OpenPlan[Campaign], trips: Iterable[int]) -> tuple[Want, ...]:
    """Return everything that some trips take."""
    plan = opened.plan
    wants = []
    for i in trips:
        for strength, quantity in quantities_of(plan.trips[i]):
            recipe = opened.recipes[quantity.recipe]
            whole = whole_batch(recipe, strength, quantity, plan.drying)
            wants.append(want_of(plan, i, quantity, whole))
    return tuple(wants)
