"""Planning the rest again: bowls that are done, the time now, the eggs that are left."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.schedule import Hours, Lying
from eggfold.errors import UsageProblemError
from eggfold.jobs.plans.portions import Bowl, in_best_order, split_bowls, with_sizes
from eggfold.jobs.plans.session import placed
from eggfold.plural import counted

if TYPE_CHECKING:
    from eggfold.engine.days import Day
    from eggfold.files.plan import RollingPlan
    from eggfold.files.planned import OpenPlan
    from eggfold.jobs.plans.session import Session


class Rescue(NamedTuple):
    """Where a session stands: bowls finished, the time now, and the eggs that are left."""

    done: int = 0
    now: str | None = None
    eggs_left: int | None = None


class Rest(NamedTuple):
    """What is left of a session."""

    todo: tuple[int, ...]
    bowls: tuple[Bowl, ...]
    hours: tuple[Hours, ...]
    lying: tuple[Lying, ...]
    eggs_short: int
    now_s: float = -math.inf


def build_rest(
    opened: OpenPlan[RollingPlan],
    session: Session,
    bowls: tuple[Bowl, ...],
    days: tuple[Day, ...],
    bowl_g: float,
    rescue: Rescue,
) -> Rest:
    """Return the bowls still to make with the eggs, the hours and the trays that are left."""
    if rescue.done > len(bowls):
        raise UsageProblemError(f"--done {rescue.done}: the plan has {counted(len(bowls), 'bowl')}")
    starts = {
        day.bowls[queue]: (start, lies_s, area)
        for day in days
        for queue, start, lies_s, area in reversed(placed(day))
    }
    now_s = _now_s(session, days, rescue)
    hours = tuple(
        h._replace(opens_s=max(h.opens_s, now_s)) for h in session.hours if h.closes_s > now_s
    )
    lying = []
    for i in range(rescue.done):
        begun = starts[i][0] if i in starts else now_s
        lies_s = max((load.pan_s for load in bowls[i].work.loads), default=0.0)
        lies_s += session.stages.cool_s + session.stages.drying_s
        until = session.emptied_s(min(begun, now_s), lies_s)
        lying.append(Lying(until, bowls[i].area_m2))
    todo = tuple(range(rescue.done, len(bowls)))
    if rescue.eggs_left is None:
        return Rest(todo, bowls, hours, tuple(lying), 0, now_s)
    kept, short = _with_eggs(opened, session, bowls, todo, rescue.eggs_left, bowl_g)
    todo = tuple(range(rescue.done, len(kept)))
    return Rest(todo, kept, hours, tuple(lying), short, now_s)


def _now_s(session: Session, days: tuple[Day, ...], rescue: Rescue) -> float:
    """Return the time now; without a day it is the one on which the next bowl was planned."""
    if rescue.now is None:
        return session.hours[0].opens_s
    day, _, time = rescue.now.rpartition(" ")
    if day:
        return session.clock.seconds(day, time)
    planned = (i for i, d in enumerate(days) if any(b >= rescue.done for b in d.bowls))
    on = next(planned, -1 if rescue.done else 0)
    moment = session.clock.moment(session.hours[on].opens_s)
    return session.clock.seconds(moment.date().isoformat(), time)


def _with_eggs(
    opened: OpenPlan[RollingPlan],
    session: Session,
    bowls: tuple[Bowl, ...],
    todo: tuple[int, ...],
    eggs_left: int,
    bowl_g: float,
) -> tuple[tuple[Bowl, ...], int]:
    """Return the bowls that the eggs allow, the last one smaller where it must, and the eggs short."""
    kept = list(bowls[: todo[0]] if todo else bowls)
    left = eggs_left
    for i in todo:
        bowl = bowls[i]
        eggs = min(left, bowl.batch.eggs)
        if eggs == bowl.batch.eggs:
            kept.append(bowl)
        elif eggs:
            wanted = opened.plan.bowls[bowl.want]
            recipe = with_sizes(opened.recipes[wanted.recipe], wanted.strength, wanted.sizes)
            made = split_bowls(recipe, bowl.batch, eggs, bowl_g, first=bowl.number, want=bowl.want)
            ordered = in_best_order(made, session.stages, session.shop)
            kept += [b._replace(number=bowl.number) for b in ordered]
        left -= eggs
    needed = sum(bowls[i].batch.eggs for i in todo)
    return tuple(kept), max(0, needed - eggs_left)
