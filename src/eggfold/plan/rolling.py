"""A weekend's rolling: bowls, days, who does what when, and what does not fit."""

from __future__ import annotations

import math
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.days import Day
from eggfold.engine.flow import Bound, assign_hands, bounds
from eggfold.engine.schedule import Lying
from eggfold.engine.session import PAN, STATIONS, TABLE, session_tasks
from eggfold.load.companions import each_once
from eggfold.load.dates import days_after
from eggfold.plan.plan_bowls import PlanBowl, in_best_order, split_bowls, whole_batch, with_sizes
from eggfold.plan.plan_cautions import bulk_cautions, plan_assumptions, plan_cautions, raw_caution
from eggfold.plan.plan_size import PlanSize, hold_bowls, size_in_bowls
from eggfold.plan.remedies import (
    Remedy,
    Rescue,
    Rest,
    Saving,
    Unfit,
    build_changes,
    build_rest,
    build_savings,
)
from eggfold.plan.session import (
    Finish,
    Session,
    Workshop,
    apart,
    build_workshop,
    clock_at,
    day_finish,
    day_hours,
    first_hours,
    moments_at,
    placed,
)
from eggfold.recipe.assumptions import Assumption
from eggfold.recipe.bench import Bench, build_bench
from eggfold.recipe.cautions import Caution
from eggfold.reference.session import SETTLE_S, TURN_AT
from eggfold.stock.shopping import ShoppingItem, build_shopping, stock_on

if TYPE_CHECKING:
    from eggfold.load.companions import Companion
    from eggfold.load.load_plan import OpenPlan
    from eggfold.load.plan import BowlsWanted, RollingPlan
    from eggfold.recipe.batch import Batch


DRYING_DAYS = 16
"""Days after the last in which trays can still be in use: 14 days of drying at the most."""

START = Rescue()


class Room(NamedTuple):
    """What is needed and what there is; None where nobody stated it."""

    needed: float
    have: float | None

    @property
    def short(self) -> float:
        """What is missing, 0 where nothing is or nobody knows."""
        return 0.0 if self.have is None else max(0.0, self.needed - self.have)


class Rolling(NamedTuple):
    """The answer: bowls in the order they are made, their days and steps, and what does not fit."""

    name: str
    file: str
    zone: str | None
    people: tuple[str, ...]
    session: Session
    bowls: tuple[PlanBowl, ...]
    days: tuple[Day, ...]
    left_out: tuple[PlanBowl, ...]
    eggs_short: int
    steps: tuple[Step, ...]
    finish: tuple[Finish | None, ...]
    bounds: tuple[Bound, ...]
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
    turns_a_day: int

    @property
    def made(self) -> tuple[PlanBowl, ...]:
        """The bowls that are made, in order."""
        return tuple(self.bowls[i] for day in self.days for i in day.bowls)

    @property
    def fits(self) -> bool:
        """Whether everything that is wanted can be made, dried and frozen."""
        return not (self.left_out or self.eggs_short or self.freezer_l.short)

    @property
    def bottleneck(self) -> int:
        """Which station holds the others up; one behind the stations are the people."""
        return max(range(len(self.bounds)), key=lambda i: (self.bounds[i].work_s, -i))


def build_rolling(opened: OpenPlan[RollingPlan], rescue: Rescue = START) -> Rolling:
    """Return the whole session of a plan, or what is left of it.

    Every recipe must be answerable; raises NoAnswerError where a bowl cannot be made at all.
    """
    companions = next(iter(opened.recipes.values())).companions
    bench = build_bench(companions.bench)
    session = _session(opened.plan, build_workshop(opened.plan, bench))
    bowls = in_best_order(_all_bowls(opened, bench.bowl_g), session.stages, session.shop)
    works = [b.work for b in bowls]
    todo = tuple(range(len(bowls)))
    days, left = session.plan(works, todo, session.hours)
    rest = Rest(todo, bowls, session.hours, (), 0)
    if rescue != START:
        rest = build_rest(opened, session, bowls, days, bench.bowl_g, rescue)
        works = [b.work for b in rest.bowls]
        days, left = session.plan(works, rest.todo, rest.hours, rest.lying)
    return _answer(opened, session, rest, days, left, bench, rescue)


def _session(plan: RollingPlan, workshop: Workshop) -> Session:
    cleaning_s = workshop.cleaning_s
    day, time = plan.start.split(" ")
    clock = clock_at(day, time, plan.zone)
    hours = tuple(
        day_hours(clock, days_after(day, i), time, plan, cleaning_s) for i in range(plan.days)
    )
    hours = apart(hours, cleaning_s)
    first_hours(hours[0])
    frees = moments_at(clock, plan.turn_at or TURN_AT, day, plan.days + DRYING_DAYS)
    return Session(clock, workshop, hours, tuple(frees))


def _all_bowls(opened: OpenPlan[RollingPlan], bowl_g: float) -> tuple[PlanBowl, ...]:
    wants = opened.plan.bowls
    hold_bowls(PlanSize(len(wants), len(wants)))
    wholes: dict[BowlsWanted, Batch] = {}
    size = PlanSize()
    for wanted in wants:
        if wanted not in wholes:
            wholes[wanted] = whole_batch(
                opened.recipes[wanted.recipe], wanted.strength, wanted, opened.plan.drying
            )
        whole = wholes[wanted]
        size = size.plus(size_in_bowls(whole, whole.eggs, bowl_g))
        hold_bowls(size)
    split: dict[BowlsWanted, tuple[PlanBowl, ...]] = {}
    for wanted, whole in wholes.items():
        recipe = with_sizes(opened.recipes[wanted.recipe], wanted.strength, wanted.sizes)
        split[wanted] = split_bowls(recipe, whole, whole.eggs, bowl_g, first=1, want=0)
    wanted_bowls = ((i, bowl) for i, wanted in enumerate(wants) for bowl in split[wanted])
    return tuple(bowl.numbered(n + 1, i) for n, (i, bowl) in enumerate(wanted_bowls))


def _answer(
    opened: OpenPlan[RollingPlan],
    session: Session,
    rest: Rest,
    days: tuple[Day, ...],
    left: tuple[int, ...],
    bench: Bench,
    rescue: Rescue,
) -> Rolling:
    bowls, works = rest.bowls, [b.work for b in rest.bowls]
    people = session.workshop.people
    made = tuple(i for day in days for i in day.bowls)
    wanted = [bowls[i] for i in rest.todo]
    companions = next(iter(opened.recipes.values())).companions
    stock = stock_on(companions.shelf, opened.plan.start.split(" ")[0])
    tray_m2 = bench.trays.each_m2 if bench.trays else math.inf
    unfit = Unfit(session, works, rest.todo, rest.hours, rest.lying, tray_m2, rest.now_s)
    tasks = session_tasks([works[i] for i in made], session.stages)
    return Rolling(
        opened.plan.name or "Rolling",
        opened.file,
        opened.plan.zone,
        people,
        session,
        bowls,
        days,
        tuple(bowls[i] for i in left),
        rest.eggs_short,
        build_steps(session, bowls, days, len(people)),
        tuple(day_finish(session, works, day) for day in days),
        bounds(tasks, session.shop),
        build_savings(session, days, rest.hours, rest.lying),
        Room(_needed_m2(unfit, days, left), session.shop.area_m2 if bench.trays else None),
        _trays_free(session, days, rest.lying),
        Room(sum(b.freezer_l for b in wanted), bench.freezer_l),
        build_changes(unfit, bench) if left else (),
        build_shopping((bowls[i].batch for i in made), stock),
        (*bulk_cautions(_eggs_by_want(wanted)), *raw_caution(days), *plan_cautions(wanted)),
        plan_assumptions(session.workshop.assumptions, wanted),
        each_once(bowl.batch.companions for bowl in wanted),
        rescue,
        len(set(opened.plan.turn_at or TURN_AT)),
    )


def _needed_m2(unfit: Unfit, days: tuple[Day, ...], left: tuple[int, ...]) -> float:
    """Return the most tray in use at once, of everything that is wanted where it does not fit."""
    if left:
        roomy = unfit.session.shop._replace(area_m2=math.inf)
        days = unfit.days(roomy, unfit.endless()) or days
    return unfit.peak_m2(days)


def _trays_free(
    session: Session, days: tuple[Day, ...], lying: tuple[Lying, ...]
) -> datetime | None:
    trays = [tray.until_s for day in days for tray in day.run.lying]
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
    """One thing to do: mix, rest, roll, boil, clean, turn or bag; who, for which bowls and load."""

    what: str
    who: int | None
    bowls: tuple[int, ...]
    load: int | None
    start: datetime
    end: datetime


def build_steps(
    session: Session, bowls: tuple[PlanBowl, ...], days: tuple[Day, ...], people: int
) -> tuple[Step, ...]:
    """Return all steps by time."""
    steps: list[Step] = []
    for day in days:
        if day.bowls:
            steps += _day_steps(session, bowls, day, people)
    steps += _tray_steps(session, bowls, days)
    return tuple(sorted(steps, key=lambda s: (s.start, s.bowls, s.load or 0)))


def _day_steps(session: Session, bowls: tuple[PlanBowl, ...], day: Day, people: int) -> list[Step]:
    who = assign_hands(day.tasks, day.run.starts, people)
    clock = session.clock
    counts: dict[tuple[int, int], int] = {}
    steps = []
    for task, start, person in zip(day.tasks, day.run.starts, who, strict=True):
        load = None
        if task.station in (TABLE, PAN):
            load = counts[task.queue, task.station] = counts.get((task.queue, task.station), 0) + 1
        number = bowls[day.bowls[task.queue]].number
        moments = clock.moment(start), clock.moment(start + task.seconds)
        hand = None if person < 0 else person
        steps.append(Step(STATIONS[task.station], hand, (number,), load, *moments))
    end = day.run.end_s
    cleaning = clock.moment(end), clock.moment(end + session.cleaning_s)
    return [*steps, Step("clean", None, (), None, *cleaning)]


def _tray_steps(session: Session, bowls: tuple[PlanBowl, ...], days: tuple[Day, ...]) -> list[Step]:
    turned: dict[float, set[int]] = {}
    bagged: dict[float, set[int]] = {}
    for day in days:
        for queue, start, lies_s, _ in placed(day):
            number = bowls[day.bowls[queue]].number
            until = session.emptied_s(start, lies_s)
            bagged.setdefault(until, set()).add(number)
            for moment in session.frees_at:
                if start + SETTLE_S <= moment < until:
                    turned.setdefault(moment, set()).add(number)
    return [
        Step(what, None, tuple(sorted(numbers)), None, moment, moment)
        for what, found in (("turn", turned), ("bag", bagged))
        for seconds, numbers in found.items()
        for moment in [session.clock.moment(seconds)]
    ]
