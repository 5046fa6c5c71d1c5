"""The bait in hand: which trips are over, what the others take, and what of it goes to which."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from eggfold.nearest import fold
from eggfold.plan.plan_bowls import whole_batch
from eggfold.records import NamedTuple
from eggfold.reference import session as default
from eggfold.stock.baits import ShelfLife, Want, after_giving, allot, keeps_until, ready_on
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.load.load_plan import OpenPlan
    from eggfold.load.lots import Lot
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


class OverTrip(NamedTuple):
    """A trip that has left: whether somebody noted it, else it counts as fished as planned."""

    trip: int
    leave: str
    name: str | None
    noted: bool
    booked: bool
    """Whether it was booked, if only as planned beside a later one."""
    under_way: bool


class HeldLot(NamedTuple):
    """A lot in hand today, what of it goes where [g], and what stays over."""

    lot: Lot
    finished_g: float | None
    assumed: bool
    """Whether it was never weighed, or less by a trip that nobody noted."""
    gives: tuple[tuple[int, float], ...]
    left_g: float | None
    ready: date | None
    """The first day on which it can be taken along."""
    until: date | None
    """The last day on which it can be taken out."""

    @property
    def goes(self) -> tuple[dict[str, float], ...]:
        """What goes to which trip, by its place in the plan."""
        return tuple({"trip": trip, "finished_g": g} for trip, g in self.gives)


class InHand(NamedTuple):
    """The bait in hand, the trips that are over, and what each want gets of it [g]."""

    lots: tuple[HeldLot, ...] = ()
    over: tuple[OverTrip, ...] = ()
    served_g: tuple[float, ...] = ()
    kept: bool = False
    """Whether there is a shelf to keep it on."""


def build_in_hand(
    lots: Sequence[Lot],
    fished: Sequence[Want],
    wants: Sequence[Want],
    life: ShelfLife,
) -> InHand:
    """Return what is in hand after the trips that nobody noted, and which wants it serves."""
    gone = allot(lots, fished, life)
    touched = {one.lot for one in gone}
    kept = [(i, lot) for i, lot in enumerate(after_giving(lots, gone)) if lot]
    now = [lot for _, lot in kept]
    given = allot(now, wants, life)
    served = [0.0] * len(wants)
    for one in given:
        served[one.want] += one.g
    each = {want.kind: want.each_g for want in wants}
    held = []
    for n, (i, lot) in enumerate(kept):
        own = [one for one in given if one.lot == n]
        whole_g = lot.left_g
        if lot.left_baits is not None:
            whole_g = lot.left_baits * each[lot.kind] if lot.kind in each else None
        left_g = None if whole_g is None else max(0.0, whole_g - sum(one.g for one in own))
        gives = tuple((wants[one.want].trip, one.g) for one in own)
        assumed, until = not lot.is_weighed or i in touched, keeps_until(lot, life)
        held.append(HeldLot(lot, whole_g, assumed, gives, left_g, ready_on(lot, life), until))
    return InHand(tuple(held), (), tuple(served))
