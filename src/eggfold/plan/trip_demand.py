"""What the trips of a season take: eggs of each recipe, and what one egg needs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from eggfold.amounts import Amount
from eggfold.engine.day_plan import RULE_EVALUATIONS, plan_day, run_day
from eggfold.engine.dispatch import DayRun, DaySetting
from eggfold.engine.season import Limits, Stretch, fewest_days
from eggfold.errors import NoAnswerError
from eggfold.plan.in_hand import quantities_of, want_of
from eggfold.plan.plan_bowls import (
    Divisible,
    PlanBowl,
    bowl_work,
    build_bowl,
    most_paste_g,
    split_bowls,
    split_evenly,
    whole_batch,
    with_sizes,
)
from eggfold.plan.session import refuse_too_many_portions, standing_text
from eggfold.records import NamedTuple
from eggfold.reference.session import ENOUGH, SMALLER_BOWLS
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from eggfold.engine.dispatch import Choices
    from eggfold.engine.season import RollDay
    from eggfold.engine.workplace import Hours
    from eggfold.load.load_plan import OpenPlan
    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.plan import Campaign, Quantity
    from eggfold.load.recipe import Bait, Strength
    from eggfold.plan.session import Session
    from eggfold.recipe.batch import Batch
    from eggfold.stock.baits import Want


class PasteKind(NamedTuple):
    """One paste rolled to one set of sizes: what can share a bowl."""

    file: str
    strength: Strength
    sizes: tuple[Bait, ...] | None


class Portion(NamedTuple):
    """One thing that one trip takes."""

    trip: int
    kind: PasteKind
    whole: Batch

    @property
    def eggs(self) -> int:
        """Its eggs' worth."""
        return self.whole.eggs


class DayBowls(NamedTuple):
    """The bowls of one day in the order in which they are made, and how.

    The run names bowls and loads by their places as written.
    """

    bowls: tuple[PlanBowl, ...]
    run: DayRun


class Pastes:
    """The recipes of a season and the bowls of its days, each worked out once."""

    def __init__(self, opened: OpenPlan[Campaign], session: Session) -> None:
        self._recipes = {recipe.file: recipe for recipe in opened.recipes.values()}
        self._drying = opened.plan.drying
        self.shelf = opened.companions.shelf
        place = session.place._replace(area_m2=math.inf)
        self._session = session._replace(workshop=session.workshop._replace(place=place))
        self._wholes: dict[tuple[PasteKind, object], Batch] = {}
        self._wants: dict[PasteKind, Divisible] = {}
        self._unit: dict[PasteKind, PlanBowl] = {}
        self._days: dict[object, tuple[tuple[PlanBowl, ...], Choices] | None] = {}

    def recipe(self, kind: PasteKind) -> OpenRecipe:
        """Return a recipe with the sizes of a kind."""
        return with_sizes(self._recipes[kind.file], kind.strength, kind.sizes)

    def whole(self, kind: PasteKind, quantity: Quantity) -> Batch:
        """Return a quantity as one batch."""
        key = (kind, (quantity.bait, quantity.count, quantity.eggs))
        if key not in self._wholes:
            self._wholes[key] = whole_batch(
                self._recipes[kind.file],
                kind.strength,
                quantity,
                self._drying,
                self._session.workshop.pan_l,
            )
        return self._wholes[key]

    def want(self, portion: Portion) -> Divisible:
        """Return all of the first portion of a kind, as what is split into bowls."""
        kind, whole = portion.kind, portion.whole
        if kind not in self._wants:
            grams = most_paste_g(whole, self._session)
            self._wants[kind] = Divisible(self.recipe(kind), whole, whole.eggs, grams)
        return self._wants[kind]

    def unit(self, portion: Portion) -> PlanBowl:
        """Return all of the first portion of a kind as one bowl, to take an egg's share of."""
        if portion.kind not in self._unit:
            self._unit[portion.kind] = build_bowl(0, 0, portion.whole, self._session.workshop)
        return self._unit[portion.kind]

    def day(self, eggs: dict[PasteKind, int], hours: Hours) -> DayBowls | None:
        """Return a day with so many eggs of some kinds, each wanted before; None where its hours do not hold them."""
        opens = hours.opens_s
        breaks = tuple((start - opens, end - opens) for start, end in hours.breaks)
        key = (tuple(eggs.items()), hours.closes_s - opens, breaks)
        if key not in self._days:
            self._days[key] = self._planned(eggs, hours)
        found = self._days[key]
        if found is None:
            return None
        bowls, choices = found
        run = run_day([bowl.work for bowl in bowls], self._session.setting(hours), choices)
        if run is None or run.broken:
            return None
        ordered = (bowls[i].made_as(choices.loads[i]) for i in choices.order)
        return DayBowls(tuple(b._replace(number=n + 1) for n, b in enumerate(ordered)), run)

    def _planned(
        self, eggs: dict[PasteKind, int], hours: Hours
    ) -> tuple[tuple[PlanBowl, ...], Choices] | None:
        wants = [self._wants[kind]._replace(eggs=n) for kind, n in eggs.items()]
        bowls: list[PlanBowl] = []
        for i, (want, each) in enumerate(
            zip(wants, split_evenly(self._session, wants, (hours,)), strict=True)
        ):
            bowls += split_bowls(want, each, self._session.workshop, first=1, place=i)
        run = plan_day([bowl.work for bowl in bowls], self._session.setting(hours))
        return (tuple(bowls), run.choices) if run and not run.broken else None


class Bring(NamedTuple):
    """One thing that a trip takes: all of it as one batch, and what of it is in hand [g]."""

    trip: int
    kind: PasteKind
    quantity: Quantity
    whole: Batch
    want: Want
    in_hand_g: float = 0.0
    portion: int | None = None
    """Which portion is still to be rolled for it."""
    missing_g: float = 0.0
    """What is missing though it is too late to roll it [g]."""


def build_brings(
    opened: OpenPlan[Campaign], pastes: Pastes, trips: Sequence[int]
) -> tuple[Bring, ...]:
    """Return everything that some trips take."""
    plan = opened.plan
    refuse_too_many_portions(sum(len(t.freebies) + len(t.hookbaits) for t in plan.trips))
    found = []
    for i in trips:
        for strength, quantity in quantities_of(plan.trips[i]):
            kind = PasteKind(opened.recipes[quantity.recipe].file, strength, quantity.sizes)
            whole = pastes.whole(kind, quantity)
            found.append(Bring(i, kind, quantity, whole, want_of(plan, i, quantity, whole)))
    return tuple(found)


def build_portions(
    brings: Sequence[Bring],
    served_g: Sequence[float],
    pastes: Pastes,
    late: frozenset[int] = frozenset(),
) -> tuple[tuple[Bring, ...], tuple[Portion, ...]]:
    """Return what trips take with what is in hand, and what is still to be rolled for it.

    What is in hand to within 5 % is enough; for trips that are too ``late`` nothing can be rolled.
    """
    found: list[Bring] = []
    portions: list[Portion] = []
    for bring, g in zip(brings, served_g, strict=True):
        short = g < ENOUGH * bring.want.need_g
        if short and bring.trip in late:
            found.append(bring._replace(in_hand_g=g, missing_g=bring.want.need_g - g))
            continue
        found.append(bring._replace(in_hand_g=g, portion=len(portions) if short else None))
        if short:
            whole = pastes.whole(bring.kind, _less(bring, g)) if g else bring.whole
            portions.append(Portion(bring.trip, bring.kind, whole))
    return tuple(found), tuple(portions)


def _less(bring: Bring, g: float) -> Quantity:
    """Return a quantity without what is in hand."""
    left, quantity = 1 - g / bring.want.need_g, bring.quantity
    if quantity.bait is not None:
        rest = Amount(round(bring.want.need_g - g, 3), "g")
        return quantity.model_copy(update={"bait": rest})
    key = "eggs" if quantity.count is None else "count"
    whole = getattr(quantity, key) or 1
    return quantity.model_copy(update={key: max(1, math.ceil(whole * left - 1e-6))})


def _day_eggs(want: Divisible, session: Session, hours: Hours) -> int:
    """Return how many eggs of one paste a day makes, its trays aside."""
    bowls = (hours.closes_s - hours.opens_s) / _full_bowl_s(want, session)
    low, high = 0, math.ceil(bowls * want.most_g / want.paste_of_one_g) + 1
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if _fits(want, middle, session, hours) else (low, middle - 1)
    return low


def _full_bowl_s(want: Divisible, session: Session) -> float:
    """Return how long a full bowl keeps the busier of hands and tables."""
    full = bowl_work(want.whole, session.workshop, want.most_g / want.whole.paste.mass_g)
    place = session.place
    roll_s = sum(load.roll_s for load in full.loads)
    return max(full.hands_s(place.pans) / place.people, roll_s / place.tables)


def _fits(want: Divisible, eggs: int, session: Session, hours: Hours) -> bool:
    """Tell whether a day holds so many eggs in the fewest bowls or a few more, its trays aside."""
    setting = DaySetting(session.place._replace(area_m2=math.inf), hours)
    for more in range(SMALLER_BOWLS + 1):
        works = [
            bowl_work(want.whole, session.workshop, n / want.whole.eggs)
            for n in want._replace(eggs=eggs).eggs_of_bowls(more)
        ]
        run = plan_day(works, setting, evaluations=RULE_EVALUATIONS)
        if run and not run.broken:
            return True
    return False


def _too_short(want: Divisible, session: Session) -> str:
    """Return why a day does not hold one egg of a paste."""
    batch = want.whole
    work = bowl_work(batch, session.workshop, 1 / batch.eggs)
    setting = DaySetting(session.place._replace(area_m2=math.inf))
    run = plan_day([work], setting, evaluations=RULE_EVALUATIONS)
    if run and run.broken:
        return standing_text(session, batch, 1, run.broken[0].limit)
    return f"a day is too short for one egg of {batch.recipe}: more hours, or a higher most"


def build_stretches(
    portions: Sequence[Portion],
    pastes: Pastes,
    session: Session,
    hours: Hours,
    plan: Campaign,
    times: Sequence[tuple[float, float]],
) -> tuple[Stretch, ...]:
    """Return the season's line of eggs; ``times`` are when each trip thaws and leaves [s]."""
    shares: dict[PasteKind, float] = {}
    day_most_g = amount_in(plan.most, "g") if plan.most else math.inf
    stretches = []
    for portion in portions:
        unit = pastes.unit(portion)
        whole = unit.batch
        if portion.kind not in shares:
            want = pastes.want(portion)
            made = _day_eggs(want, session, hours)
            by_mass = whole.paste.finished_g / whole.eggs / day_most_g
            if not made or by_mass > 1:
                raise NoAnswerError(_too_short(want, session))
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
    return tuple(_soaked(stretches, portions))


def _soaked(stretches: Sequence[Stretch], portions: Sequence[Portion]) -> Iterator[Stretch]:
    """Yield the line of eggs, each due so much earlier that its soak is taken up when its trip leaves.

    What is rolled before what is due no later is due then too.
    """
    due = [
        stretch.leave_s - portion.whole.soak_s
        for stretch, portion in zip(stretches, portions, strict=True)
    ]
    for i, stretch in enumerate(stretches):
        yield stretch._replace(leave_s=min(due[i:]))


def alternating_line(portions: Sequence[Portion], pastes: Pastes) -> tuple[tuple[int, int], ...]:
    """Return the line of eggs with the mixes of each trip in alternating bowls: portion and eggs."""
    line: list[tuple[int, int]] = []
    for trip in dict.fromkeys(portion.trip for portion in portions):
        own = [i for i, portion in enumerate(portions) if portion.trip == trip]
        bowls: list[tuple[float, int, int]] = []
        for i in own:
            want = pastes.want(portions[i])
            eggs = want._replace(eggs=portions[i].eggs).eggs_of_bowls(0)
            bowls += [((n + 0.5) / len(eggs), i, each) for n, each in enumerate(eggs)]
        line += [(i, each) for _, i, each in sorted(bowls)]
    return tuple(line)


def least_days(
    portions: Sequence[Portion],
    pastes: Pastes,
    session: Session,
    stretches: Sequence[Stretch],
    days: Sequence[RollDay],
    limits: Limits,
) -> int:
    """Return a number of rolling days that none can do with fewer, in whatever order a trip's mixes come.

    Hours, trays and freezer are each looked at alone, the trips' sums rolled in any parts, and the hours by
    the busiest station, so that nothing is asked of a day that a day must not hold.
    """
    hours_s = max(h.closes_s - h.opens_s for h in session.hours)
    shares = [
        _least_share(pastes.want(p), s, session, hours_s)
        for p, s in zip(portions, stretches, strict=True)
    ]
    bounds = [_days_of(portions, stretches, days, shares, 1.0, limits.life_s)]
    if math.isfinite(limits.area_m2):
        areas = [s.area_m2 for s in stretches]
        bounds.append(_days_of(portions, stretches, days, areas, limits.area_m2, limits.life_s))
    return max(bounds)


PARTS = 1000
"""Parts into which a trip is cut for the bound, so that whole eggs do not matter."""


def _days_of(
    portions: Sequence[Portion],
    stretches: Sequence[Stretch],
    days: Sequence[RollDay],
    units: Sequence[float],
    most: float,
    life_s: float,
) -> int:
    """Return the fewest days that hold so many units for each egg, everything else aside."""
    whole: dict[int, float] = {}
    for portion, unit in zip(portions, units, strict=True):
        whole[portion.trip] = whole.get(portion.trip, 0.0) + portion.eggs * unit
    first = {p.trip: s for p, s in zip(reversed(portions), reversed(stretches), strict=True)}
    share = max(units) / most  # an egg more or less a day is no proof
    line = [
        Stretch(
            PARTS, total / PARTS / most / (1 + share), 0.0, 0.0, first[t].thaw_s, first[t].leave_s
        )
        for t, total in whole.items()
    ]
    rolled = fewest_days(days, line, Limits(life_s=life_s))
    return len(rolled) if rolled else 0


def _least_share(want: Divisible, stretch: Stretch, session: Session, hours_s: float) -> float:
    """Return the least share of a day that one egg takes, by the hands or the tables alone."""
    bowl_s = _full_bowl_s(want, session)
    return min(stretch.share, bowl_s / hours_s * want.paste_of_one_g / want.most_g)
