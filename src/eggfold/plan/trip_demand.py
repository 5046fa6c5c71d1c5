"""What the trips of a season take: eggs of each recipe, and what one egg needs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.days import fit_day
from eggfold.engine.flow import bounds
from eggfold.engine.schedule import Shop
from eggfold.engine.season import Stretch
from eggfold.engine.session import Stages, Work, session_tasks
from eggfold.errors import NoAnswerError
from eggfold.plan.plan_bowls import (
    PlanBowl,
    build_bowl,
    in_best_order,
    split_bowls,
    whole_batch,
    with_sizes,
)
from eggfold.plan.plan_size import MOST_LOADS, hold_portions
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from eggfold.engine.schedule import Hours
    from eggfold.load.load_plan import OpenPlan
    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.plan import Campaign, Quantity
    from eggfold.load.recipe import Bait, Strength
    from eggfold.load.shelf import OpenShelf
    from eggfold.plan.session import Session
    from eggfold.recipe.batch import Batch


class Kind(NamedTuple):
    """One paste rolled to one set of sizes: what can share a bowl."""

    file: str
    strength: Strength
    sizes: tuple[Bait, ...] | None


class Portion(NamedTuple):
    """One thing that one trip takes."""

    trip: int
    kind: Kind
    whole: Batch

    @property
    def eggs(self) -> int:
        """Its eggs' worth."""
        return self.whole.eggs


class Pastes:
    """The recipes of a season, each worked out once."""

    def __init__(
        self, opened: OpenPlan[Campaign], bowl_g: float, stages: Stages, shop: Shop
    ) -> None:
        self._recipes = {recipe.file: recipe for recipe in opened.recipes.values()}
        self._drying = opened.plan.drying
        self._bowl_g = bowl_g
        self._stages = stages
        self._shop = shop
        self._bowls: dict[tuple[Kind, int], tuple[PlanBowl, ...]] = {}
        self._wholes: dict[tuple[Kind, object], Batch] = {}
        self._unit: dict[Kind, PlanBowl] = {}

    @property
    def shelf(self) -> OpenShelf | None:
        """The shelf beside the recipes."""
        return next(iter(self._recipes.values())).companions.shelf

    def recipe(self, kind: Kind) -> OpenRecipe:
        """Return a recipe with the sizes of a kind."""
        return with_sizes(self._recipes[kind.file], kind.strength, kind.sizes)

    def whole(self, kind: Kind, quantity: Quantity) -> Batch:
        """Return a quantity as one batch."""
        key = (kind, (quantity.bait, quantity.count, quantity.eggs))
        if key not in self._wholes:
            self._wholes[key] = whole_batch(
                self._recipes[kind.file], kind.strength, quantity, self._drying
            )
        return self._wholes[key]

    def bowls(self, kind: Kind, eggs: int, whole: Batch) -> tuple[PlanBowl, ...]:
        """Return so many eggs of a kind as bowls."""
        key = (kind, eggs)
        if key not in self._bowls:
            recipe = self.recipe(kind)
            made = split_bowls(recipe, whole, eggs, self._bowl_g, first=1, want=0)
            self._bowls[key] = in_best_order(made, self._stages, self._shop)
        return self._bowls[key]

    def unit(self, portion: Portion) -> PlanBowl:
        """Return all of the first portion of a kind as one bowl, to take an egg's share of."""
        if portion.kind not in self._unit:
            self._unit[portion.kind] = build_bowl(0, 0, portion.whole)
        return self._unit[portion.kind]

    def full_bowl(self, portion: Portion) -> tuple[Work, int]:
        """Return the largest bowl of a portion's paste, as work, and its eggs."""
        paste = portion.whole.paste.mass_g / portion.eggs
        eggs = max(1, math.floor(self._bowl_g / paste + 1e-9))
        made = self.bowls(portion.kind, eggs, portion.whole)
        return made[0].work, eggs


def build_portions(opened: OpenPlan[Campaign], pastes: Pastes) -> tuple[Portion, ...]:
    """Return everything that the trips take, in the order in which they leave."""
    trips = opened.plan.trips
    hold_portions(sum(len(t.freebies) + len(t.hookbaits) for t in trips))
    order = sorted(range(len(trips)), key=lambda i: (trips[i].leave, trips[i].at or "", i))
    found = []
    for i in order:
        wanted: list[tuple[Strength, Quantity]] = [("freebie", q) for q in trips[i].freebies]
        wanted += [("hookbait", q) for q in trips[i].hookbaits]
        for strength, quantity in wanted:
            file = opened.recipes[quantity.recipe].file
            kind = Kind(file, strength, quantity.sizes)
            found.append(Portion(i, kind, pastes.whole(kind, quantity)))
    return tuple(found)


def day_eggs(work: Work, eggs: int, session: Session, hours: Hours) -> int:
    """Return how many eggs of one paste a day makes: full bowls, and a last one of fewer loads."""
    each = len(work.loads)
    low, high = 0, min(MOST_LOADS, each * _more_than_fit(work, session, hours))
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if _fits(work, middle, session, hours) else (low, middle - 1)
    return eggs * low // each


def _more_than_fit(work: Work, session: Session, hours: Hours) -> int:
    """Return a number of bowls that no day can hold."""
    found = bounds(session_tasks([work], session.stages), session.shop)
    busiest = max(bound.work_s for bound in found)
    return math.ceil((hours.closes_s - hours.opens_s) / busiest) + 1


def _fits(work: Work, loads: int, session: Session, hours: Hours) -> bool:
    """Tell whether a day holds so many loads in full bowls and a last one, its trays aside."""
    bowls, rest = divmod(loads, len(work.loads))
    works = [work] * bowls
    if rest:
        works.append(work._replace(loads=work.loads[:rest]))
    roomy = session.shop._replace(area_m2=math.inf)
    return fit_day(works, session.stages, roomy, hours) is not None


def build_stretches(
    portions: Sequence[Portion],
    pastes: Pastes,
    session: Session,
    hours: Hours,
    plan: Campaign,
    times: Sequence[tuple[float, float]],
) -> tuple[Stretch, ...]:
    """Return the season's line of eggs; ``times`` are when each trip thaws and leaves [s]."""
    shares: dict[Kind, float] = {}
    most_g = amount_in(plan.most, "g") if plan.most else math.inf
    stretches = []
    for portion in portions:
        unit = pastes.unit(portion)
        whole = unit.batch
        if portion.kind not in shares:
            made = day_eggs(*pastes.full_bowl(portion), session, hours)
            by_mass = whole.paste.finished_g / whole.eggs / most_g
            if not made or by_mass > 1:
                raise NoAnswerError(
                    f"a day is too short for one egg of {whole.recipe}: more hours, or a higher most"
                )
            shares[portion.kind] = max(1 / made, by_mass)
        thaw_s, leave_s = times[portion.trip]
        stretches.append(
            Stretch(
                portion.eggs,
                shares[portion.kind],
                unit.area_m2 / whole.eggs,
                unit.freezer_l / whole.eggs,
                thaw_s,
                leave_s,
            )
        )
    return tuple(stretches)
