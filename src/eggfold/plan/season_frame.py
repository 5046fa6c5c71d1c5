"""The calendar of a season: on which days bait can be rolled, and when trips thaw and leave."""

from __future__ import annotations

import math
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.schedule import Hours
from eggfold.engine.season import Limits, RollDay
from eggfold.errors import NoAnswerError
from eggfold.files.clock import days_after
from eggfold.files.plan import WEEKDAYS
from eggfold.plan.ceiling import hold_season
from eggfold.plan.session import Session, Workshop, first_hours
from eggfold.plan.timetable import Clock, clock_at, day_hours, moments_at
from eggfold.plural import counted
from eggfold.recipe.assumptions import Assumption
from eggfold.recipe.bench import Bench
from eggfold.reference import session as default
from eggfold.reference.defaults import Origin
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Iterator

    from eggfold.files.plan import Campaign

DAY_S = 86_400.0


class SeasonFrame(NamedTuple):
    """The calendar of a season: days on which bait can be rolled, and when trips thaw and leave."""

    plan: Campaign
    clock: Clock
    session: Session
    dates: tuple[str, ...]
    hours: tuple[Hours, ...]
    roll_days: tuple[RollDay, ...]
    times: tuple[tuple[float, float], ...]
    limits: Limits
    assumptions: tuple[Assumption, ...]


def build_frame(plan: Campaign, workshop: Workshop, today: str, bench: Bench) -> SeasonFrame:
    """Return the calendar of a plan, from today or its first rolling day to its last trip."""
    first = plan.roll_from or today
    time = plan.start_at or default.ROLLING_STARTS_AT
    clock = clock_at(first, "00:00", plan.zone)
    dates = _possible(plan, first)
    if not dates:
        last = max(trip.leave for trip in plan.trips)
        raise NoAnswerError(
            f"there is no day to roll on from {first} to {last}: add days to roll_on, or begin with "
            "roll_from earlier"
        )
    hours = tuple(day_hours(clock, d, time, plan, workshop.cleaning_s) for d in dates)
    first_hours(hours[0])
    length = (
        date.fromisoformat(max(t.last_day for t in plan.trips)) - date.fromisoformat(first)
    ).days
    turns = moments_at(clock, plan.turn_at or default.TURN_AT, first, length + 18)
    session = Session(clock, workshop, hours, tuple(turns))
    lies_s = workshop.stages.cool_s + workshop.stages.drying_s
    rolled = tuple(RollDay(h.opens_s, session.emptied_s(h.closes_s, lies_s)) for h in hours)
    life = plan.freezer_life or default.FREEZER_LIFE_DAYS
    limits = Limits(workshop.shop.area_m2, bench.freezer_l or math.inf, life * DAY_S)
    assumptions = (*workshop.assumptions, *_assumptions(plan, life, time))
    times = _times(plan, clock)
    return SeasonFrame(plan, clock, session, dates, hours, rolled, times, limits, assumptions)


def _assumptions(plan: Campaign, life: int, time: str) -> Iterator[Assumption]:
    def told(what: str, value: str, own: object, otherwise: Origin = "house default") -> Assumption:
        return Assumption(what, value, "yours" if own else otherwise)

    practice: Origin = "common practice"
    yield told("rolling begins at", time, plan.start_at)
    yield told("frozen bait keeps", counted(life, "day"), plan.freezer_life, practice)
    eggs = plan.egg_life or default.EGG_LIFE_DAYS
    yield told("eggs are rolled within", counted(eggs, "day"), plan.egg_life)
    thaw = amount_in(plan.thaw, "h") if plan.thaw else default.THAW_S / 3600
    yield told("out of the freezer before", f"{thaw:g} h", plan.thaw, practice)
    if any(trip.at is None for trip in plan.trips):
        yield told("a trip leaves at", default.TRIP_LEAVES_AT, own=None)


def _possible(plan: Campaign, first: str) -> tuple[str, ...]:
    """Return the dates on which bait can be rolled: right weekday, at home, not ruled out."""
    last = max(trip.leave for trip in plan.trips)
    hold_season(date.fromisoformat(first), date.fromisoformat(last))
    ruled_out = frozenset(plan.not_on)
    days = []
    day = first
    while day <= last:
        weekday = WEEKDAYS[date.fromisoformat(day).weekday()]
        away = any(trip.leave <= day <= trip.last_day for trip in plan.trips)
        if weekday in plan.roll_on and day not in ruled_out and not away:
            days.append(day)
        day = days_after(day, 1)
    return tuple(days)


def _times(plan: Campaign, clock: Clock) -> tuple[tuple[float, float], ...]:
    thaw_s = amount_in(plan.thaw, "s") if plan.thaw else default.THAW_S
    leaves = [clock.seconds(t.leave, t.at or default.TRIP_LEAVES_AT) for t in plan.trips]
    return tuple((leave - thaw_s, leave) for leave in leaves)
