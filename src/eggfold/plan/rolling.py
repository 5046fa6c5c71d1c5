"""A weekend's rolling: bowls, days, who does what when, and what does not fit."""

from __future__ import annotations

import math
from datetime import datetime
from typing import TYPE_CHECKING

from eggfold.engine.day_plan import MadeDay, last_call
from eggfold.engine.dispatch import Broken, DayStep
from eggfold.engine.workplace import Lying, StationLoad, station_loads
from eggfold.errors import NoAnswerError
from eggfold.load.fields import days_after
from eggfold.load.load_recipe import each_once
from eggfold.plan.plan_bowls import (
    Divisible,
    PlanBowl,
    most_paste_g,
    split_bowls,
    split_evenly,
    whole_batch,
    with_sizes,
)
from eggfold.plan.plan_cautions import bulk_cautions, plan_assumptions, plan_cautions
from eggfold.plan.remedies import (
    START,
    Remedy,
    Rescue,
    Rest,
    Saving,
    ToFit,
    build_changes,
    build_rest,
    build_savings,
    dried,
    later_days,
)
from eggfold.plan.session import (
    DRYING_DAYS,
    Finish,
    PlanSize,
    Session,
    Workshop,
    build_workshop,
    clock_at,
    day_finish,
    day_hours,
    days_apart,
    moments_at,
    refuse_cleaning_alone,
    refuse_too_many_bowls,
    size_in_bowls,
    standing_text,
)
from eggfold.recipe.asked import Assumption
from eggfold.recipe.bench import Bench, build_bench
from eggfold.recipe.cautions import Caution
from eggfold.records import NamedTuple
from eggfold.reference.session import SETTLE_S, TURN_AT
from eggfold.stock.shopping import ShoppingItem, build_shopping, stock_on

if TYPE_CHECKING:
    from eggfold.engine.workplace import Hours
    from eggfold.load.load_plan import OpenPlan
    from eggfold.load.load_recipe import Companion
    from eggfold.load.plan import BowlsWanted, RollingPlan
    from eggfold.load.recipe import Bait, Strength


class Room(NamedTuple):
    """What is needed and what there is; None where nobody stated it."""

    needed: float
    have: float | None

    @property
    def short(self) -> float:
        """What is missing, 0 where nothing is or nobody knows."""
        return 0.0 if self.have is None else max(0.0, self.needed - self.have)


class BowlDay(NamedTuple):
    """When a bowl is made: its day, who has the pan, and the longest waits of paste and baits [s]."""

    day: int
    pan_person: int | None
    mix_start: datetime
    roll_start: datetime
    roll_end: datetime
    stands_s: float
    raw_s: float


class Check(NamedTuple):
    """The decision of a day: the bowl of that number is left out where it is not begun by then."""

    at: datetime
    bowl: int


class Rolling(NamedTuple):
    """The answer: bowls, their days and steps, and what does not fit.

    ``days`` name bowls by their place in ``bowls``, which stand as written; ``made`` has them in the
    order in which they are made.
    """

    name: str
    file: str
    zone: str | None
    people: tuple[str, ...]
    session: Session
    bowls: tuple[PlanBowl, ...]
    days: tuple[MadeDay, ...]
    left_out: tuple[PlanBowl, ...]
    eggs_short: int
    steps: tuple[Step, ...]
    finish: tuple[Finish | None, ...]
    checks: tuple[Check | None, ...]
    bounds: tuple[StationLoad, ...]
    savings: tuple[Saving, ...]
    trays_m2: Room
    trays_free: datetime | None
    freezer_l: Room
    changes: tuple[Remedy, ...]
    shopping: tuple[ShoppingItem, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    companions: tuple[Companion, ...]
    rescue: Rescue
    shifted: bool
    turns_a_day: int

    @property
    def made(self) -> tuple[PlanBowl, ...]:
        """The bowls that are made, in order."""
        return tuple(bowl for day in self.days for bowl in self.made_on(day))

    def made_on(self, day: MadeDay) -> tuple[PlanBowl, ...]:
        """Return the bowls of a day in the order in which they are made."""
        return tuple(self.bowls[i] for i in _made_order(day))

    @property
    def times(self) -> dict[int, BowlDay]:
        """When each bowl is made, by its number."""
        moment = self.session.clock.moment
        return {
            self.bowls[day.bowls[one.bowl]].number: BowlDay(
                i,
                one.pan_person,
                moment(one.mix_start_s),
                moment(one.roll_start_s),
                moment(one.roll_end_s),
                one.stands_s,
                one.raw_s,
            )
            for i, day in enumerate(self.days)
            if day.run
            for one in day.run.bowls
        }

    @property
    def fits(self) -> bool:
        """Whether everything that is wanted can be made, dried and frozen."""
        return not (self.left_out or self.eggs_short or self.freezer_l.short)

    @property
    def bottleneck(self) -> StationLoad:
        """The station, or the people, with the most work for each: what holds the others up."""
        return max(self.bounds, key=lambda bound: bound.work_s)


def _made_order(day: MadeDay) -> tuple[int, ...]:
    """Return the bowls of a day in the order in which they are made."""
    return tuple(day.bowls[one.bowl] for one in day.run.bowls) if day.run else ()


def build_rolling(opened: OpenPlan[RollingPlan], rescue: Rescue = START) -> Rolling:
    """Return the whole session of a plan, or what is left of it.

    Every recipe must be answerable; raises NoAnswerError where a bowl cannot be made at all.
    """
    bench = build_bench(opened.companions.bench)
    session = _session(opened.plan, build_workshop(opened.plan, bench))
    wants = _wants(opened, session)
    bowls = _bowls(session, wants)
    works = [b.work for b in bowls]
    todo = tuple(range(len(bowls)))
    days, left = session.plan(works, todo, session.hours)
    _refuse_what_stands(session, bowls, left)
    bowls = _numbered(bowls, days, left)
    rest = Rest(todo, bowls, session.hours, (), 0)
    if rescue != START:
        rest = build_rest(wants, session, bowls, days, rescue)
        shifted = later_days(session, days, rest) if rest.late else None
        rest = rest._replace(late=bool(shifted))
        days, left = (
            (shifted, ())
            if shifted
            else session.plan(rest.works, rest.todo, rest.hours, rest.lying)
        )
    return _answer(opened, session, rest, days, left, bench, rescue)


def _session(plan: RollingPlan, workshop: Workshop) -> Session:
    day, time = plan.start.split(" ")
    clock = clock_at(day, time, plan.zone)
    hours = days_apart(
        tuple(day_hours(clock, days_after(day, i), time, plan) for i in range(plan.days))
    )
    refuse_cleaning_alone(hours[0], workshop.place.cleaning_s)
    frees = moments_at(clock, plan.turn_at or TURN_AT, day, plan.days + DRYING_DAYS)
    return Session(clock, workshop, hours, tuple(frees))


def _wants(opened: OpenPlan[RollingPlan], session: Session) -> tuple[Divisible, ...]:
    """Return what is wanted, refusing more than one plan holds before any bowl is made."""
    wanted, workshop = opened.plan.bowls, session.workshop
    refuse_too_many_bowls(PlanSize(len(wanted), len(wanted)))
    wants: dict[BowlsWanted, Divisible] = {}
    grams: dict[tuple[str, Strength, tuple[Bait, ...] | None], float] = {}
    size = PlanSize()
    for one in wanted:
        if one not in wants:
            recipe = opened.recipes[one.recipe]
            whole = whole_batch(recipe, one.strength, one, opened.plan.drying, workshop.pan_l)
            refuse_too_many_bowls(size.plus(size_in_bowls(whole, whole.eggs, workshop.bowl_g)))
            kind = (recipe.file, one.strength, one.sizes)
            if kind not in grams:
                grams[kind] = most_paste_g(whole, session)
            sized = with_sizes(recipe, one.strength, one.sizes)
            wants[one] = Divisible(sized, whole, whole.eggs, grams[kind])
        want = wants[one]
        size = size.plus(size_in_bowls(want.whole, want.eggs, want.most_g))
        refuse_too_many_bowls(size)
    return tuple(wants[one] for one in wanted)


def _bowls(session: Session, wants: tuple[Divisible, ...]) -> tuple[PlanBowl, ...]:
    """Return the bowls as written; wants that are alike are worked out once."""
    bowls: list[PlanBowl] = []
    made: dict[tuple[int, tuple[int, ...]], tuple[PlanBowl, ...]] = {}
    for i, (want, each) in enumerate(
        zip(wants, split_evenly(session, wants, session.hours), strict=True)
    ):
        key = (id(want), each)
        if key not in made:
            made[key] = split_bowls(want, each, session.workshop, first=1, place=0)
        bowls += (b._replace(number=len(bowls) + n + 1, want=i) for n, b in enumerate(made[key]))
    return tuple(bowls)


def _refuse_what_stands(
    session: Session, bowls: tuple[PlanBowl, ...], left: tuple[Broken, ...]
) -> None:
    """Raise NoAnswerError where a bowl breaks a limit of standing however it is made."""
    for one in left:
        if one.limit in ("stand", "raw"):
            batch = bowls[one.bowl].batch
            raise NoAnswerError(standing_text(session, batch, batch.eggs, one.limit))


def _numbered(
    bowls: tuple[PlanBowl, ...], days: tuple[MadeDay, ...], left: tuple[Broken, ...]
) -> tuple[PlanBowl, ...]:
    """Return bowls numbered in the order in which they are made; those left out come last."""
    order = [i for day in days for i in _made_order(day)]
    order += [one.bowl for one in left]
    numbers = {bowl: n + 1 for n, bowl in enumerate(order)}
    return tuple(bowl._replace(number=numbers[i]) for i, bowl in enumerate(bowls))


def _answer(
    opened: OpenPlan[RollingPlan],
    session: Session,
    rest: Rest,
    days: tuple[MadeDay, ...],
    left: tuple[Broken, ...],
    bench: Bench,
    rescue: Rescue,
) -> Rolling:
    works = rest.works
    each_m2 = bench.trays.each_m2 if bench.trays else 0.0
    to_fit = ToFit(session, rest, each_m2)
    made = [rest.bowls[i] for day in days for i in _made_order(day)]
    left_out = sorted((rest.bowls[one.bowl] for one in left), key=lambda bowl: bowl.number)
    wanted = [*made, *left_out]
    area = session.place.area_m2
    own = list(zip(days, rest.hours, strict=True))
    return Rolling(
        name=opened.plan.name or "Rolling",
        file=opened.file,
        zone=opened.plan.zone,
        people=session.workshop.people,
        session=session,
        bowls=_as_made(rest.bowls, days),
        days=days,
        left_out=tuple(left_out),
        eggs_short=rest.eggs_short,
        steps=_build_steps(session, rest.bowls, days),
        finish=tuple(day_finish(session, works, day, hours) for day, hours in own),
        checks=tuple(_check(session, rest.bowls, day, hours) for day, hours in own),
        bounds=station_loads([bowl.work for bowl in made], session.place),
        savings=build_savings(session, rest, days),
        trays_m2=Room(_needed_m2(to_fit, days, left), None if math.isinf(area) else area),
        trays_free=_trays_free(session, days, rest.lying),
        freezer_l=Room(sum(b.freezer_l for b in wanted), bench.freezer_l),
        changes=build_changes(to_fit, bench) if left else (),
        shopping=build_shopping(
            [b.batch for b in made],
            stock_on(opened.companions.shelf, opened.plan.start[:10]),
        ),
        cautions=(*bulk_cautions(_eggs_by_want(wanted)), *plan_cautions(wanted)),
        assumptions=plan_assumptions(session.workshop.assumptions, wanted),
        companions=each_once(bowl.batch.companions for bowl in wanted),
        rescue=rescue,
        shifted=rest.late,
        turns_a_day=len(set(opened.plan.turn_at or TURN_AT)),
    )


def _check(
    session: Session, bowls: tuple[PlanBowl, ...], day: MadeDay, hours: Hours
) -> Check | None:
    """Return the decision of a day."""
    works = [bowls[i].work for i in day.bowls]
    call = last_call(works, day.run, session.setting(hours)) if day.run else None
    if call is None:
        return None
    return Check(session.clock.moment(call.at_s), bowls[day.bowls[call.last]].number)


def _as_made(bowls: tuple[PlanBowl, ...], days: tuple[MadeDay, ...]) -> tuple[PlanBowl, ...]:
    """Return the bowls with their loads to tick in the order of the days."""
    orders = {
        day.bowls[i]: day.run.choices.loads[i]
        for day in days
        if day.run
        for i in range(len(day.bowls))
    }
    return tuple(bowl.made_as(orders[i]) if i in orders else bowl for i, bowl in enumerate(bowls))


def _needed_m2(to_fit: ToFit, days: tuple[MadeDay, ...], left: tuple[Broken, ...]) -> float:
    """Return the most tray in use at once, of everything that is wanted where it does not fit."""
    if left:
        roomy = to_fit.session.place._replace(area_m2=math.inf)
        days = to_fit.days(roomy, to_fit.endless()) or days
    return to_fit.peak_m2(days)


def _trays_free(
    session: Session, days: tuple[MadeDay, ...], lying: tuple[Lying, ...]
) -> datetime | None:
    trays = [until for day in days if day.run for _, until, _ in day.run.laid]
    trays += [tray.until_s for tray in lying]
    return session.clock.moment(max(trays)) if trays else None


def _eggs_by_want(bowls: list[PlanBowl]) -> list[tuple[str, str, int]]:
    """Return recipe, strength and eggs of each want."""
    eggs: dict[int, int] = {}
    names: dict[int, tuple[str, str]] = {}
    for bowl in bowls:
        eggs[bowl.want] = eggs.get(bowl.want, 0) + bowl.batch.eggs
        names[bowl.want] = (bowl.batch.recipe, bowl.batch.strength)
    return [(*names[want], n) for want, n in eggs.items()]


class Step(NamedTuple):
    """One thing to do: mix, rest, roll, boil, cut, water, clean, turn, soak or bag; who, for which bowls and load."""

    what: str
    who: int | None
    bowls: tuple[int, ...]
    load: int | None
    start: datetime
    end: datetime


def _build_steps(
    session: Session, bowls: tuple[PlanBowl, ...], days: tuple[MadeDay, ...]
) -> tuple[Step, ...]:
    """Return all steps by time."""
    steps = [
        _day_step(session, bowls, day, step) for day in days if day.run for step in day.run.steps
    ]
    steps += _tray_steps(session, bowls, days)
    return tuple(sorted(steps, key=lambda s: (s.start, s.bowls, s.load or 0)))


def _day_step(session: Session, bowls: tuple[PlanBowl, ...], day: MadeDay, step: DayStep) -> Step:
    moments = session.clock.moment(step.start_s), session.clock.moment(step.end_s)
    if step.bowl is None or day.run is None:
        return Step(step.what, step.person, (), None, *moments)
    number = bowls[day.bowls[step.bowl]].number
    loads = day.run.choices.loads[step.bowl]
    load = None if step.load is None else loads.index(step.load) + 1
    return Step(step.what, step.person, (number,), load, *moments)


def _tray_steps(
    session: Session, bowls: tuple[PlanBowl, ...], days: tuple[MadeDay, ...]
) -> list[Step]:
    turned: dict[float, set[int]] = {}
    soaked: dict[tuple[float, float], set[int]] = {}
    bagged: dict[float, set[int]] = {}
    for day in days:
        for bowl, start_s, dry_s in dried([bowl.work for bowl in bowls], day):
            number, soak_s = bowls[bowl].number, bowls[bowl].batch.soak_s
            until = session.emptied_s(dry_s)
            out = session.emptied_s(until + soak_s) if soak_s else until
            if soak_s:
                soaked.setdefault((until, out), set()).add(number)
            bagged.setdefault(out, set()).add(number)
            for moment in session.frees_at:
                if start_s + SETTLE_S <= moment < until:
                    turned.setdefault(moment, set()).add(number)
    found = [("turn", s, s, numbers) for s, numbers in turned.items()]
    found += [("soak", *span, numbers) for span, numbers in soaked.items()]
    found += [("bag", s, s, numbers) for s, numbers in bagged.items()]
    at = session.clock.moment
    return [
        Step(what, None, tuple(sorted(numbers)), None, at(start_s), at(end_s))
        for what, start_s, end_s, numbers in found
    ]
