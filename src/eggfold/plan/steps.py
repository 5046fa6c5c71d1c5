"""Who does what when: every step of the days, and the turning and bagging that follow."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.days import Day
from eggfold.engine.flow import assign_hands
from eggfold.engine.session import PAN, STATIONS, TABLE
from eggfold.plan.session import placed
from eggfold.reference.session import SETTLE_S

if TYPE_CHECKING:
    from eggfold.plan.plan_bowls import Bowl
    from eggfold.plan.session import Session


class Step(NamedTuple):
    """One thing to do: mix, rest, roll, boil, clean, turn or bag; who, for which bowls and load."""

    what: str
    who: int | None
    bowls: tuple[int, ...]
    load: int | None
    start: datetime
    end: datetime


def build_steps(
    session: Session, bowls: tuple[Bowl, ...], days: tuple[Day, ...], people: int
) -> tuple[Step, ...]:
    """Return all steps by time."""
    steps: list[Step] = []
    for day in days:
        if day.bowls:
            steps += _day_steps(session, bowls, day, people)
    steps += _tray_steps(session, bowls, days)
    return tuple(sorted(steps, key=lambda s: (s.start, s.bowls, s.load or 0)))


def _day_steps(session: Session, bowls: tuple[Bowl, ...], day: Day, people: int) -> list[Step]:
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


def _tray_steps(session: Session, bowls: tuple[Bowl, ...], days: tuple[Day, ...]) -> list[Step]:
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
