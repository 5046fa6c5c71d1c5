"""What both plans are worked out from: who rolls on what and how fast, the clock, and how much one plan holds."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta, tzinfo
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.engine import properties
from eggfold.engine.day_plan import MadeDay, plan_days, run_day
from eggfold.engine.dispatch import Broken, DaySetting
from eggfold.engine.pan import reboil_wait_s
from eggfold.engine.properties import boiling_point_c
from eggfold.engine.scaling import split_eggs
from eggfold.engine.workplace import BowlWork, Hours, Lying, Workplace, emptied_s
from eggfold.errors import NoAnswerError
from eggfold.load.fields import days_after, moment_of, zone_of
from eggfold.recipe.asked import Assumption
from eggfold.records import NamedTuple
from eggfold.reference import session as default
from eggfold.reference.defaults import DEFAULTS, Origin
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import date

    from eggfold.amounts import Amount
    from eggfold.load.plan import SessionKeys
    from eggfold.recipe.batch import Batch
    from eggfold.recipe.bench import Bench


MOST_BOWLS = 200
"""Bowls of one plan: 17 on each of a plan's 14 days at the most."""
MOST_LOADS = 5000
"""Loads for the pan of one plan: twenty of each of its bowls."""
MOST_PORTIONS = 500
"""What all trips of a season take: five things on each of a hundred trips."""
MOST_BREAKS = 100
"""Breaks of a day: more than one in each quarter of an hour of it."""
MOST_SEASON_DAYS = 3660
"""Days of a season: ten years, five times as long as bait may be said to keep frozen."""


DRYING_DAYS = 30
"""Days after the last in which bait can still be seen to: 14 of drying and of soaking at the most."""
DAY_S = 86_400.0
"""A day without a clock change [s]."""


class PlanSize(NamedTuple):
    """Bowls, and loads for the pan."""

    bowls: int = 0
    loads: int = 0

    def plus(self, other: PlanSize) -> PlanSize:
        """Return both together."""
        return PlanSize(self.bowls + other.bowls, self.loads + other.loads)


def size_in_bowls(whole: Batch, eggs: int, bowl_g: float) -> PlanSize:
    """Return how many bowls so many eggs of a batch make, and about how many loads."""
    bowls = sum(g.number for g in split_eggs(eggs, whole.paste.mass_g / whole.eggs, bowl_g))
    part = eggs / whole.eggs / bowls
    lines = (max(1, math.ceil(part * line.loads - 1e-9)) for line in whole.baits)
    return PlanSize(bowls, bowls * sum(lines))


def refuse_too_many_bowls(size: PlanSize) -> None:
    """Refuse more bowls or loads than a plan holds, before any is made."""
    if size.bowls > MOST_BOWLS:
        raise NoAnswerError(
            f"this asks for more than {MOST_BOWLS} bowls, the most that one plan holds: plan less "
            "bait, give the bench a larger bowl, or split the plan"
        )
    if size.loads > MOST_LOADS:
        raise NoAnswerError(
            f"this asks for more than {MOST_LOADS} loads for the pan, the most that one plan holds: "
            "plan less bait or fewer sizes, give the bench a larger pan, or split the plan"
        )


def refuse_too_many_portions(portions: int) -> None:
    """Refuse more than the trips of a season can take."""
    if portions > MOST_PORTIONS:
        raise NoAnswerError(
            f"the trips take {portions} things, and one plan holds {MOST_PORTIONS}: split the plan"
        )


def _refuse_too_many_breaks(breaks: int) -> None:
    """Refuse more breaks than a day of a plan holds."""
    if breaks > MOST_BREAKS:
        raise NoAnswerError(f"there are {breaks} breaks in a day, and one plan holds {MOST_BREAKS}")


def refuse_too_long_season(first: date, last: date) -> None:
    """Refuse a season of more days than a plan holds."""
    if (last - first).days > MOST_SEASON_DAYS:
        raise NoAnswerError(
            f"it is more than ten years from {first} to {last}, the most that one plan holds: "
            "begin with roll_from later, or split the plan"
        )


class Workshop(NamedTuple):
    """Who rolls, on what, how long each stage takes, and how fast; the pace as shares of the table's.

    ``mix_s`` is None where it follows the bowl's size, ``pan_l`` where no other pan than the bench's
    smallest is used.
    """

    people: tuple[str, ...]
    place: Workplace
    bowl_g: float
    mix_s: float | None
    pan_l: float | None
    cool_s: float
    drying_s: float
    pace_kg_h: float
    cork_pace_h: float
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
    def place(self) -> Workplace:
        """Stations, people, trays and limits."""
        return self.workshop.place

    def plan(
        self,
        works: Sequence[BowlWork],
        todo: Sequence[int],
        hours: Sequence[Hours],
        lying: tuple[Lying, ...] = (),
    ) -> tuple[tuple[MadeDay, ...], tuple[Broken, ...]]:
        """Plan bowls into days."""
        own = [works[i] for i in todo]
        days, left = plan_days(own, self.place, hours, lying=lying, frees_at=self.frees_at)
        made = (day._replace(bowls=tuple(todo[i] for i in day.bowls)) for day in days)
        return tuple(made), tuple(one._replace(bowl=todo[one.bowl]) for one in left)

    def setting(
        self, hours: Hours, lying: tuple[Lying, ...] = (), place: Workplace | None = None
    ) -> DaySetting:
        """Return a day of this session."""
        return DaySetting(place or self.place, hours, lying, self.frees_at)

    def emptied_s(self, dry_s: float) -> float:
        """Return when a tray is emptied whose bait is dry at a time."""
        return emptied_s(dry_s, self.frees_at)


class Finish(NamedTuple):
    """When a day's last load is out and all is clean: as planned, and if rolling goes fast or slow."""

    expected: datetime
    early: datetime
    late: datetime
    closes: datetime
    """When the hours of the day end."""


def build_workshop(plan: SessionKeys, bench: Bench) -> Workshop:
    """Return people, stages and stations, from the plan and the bench."""
    _refuse_too_many_breaks(len(plan.breaks))
    people = plan.people or tuple(f"person {i + 1}" for i in range(bench.people))
    times = {key: _stage_s(plan, key, otherwise) for key, _, otherwise in STAGES}
    if plan.drying is None:
        times["drying"] = bench.drying_h * 3600
    slow, fast = default.OWN_PACE_RANGE if "pace" in bench.own else default.PACE_RANGE
    pans_l = _pans_l(plan, bench)
    place = Workplace(
        len(people),
        plan.tables,
        len(pans_l),
        plan.mixing_bowls,
        bench.trays.number * bench.trays.each_m2 if bench.trays else math.inf,
        times["rest"],
        times["cleaning"],
        times["stand"],
        times["raw"],
        water_s=_water_s(max(pans_l), bench),
    )
    return Workshop(
        people=people,
        place=place,
        bowl_g=bench.bowl_g,
        mix_s=None if plan.mix is None else amount_in(plan.mix, "s"),
        pan_l=None if min(pans_l) == bench.pan_l else min(pans_l),
        cool_s=times["cool"],
        drying_s=times["drying"],
        pace_kg_h=bench.pace_kg_h,
        cork_pace_h=plan.cork_pace or bench.cork_pace_h,
        slow=slow,
        fast=fast,
        assumptions=(
            *_stage_assumptions(plan, bench, people, times),
            *_shop_assumptions(plan, bench, place),
            *_pace_assumptions(plan, bench, slow, fast),
        ),
    )


STAGES = (
    ("rest", "rest of the paste", default.REST_S),
    ("stand", "paste stands, covered, at the most", default.STAND_S),
    ("raw", "raw baits stand, covered, at the most", default.RAW_S),
    ("cool", "cooling of a load", default.COOL_S),
    ("drying", "drying in one layer", default.DRYING_S),
    ("cleaning", "cleaning each day", default.CLEANING_S),
)
"""Keys of a plan that state a time, what it is, and the time [s] without one."""


def _stage_s(plan: SessionKeys, key: str, otherwise: float) -> float:
    own: Amount | None = getattr(plan, key)
    return otherwise if own is None else amount_in(own, "s")


def _pans_l(plan: SessionKeys, bench: Bench) -> tuple[float, ...]:
    """Return the pans that are used, the largest first; those that nobody listed are as the smallest."""
    listed = sorted(bench.pans_l, reverse=True)
    number = plan.pans or len(listed)
    return (*listed, *(listed[-1],) * number)[:number]


def _water_s(pan_l: float, bench: Bench) -> float:
    """Return how long a pan of cold water takes to boil, from where it is poured away."""
    if bench.burner_w is None:
        return default.WATER_S
    water, boils_c = properties.PURE_WATER, boiling_point_c(bench.altitude_m)
    return reboil_wait_s(
        pan_l / 1000 * properties.density_kg_m3(water, default.TAP_C),
        properties.specific_heat_j_kgk(water, (default.TAP_C + boils_c) / 2),
        boils_c,
        default.TAP_C,
        bench.burner_w,
        DEFAULTS["burner_efficiency"].value / 100,
        0.0,
        default.WATER_HANDS_S,
    )


def _stage_assumptions(
    plan: SessionKeys, bench: Bench, people: tuple[str, ...], times: dict[str, float]
) -> Iterator[Assumption]:
    """Yield how many people there are, and the time of each stage."""
    stated = plan.people or "people" in bench.own
    yield Assumption("people", f"{len(people)}", "yours" if stated else "house default")
    if plan.mix:
        yield Assumption("mixing one bowl", _time(amount_in(plan.mix, "s")), "yours")
    else:
        text = f"{_time(default.MIX_ANY_S)}, and {_time(default.MIX_FULL_S)} for a full one"
        yield Assumption("mixing one bowl", text, "house default")
    for key, what, _ in STAGES:
        stated = getattr(plan, key) is not None or key in bench.own
        yield Assumption(what, _time(times[key]), "yours" if stated else "house default")


def _time(seconds: float) -> str:
    return f"{seconds / 3600:g} h" if seconds >= 7200 else f"{seconds / 60:.3g} min"


def _shop_assumptions(plan: SessionKeys, bench: Bench, place: Workplace) -> Iterator[Assumption]:
    """Yield what the stations, the trays and the freezer rest on."""
    for key, what in (("mixing_bowls", "mixing bowls"), ("tables", "tables"), ("pans", "pans")):
        stated = getattr(plan, key) is not None and key in plan.model_fields_set
        stated |= key == "pans" and len(bench.pans_l) > 1
        origin: Origin = "yours" if stated else "house default"
        yield Assumption(what, f"{getattr(place, key)}", origin)
    yield Assumption("first load of a size is cut open", _time(place.cut_s), "house default")
    water = f"every {place.water_every_g / 1000:g} kg, {_time(place.water_s)}"
    yield Assumption("new pan water", water, "house default")
    turns = " and ".join(plan.turn_at or default.TURN_AT)
    origin = "yours" if plan.turn_at else "house default"
    yield Assumption("trays are turned and emptied at", turns, origin)
    factor = f"{default.TRAY_AREA_FACTOR:g}"
    yield Assumption("tray for each bait, of its circle's square", factor, "house default")
    text = f"{default.LOOSE_PACKING:.0%}".replace("%", " %")
    source = default.LOOSE_PACKING_SOURCE
    yield Assumption("of a bag in the freezer is bait", text, "house default", source)


def _pace_assumptions(
    plan: SessionKeys, bench: Bench, slow: float, fast: float
) -> Iterator[Assumption]:
    own = "pace" in bench.own
    pace = f"{bench.pace_kg_h:g} kg an hour"
    yield Assumption("one table rolls", pace, "yours" if own else "common practice")
    text = f"{slow * bench.pace_kg_h:.3g} to {fast * bench.pace_kg_h:.3g} kg an hour"
    yield Assumption("one table may roll", text, "house default" if own else "common practice")
    stated = plan.cork_pace or "cork_pace" in bench.own
    text = f"{plan.cork_pace or bench.cork_pace_h:g} an hour"
    origin: Origin = "yours" if stated else "common practice"
    yield Assumption("baits on cork, moulded by hand", text, origin)


def refuse_cleaning_alone(hours: Hours, cleaning_s: float) -> None:
    """Refuse a day that the cleaning takes whole."""
    if hours.closes_s - cleaning_s <= hours.opens_s:
        raise NoAnswerError("cleaning takes all the hours there are: more hours, or less cleaning")


def days_apart(days: tuple[Hours, ...]) -> tuple[Hours, ...]:
    """Return days of which none lasts into the next: the night of a clock change may be short."""
    opens = [*(day.opens_s for day in days[1:]), math.inf]
    return tuple(
        day._replace(closes_s=min(day.closes_s, after))
        for day, after in zip(days, opens, strict=True)
    )


def day_finish(
    session: Session, works: Sequence[BowlWork], day: MadeDay, hours: Hours
) -> Finish | None:
    """Return when a day ends: as planned, and if rolling goes fast or slow."""
    if day.run is None:
        return None
    setting = session.setting(
        hours._replace(closes_s=math.inf), place=session.place._replace(area_m2=math.inf)
    )
    ends = [day.run.clean_s]
    for factor in (session.workshop.fast, session.workshop.slow):
        paced = [_at_pace(works[i], factor) for i in day.bowls]
        run = run_day(paced, setting, day.run.choices)
        ends.append(run.clean_s if run else day.run.clean_s)
    seconds = (ends[0], min(ends), max(ends), hours.closes_s)
    return Finish(*(session.clock.moment(s) for s in seconds))


def _at_pace(work: BowlWork, factor: float) -> BowlWork:
    """Return a bowl whose rolling goes so many times as fast."""
    loads = tuple(load._replace(roll_s=load.roll_s / factor) for load in work.loads)
    return work._replace(loads=loads)


def standing_text(session: Session, batch: Batch, eggs: int, limit: str) -> str:
    """Return the sentence on a bowl that breaks a limit of standing however it is made."""
    rolled = limit == "stand"
    limit_s = session.place.stand_s if rolled else session.place.raw_s
    return (
        f"{batch.recipe}, {batch.strength}: a bowl of {counted(eggs, 'egg')} cannot be "
        f"{'rolled' if rolled else 'boiled'} within {limit}: {limit_s / 60:g} min; allow longer, or "
        f"have one more {'table' if rolled else 'pan'} or person"
    )


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


def day_hours(clock: Clock, day: str, time: str, plan: SessionKeys) -> Hours:
    """Return a day's working hours, with the cleaning that ends it."""
    opens = clock.seconds(day, time)
    closes = opens + amount_in(plan.hours, "s")
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
