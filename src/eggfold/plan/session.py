"""What a day of rolling is like, from the plan and the bench: stages, people, stations, and the clock by which its hours go."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta, tzinfo
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.days import Day, plan_days
from eggfold.engine.schedule import Hours, Lying, Shop, emptied_s, run_shop
from eggfold.engine.session import ANY_NUMBER, PAN, Stages, Work, session_tasks
from eggfold.errors import NoAnswerError
from eggfold.load.dates import days_after, moment_of, zone_of
from eggfold.plan.plan_size import hold_breaks
from eggfold.recipe.assumptions import Assumption
from eggfold.reference import session as default
from eggfold.reference.defaults import Origin
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from eggfold.amounts import Amount
    from eggfold.load.plan import SessionKeys
    from eggfold.recipe.bench import Bench


class Workshop(NamedTuple):
    """Who rolls, on what, and how long each stage takes; the pace as shares of the table's."""

    people: tuple[str, ...]
    stages: Stages
    cleaning_s: float
    shop: Shop
    slow: float
    fast: float
    assumptions: tuple[Assumption, ...]


class Session(NamedTuple):
    """Everything that a schedule depends on, beside the bowls."""

    clock: Clock
    workshop: Workshop
    hours: tuple[Hours, ...]
    frees_at: tuple[float, ...]

    @property
    def stages(self) -> Stages:
        """How long each stage takes."""
        return self.workshop.stages

    @property
    def shop(self) -> Shop:
        """Stations, people and trays."""
        return self.workshop.shop

    @property
    def cleaning_s(self) -> float:
        """The cleaning at the end of a day."""
        return self.workshop.cleaning_s

    def plan(
        self,
        works: Sequence[Work],
        todo: Sequence[int],
        hours: Sequence[Hours],
        lying: tuple[Lying, ...] = (),
        shop: Shop | None = None,
    ) -> tuple[tuple[Day, ...], tuple[int, ...]]:
        """Plan bowls into days; a shop of another size may stand in for this one."""
        return plan_days(
            works,
            todo,
            self.stages,
            shop or self.shop,
            hours,
            frees_at=self.frees_at,
            lying=lying,
        )

    def emptied_s(self, load_start_s: float, lies_s: float) -> float:
        """Return when the tray of a load is emptied."""
        return emptied_s(load_start_s + lies_s, self.frees_at)


class Finish(NamedTuple):
    """When a day's last load is out and all is clean: as planned, and if rolling goes fast or slow."""

    expected: datetime
    early: datetime
    late: datetime
    closes: datetime
    """When the hours of the day end."""


def build_workshop(plan: SessionKeys, bench: Bench) -> Workshop:
    """Return people, stages and stations, from the plan and the bench."""
    hold_breaks(len(plan.breaks))
    people = plan.people or tuple(f"person {i + 1}" for i in range(bench.people))
    times = [_stage_s(plan, key, otherwise) for key, _, otherwise in STAGES]
    if plan.drying is None:
        times[3] = bench.drying_h * 3600
    mix, rest, cool, drying, cleaning = times
    slow, fast = default.OWN_PACE_RANGE if "pace" in bench.own else default.PACE_RANGE
    area = bench.trays.number * bench.trays.each_m2 if bench.trays else math.inf
    return Workshop(
        people,
        Stages(mix, rest, cool, drying, bench.pace_kg_h),
        cleaning,
        Shop((plan.mixing_bowls, ANY_NUMBER, plan.tables, plan.pans), len(people), area),
        slow,
        fast,
        (
            *_stage_assumptions(plan, bench, people, times),
            *_shop_assumptions(plan),
            _pace_assumption(bench, slow, fast),
        ),
    )


STAGES = (
    ("mix", "mixing one bowl", default.MIX_S),
    ("rest", "rest of the paste", default.REST_S),
    ("cool", "cooling of a load", default.COOL_S),
    ("drying", "drying in one layer", default.DRYING_S),
    ("cleaning", "cleaning each day", default.CLEANING_S),
)
"""Keys of a plan that state a time, what it is, and the time [s] without one."""


def _stage_s(plan: SessionKeys, key: str, otherwise: float) -> float:
    own: Amount | None = getattr(plan, key)
    return otherwise if own is None else amount_in(own, "s")


def _stage_assumptions(
    plan: SessionKeys, bench: Bench, people: tuple[str, ...], times: Sequence[float]
) -> Iterator[Assumption]:
    """Yield how many people there are, the time of each stage, and the pace of the rolling."""
    stated = plan.people or "people" in bench.own
    yield Assumption("people", f"{len(people)}", "yours" if stated else "house default")
    for (key, what, _), seconds in zip(STAGES, times, strict=True):
        stated = getattr(plan, key) is not None or key in bench.own
        origin: Origin = "yours" if stated else "house default"
        yield Assumption(what, _time(seconds), origin)
    origin = "yours" if "pace" in bench.own else "common practice"
    yield Assumption("one table rolls", f"{bench.pace_kg_h:g} kg an hour", origin)


def _time(seconds: float) -> str:
    return f"{seconds / 3600:g} h" if seconds >= 7200 else f"{seconds / 60:g} min"


def _shop_assumptions(plan: SessionKeys) -> Iterator[Assumption]:
    """Yield what the stations, the trays and the freezer rest on."""
    for key, what in (("mixing_bowls", "mixing bowls"), ("tables", "tables"), ("pans", "pans")):
        origin: Origin = "yours" if key in plan.model_fields_set else "house default"
        yield Assumption(what, f"{getattr(plan, key)}", origin)
    turns = " and ".join(plan.turn_at or default.TURN_AT)
    origin = "yours" if plan.turn_at else "house default"
    yield Assumption("trays are turned and emptied at", turns, origin)
    factor = f"{default.TRAY_AREA_FACTOR:g}"
    yield Assumption("tray for each bait, of its circle's square", factor, "house default")
    text = f"{default.LOOSE_PACKING:.0%}".replace("%", " %")
    source = default.LOOSE_PACKING_SOURCE
    yield Assumption("of a bag in the freezer is bait", text, "house default", source)


def _pace_assumption(bench: Bench, slow: float, fast: float) -> Assumption:
    text = f"{slow * bench.pace_kg_h:.3g} to {fast * bench.pace_kg_h:.3g} kg an hour"
    origin: Origin = "house default" if "pace" in bench.own else "common practice"
    return Assumption("one table may roll", text, origin)


def first_hours(hours: Hours) -> None:
    """Refuse a day that the cleaning takes whole."""
    if hours.closes_s <= hours.opens_s:
        raise NoAnswerError("cleaning takes all the hours there are: more hours, or less cleaning")


def apart(days: tuple[Hours, ...], cleaning_s: float) -> tuple[Hours, ...]:
    """Return days of which none lasts into the next: the night of a clock change may be short."""
    opens = [*(day.opens_s for day in days[1:]), math.inf]
    return tuple(
        day._replace(closes_s=min(day.closes_s, after - cleaning_s))
        for day, after in zip(days, opens, strict=True)
    )


def day_finish(session: Session, works: Sequence[Work], day: Day) -> Finish | None:
    """Return when a day ends: as planned, and if rolling goes fast or slow."""
    if not day.bowls:
        return None
    index = next(i for i, h in enumerate(session.hours) if h.closes_s >= day.run.end_s - 1)
    opens = min(day.run.starts)
    hours = session.hours[index]._replace(opens_s=opens, closes_s=math.inf)
    ends = [day.run.end_s]
    for factor in (session.workshop.fast, session.workshop.slow):
        stages = session.stages._replace(pace_kg_h=session.stages.pace_kg_h * factor)
        tasks = session_tasks([works[i] for i in day.bowls], stages)
        run = run_shop(tasks, session.shop._replace(area_m2=math.inf), hours)
        ends.append(run.end_s if run else day.run.end_s)
    closes = session.hours[index].closes_s
    seconds = (ends[0], min(ends), max(ends), closes)
    return Finish(*(session.clock.moment(s + session.cleaning_s) for s in seconds))


def placed(day: Day) -> list[tuple[int, float, float, float]]:
    """Return each load that goes into the pan: its bowl's place in the day, start, time and area."""
    return [
        (task.queue, start, task.lies_s, task.area_m2)
        for task, start in zip(day.tasks, day.run.starts, strict=True)
        if task.station == PAN
    ]


class Clock(NamedTuple):
    """A moment that counts as zero, in the plan's zone; nights with a clock change stay right."""

    zero: datetime
    zone_name: str | None

    @property
    def zone(self) -> tzinfo:
        """The plan's zone."""
        return zone_of(self.zone_name)

    def seconds(self, day: str, time: str) -> float:
        """Return a moment on the clock as seconds from zero."""
        moment = moment_of(day, time, self.zone)
        return (moment.astimezone(UTC) - self.zero.astimezone(UTC)).total_seconds()

    def moment(self, seconds: float) -> datetime:
        """Return seconds from zero as a moment on the clock."""
        elapsed = self.zero.astimezone(UTC) + timedelta(seconds=seconds)
        return elapsed.astimezone(self.zone)


def clock_at(day: str, time: str, zone_name: str | None) -> Clock:
    """Return a clock that counts from a moment."""
    return Clock(moment_of(day, time, zone_of(zone_name)), zone_name)


def day_hours(clock: Clock, day: str, time: str, plan: SessionKeys, cleaning_s: float) -> Hours:
    """Return a day's working hours, without the cleaning that ends it."""
    opens = clock.seconds(day, time)
    closes = opens + amount_in(plan.hours, "s") - cleaning_s
    breaks = []
    for one in plan.breaks:
        on = day if one.at >= time else days_after(day, 1)
        start = clock.seconds(on, one.at)
        breaks.append((start, start + amount_in(one.lasts, "s")))
    return Hours(opens, closes, tuple(sorted(breaks)))


def moments_at(clock: Clock, times: tuple[str, ...], first_day: str, days: int) -> list[float]:
    """Return every moment at which the clock shows one of several times, ascending [s]."""
    found = {clock.seconds(days_after(first_day, i), time) for i in range(days) for time in times}
    return sorted(found)
