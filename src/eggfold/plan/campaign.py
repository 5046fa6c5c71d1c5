"""A season: its calendar, which bowls on which days, when to buy and thaw, and how full the freezer is."""

from __future__ import annotations

import math
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, TypeAlias

from eggfold.amounts import counted
from eggfold.engine.dispatch import DayRun
from eggfold.engine.drying import freezer_l
from eggfold.engine.season import Effort, Limits, RollDay, Rolled, Stretch, fewest_days
from eggfold.engine.workplace import Hours
from eggfold.errors import NoAnswerError
from eggfold.load.fields import days_after
from eggfold.load.load_recipe import each_once
from eggfold.load.lots import lots_of
from eggfold.load.plan import WEEKDAYS
from eggfold.plan.in_hand import (
    InHand,
    OverTrip,
    build_in_hand,
    has_left,
    life_of,
    noted_trips,
    quantities_of,
    trips_in_order,
)
from eggfold.plan.plan_bowls import PlanBowl
from eggfold.plan.plan_cautions import bulk_cautions, plan_assumptions, plan_cautions
from eggfold.plan.purchases import Buying, build_buying, fewest_boxes
from eggfold.plan.remedies import explain_shortfall
from eggfold.plan.rolling import Room
from eggfold.plan.session import (
    DAY_S,
    DRYING_DAYS,
    Clock,
    Session,
    Workshop,
    build_workshop,
    clock_at,
    day_hours,
    moments_at,
    refuse_cleaning_alone,
    refuse_too_long_season,
)
from eggfold.plan.trip_demand import (
    Bring,
    PasteKind,
    Pastes,
    Portion,
    alternating_line,
    build_brings,
    build_portions,
    build_stretches,
    least_days,
)
from eggfold.recipe.asked import Asked, Assumption, BatchSize
from eggfold.recipe.batch import Batch, build_batch
from eggfold.recipe.bench import Bench, build_bench
from eggfold.recipe.cautions import Caution
from eggfold.records import NamedTuple
from eggfold.reference import session as default
from eggfold.reference.defaults import DEFAULT_SIZE_MM, Origin
from eggfold.stock.shopping import Total, build_cost, total_of
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from decimal import Decimal

    from eggfold.amounts import Amount
    from eggfold.load.load_plan import OpenPlan
    from eggfold.load.load_recipe import Companion
    from eggfold.load.lots import Lot
    from eggfold.load.plan import Campaign, Trip
    from eggfold.load.recipe import Strength
    from eggfold.recipe.mixing import DoseLine
    from eggfold.stock.baits import ShelfLife
    from eggfold.stock.shopping import BatchCost


MOST_TRIES = 12
"""How often a day is given less to do until its bowls really fit its hours."""
LESS = 0.95


class Piece(NamedTuple):
    """Part of a portion that one day rolls: its eggs, and whether it is ever frozen."""

    portion: int
    eggs: int
    frozen: bool


class RollingDay(NamedTuple):
    """One day of rolling: what for, in which bowls, when it ends and when its bait is bagged."""

    day: str
    pieces: tuple[Piece, ...]
    bowls: tuple[PlanBowl, ...]
    run: DayRun
    start: datetime
    end: datetime
    bagged: datetime
    soaked: datetime | None = None
    """When what is soaked is bagged after it."""


class TripPlan(NamedTuple):
    """One trip by its place in the plan: when to thaw, when to leave, and what it takes."""

    number: int
    trip: Trip
    thaw: datetime
    leave: datetime
    brings: tuple[Bring, ...]

    @property
    def portions(self) -> tuple[int, ...]:
        """The portions that are still to be rolled for it."""
        return tuple(b.portion for b in self.brings if b.portion is not None)


class WhatIf(NamedTuple):
    """What is asked beside the plan: trips left out, more bait for some, days on which nobody rolls."""

    skip: tuple[int, ...] = ()
    more: tuple[tuple[int, Amount], ...] = ()
    without: tuple[str, ...] = ()


class Instead(NamedTuple):
    """The same season without what is asked beside it: its rolling days, bait to roll, freezer, cost."""

    rolling_days: tuple[str, ...]
    finished_g: float
    freezer_l: float
    cost: Decimal | None


class Compared(NamedTuple):
    """How what is asked beside a plan changes it; ``plain`` is None where the plan alone has no answer."""

    asked: WhatIf
    plain: Instead | None


class Level(NamedTuple):
    """What lies in the freezer from a moment on [l]."""

    moment: datetime
    litres: float


class SeasonPlan(NamedTuple):
    """The answer: days, trips, levels, purchases and cards."""

    name: str
    file: str
    today: str
    zone: str | None
    turns: tuple[datetime, ...]
    people: tuple[str, ...]
    hand: InHand
    fewest: bool
    """Whether no plan has fewer rolling days, so far as that was proved."""
    portions: tuple[Portion, ...]
    days: tuple[RollingDay, ...]
    trips: tuple[TripPlan, ...]
    levels: tuple[Level, ...]
    freezer_l: Room
    trays_m2: Room
    buying: Buying
    costs: tuple[BatchCost | None, ...]
    cards: tuple[SeasonCard, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    companions: tuple[Companion, ...]
    compared: Compared | None = None

    @property
    def instead(self) -> Instead:
        """Its figures, to set beside those of another."""
        return Instead(
            tuple(day.day for day in self.days),
            sum(portion.whole.paste.finished_g for portion in self.portions),
            self.freezer_l.needed,
            self.total.cost,
        )

    @property
    def total(self) -> Total:
        """Money for all purchases, and what has no known price."""
        return total_of(item for p in self.buying.purchases for item in p.items)

    @property
    def bowls(self) -> tuple[PlanBowl, ...]:
        """Every bowl of the season, in order."""
        return tuple(bowl for day in self.days for bowl in day.bowls)

    def turnings(self, day: RollingDay) -> tuple[datetime, ...]:
        """Return when the trays of a day are turned."""
        first = day.end + timedelta(seconds=default.SETTLE_S)
        return tuple(moment for moment in self.turns if first <= moment < day.bagged)


def build_season(opened: OpenPlan[Campaign], today: str, asked: WhatIf | None = None) -> SeasonPlan:
    """Return what is left of a season on a day, the bait in hand first.

    Every recipe must be answerable; raises NoAnswerError where no choice of days makes everything
    in time.
    """
    if asked is None:
        return _season(opened, today, WhatIf())
    season = _season(opened, today, asked)
    try:
        plain = _season(opened, today, WhatIf()).instead
    except NoAnswerError:
        plain = None
    return season._replace(compared=Compared(asked, plain))


def _season(opened: OpenPlan[Campaign], today: str, asked: WhatIf) -> SeasonPlan:
    opened = _with_what_if(opened, asked)
    plan, companions = opened.plan, opened.companions
    bench = build_bench(companions.bench)
    workshop = build_workshop(plan, bench)
    workshop = workshop._replace(drying_s=_longest_drying_s(opened, workshop.drying_s))
    lots, life = lots_of(companions.shelf), life_of(plan, bench.drying_h)
    frame = _build_frame(plan, workshop, today, bench)
    pastes = Pastes(opened, frame.session)
    hand, brings = _brings(opened, pastes, today, asked.skip, lots, life)
    late = _too_late(frame, brings) if hand.lots or hand.over else frozenset()
    brings, portions = build_portions(brings, hand.served_g, pastes, late)
    frame, held = _with_hand(frame, hand, brings, pastes, life)
    stretches, days, exact = _days_that_hold(frame, portions, pastes)
    bowls = [b for d in days for b in d.bowls]
    levels = _levels(frame, days, stretches, portions, held)
    peak = max((level.litres for level in levels), default=0.0)
    trays = frame.limits.area_m2
    buying = build_buying(
        [(d.day, tuple(b.batch for b in d.bowls)) for d in days],
        plan.egg_life or default.EGG_LIFE_DAYS,
        companions.shelf,
    )
    return SeasonPlan(
        name=plan.name or "Season",
        file=opened.file,
        today=today,
        zone=plan.zone,
        turns=tuple(frame.clock.moment(s) for s in frame.session.frees_at),
        people=workshop.people,
        hand=hand,
        fewest=exact,
        portions=portions,
        days=days,
        trips=_trips(frame, plan, brings),
        levels=levels,
        freezer_l=Room(peak, bench.freezer_l),
        trays_m2=Room(_most_tray(frame, days), None if math.isinf(trays) else trays),
        buying=buying,
        costs=tuple(build_cost(portion.whole, buying.by_need) for portion in portions),
        cards=_build_cards(portions, pastes),
        cautions=(
            *bulk_cautions((p.whole.recipe, p.kind.strength, p.eggs) for p in portions),
            *plan_cautions(bowls),
        ),
        assumptions=plan_assumptions(frame.assumptions, bowls),
        companions=each_once(bring.whole.companions for bring in brings),
    )


def _longest_drying_s(opened: OpenPlan[Campaign], usual_s: float) -> float:
    """Return how long what is rolled for the trips lies at the most: what dries longer is bagged with it."""
    own = (
        amount_in(bait.drying, "s") if bait and bait.drying else usual_s
        for trip in opened.plan.trips
        for strength, quantity in quantities_of(trip)
        for bait in quantity.sizes
        or opened.recipes[quantity.recipe].recipe.baits_of(strength)
        or (None,)
    )
    return max(own, default=usual_s)


def _bagged_s(session: Session, hours: Hours, drying_s: float) -> float:
    """Return when what a day rolls is bagged, its last load laid out before the cleaning."""
    workshop = session.workshop
    laid_s = hours.closes_s - workshop.place.cleaning_s + workshop.cool_s
    return session.emptied_s(laid_s + drying_s)


def _too_late(frame: SeasonFrame, brings: Sequence[Bring]) -> frozenset[int]:
    """Return the trips that leave before any rolling day's bait is dry."""
    first = min((day.bagged_s for day in frame.roll_days), default=math.inf)
    return frozenset(b.trip for b in brings if frame.times[b.trip][1] < first)


def _with_what_if(opened: OpenPlan[Campaign], asked: WhatIf) -> OpenPlan[Campaign]:
    """Return the plan with more bait for some trips, and without some days."""
    trips = list(opened.plan.trips)
    for number, amount in asked.more:
        trip = trips[number]
        first = (trip.freebies or trip.hookbaits)[0]
        more = first.model_copy(update={"bait": amount, "count": None, "eggs": None})
        trips[number] = trip.model_copy(update={"freebies": (*trip.freebies, more)})
    not_on = (*opened.plan.not_on, *asked.without)
    plan = opened.plan.model_copy(update={"trips": tuple(trips), "not_on": not_on})
    return opened._replace(plan=plan)


def _brings(
    opened: OpenPlan[Campaign],
    pastes: Pastes,
    today: str,
    skip: Sequence[int],
    lots: Sequence[Lot],
    life: ShelfLife,
) -> tuple[InHand, tuple[Bring, ...]]:
    """Return the bait in hand, and what the trips to come take."""
    trips = opened.plan.trips
    noted = noted_trips(opened.companions.notebook)
    order = [i for i in trips_in_order(opened.plan) if i not in skip]
    left = [i for i in order if has_left(trips[i], today) or trips[i].leave in noted]
    brings = build_brings(opened, pastes, [i for i in order if i not in left])
    unnoted = [i for i in left if trips[i].leave not in noted]
    fished = build_brings(opened, pastes, unnoted)
    hand = build_in_hand(lots, [b.want for b in fished], [b.want for b in brings], life)
    over = [
        OverTrip(
            i,
            trips[i].leave,
            trips[i].name,
            noted=noted.get(trips[i].leave, False),
            booked=trips[i].leave in noted,
            under_way=trips[i].last_day >= today,
        )
        for i in left
    ]
    return hand._replace(over=tuple(over), kept=opened.companions.shelf is not None), brings


Held = tuple[tuple[float, float], ...]
"""Room in the freezer that bait in hand takes [l], and until when [s]."""


def _with_hand(
    frame: SeasonFrame,
    hand: InHand,
    brings: Sequence[Bring],
    pastes: Pastes,
    life: ShelfLife,
) -> tuple[SeasonFrame, Held]:
    """Return the calendar with the freezer and the trays that bait in hand takes."""
    units = {b.want.kind: pastes.unit(Portion(b.trip, b.kind, b.whole)) for b in brings}
    held: list[tuple[float, float]] = []
    lying: list[tuple[date, float]] = []
    for one in hand.lots:
        g, unit = one.finished_g or 0.0, units.get(one.lot.kind)
        each_l = (
            unit.freezer_l / unit.batch.paste.finished_g
            if unit
            else freezer_l(1.0, default.ANY_BAIT_G_ML)
        )
        if one.lot.state == "drying" and one.lot.made and unit:
            area = g * unit.area_m2 / unit.batch.paste.finished_g
            lying.append((one.lot.made + timedelta(life.drying), area))
        if one.lot.state in ("frozen", "drying"):
            held += [(each_l * gone, frame.times[trip][0]) for trip, gone in one.gives]
            held.append((each_l * (one.left_g or 0.0), math.inf))
    days = tuple(
        day._replace(
            held_l=sum(litres for litres, upto in held if upto > day.bagged_s),
            lying_m2=sum(area for upto, area in lying if upto >= date.fromisoformat(on)),
        )
        for day, on in zip(frame.roll_days, frame.dates, strict=True)
    )
    return frame._replace(roll_days=days), tuple(held)


def _days_that_hold(
    frame: SeasonFrame, portions: tuple[Portion, ...], pastes: Pastes
) -> tuple[tuple[Stretch, ...], tuple[RollingDay, ...], bool]:
    """Return what each portion needs, the fewest days found, and whether no fewer are possible."""
    if not portions:
        return (), (), True
    _refuse_no_day(frame, portions)
    typical = frame.hours[0]
    stretches = build_stretches(portions, pastes, frame.session, typical, frame.plan, frame.times)
    least = least_days(portions, pastes, frame.session, stretches, frame.roll_days, frame.limits)
    found = _fitted(frame, portions, pastes, stretches, tuple(range(len(portions))))
    if _number(found) > least and math.isfinite(frame.limits.area_m2):
        line = alternating_line(portions, pastes)
        if len(line) > len(portions):
            own = tuple(stretches[i]._replace(eggs=eggs) for i, eggs in line)
            mixed = _fitted(frame, portions, pastes, own, tuple(i for i, _ in line))
            found = min(found, mixed, key=_number)
    if isinstance(found, NoAnswerError):
        raise found
    return stretches, found, len(found) <= least


def _number(days: tuple[RollingDay, ...] | NoAnswerError) -> float:
    """Return how many rolling days there are, endless where there is no answer."""
    return math.inf if isinstance(days, NoAnswerError) else len(days)


def _fitted(
    frame: SeasonFrame,
    portions: tuple[Portion, ...],
    pastes: Pastes,
    stretches: tuple[Stretch, ...],
    line: tuple[int, ...],
) -> tuple[RollingDay, ...] | NoAnswerError:
    """Return the fewest days of a line whose bowls fit their hours, or why there are none.

    ``line`` names the portion of each stretch.
    """
    effort = Effort()
    for _ in range(MOST_TRIES):
        rolled = fewest_days(frame.roll_days, stretches, frame.limits, effort=effort)
        if rolled is None:
            names = [portions[i].whole.recipe for i in line]
            return NoAnswerError(
                explain_shortfall(frame.roll_days, stretches, frame.limits, frame.dates, names)
            )
        rolled = fewest_boxes(
            frame.roll_days,
            stretches,
            frame.limits,
            rolled,
            [portions[i].whole.egg.label for i in line],
            frame.dates,
            frame.plan.egg_life or default.EGG_LIFE_DAYS,
            pastes.shelf,
        )
        spans = [(stretch.eggs, i) for stretch, i in zip(stretches, line, strict=True)]
        days = _rolling_days(frame, portions, pastes, rolled, spans)
        whole = len(days) == len(rolled)
        if whole and _most_tray(frame, days) <= frame.limits.area_m2:
            return days
        stretches = tuple(_less(s, hours=not whole) for s in stretches)
    return NoAnswerError("a day is too short for its bowls; give it more hours")


Spans: TypeAlias = "Sequence[tuple[int, int]]"
"""The line of eggs: so many eggs, and of which portion."""


def _refuse_no_day(frame: SeasonFrame, portions: Sequence[Portion]) -> None:
    if not frame.dates:
        last = max(frame.plan.trips[portion.trip].leave for portion in portions)
        raise NoAnswerError(
            f"there is no day to roll on from {frame.first} to {last}: add days to roll_on, or begin "
            "with roll_from earlier"
        )


def _less(stretch: Stretch, *, hours: bool) -> Stretch:
    """Return a stretch of which a day holds a little less, by its hours or by its trays."""
    if hours:
        return stretch._replace(share=stretch.share / LESS)
    return stretch._replace(area_m2=stretch.area_m2 / LESS)


def _rolling_days(
    frame: SeasonFrame,
    portions: tuple[Portion, ...],
    pastes: Pastes,
    rolled: tuple[Rolled, ...],
    spans: Spans,
) -> tuple[RollingDay, ...]:
    """Return the days up to the first one whose bowls do not fit its hours."""
    days: list[RollingDay] = []
    for one, start in _with_start(rolled):
        day = _rolling_day(frame, portions, pastes, one, _within(spans, start, one.upto))
        if day is None:
            break
        days.append(day)
    return tuple(days)


def _with_start(rolled: tuple[Rolled, ...]) -> list[tuple[Rolled, int]]:
    starts = [0, *(r.upto for r in rolled[:-1])]
    return list(zip(rolled, starts, strict=True))


def _rolling_day(
    frame: SeasonFrame,
    portions: tuple[Portion, ...],
    pastes: Pastes,
    rolled: Rolled,
    eggs: dict[int, int],
) -> RollingDay | None:
    hours = frame.hours[rolled.day]
    drying_h = max((line.drying_h for i in eggs for line in portions[i].whole.baits), default=0.0)
    bagged_s = _bagged_s(frame.session, hours, drying_h * 3600)
    pieces = _pieces(portions, eggs, bagged_s, frame.times)
    made = pastes.day(_eggs_of_kinds(portions, pieces), hours)
    if made is None:
        return None
    clock, soak_s = frame.clock, max(bowl.batch.soak_s for bowl in made.bowls)
    return RollingDay(
        frame.dates[rolled.day],
        pieces,
        made.bowls,
        made.run,
        clock.moment(hours.opens_s),
        clock.moment(made.run.clean_s),
        clock.moment(bagged_s),
        clock.moment(bagged_s + soak_s) if soak_s else None,
    )


def _within(spans: Spans, start: int, end: int) -> dict[int, int]:
    """Return the eggs of each portion within a part of the line."""
    eggs: dict[int, int] = {}
    begin = 0
    for number, i in spans:
        own = min(end, begin + number) - max(start, begin)
        if own > 0:
            eggs[i] = eggs.get(i, 0) + own
        begin += number
    return eggs


def _pieces(
    portions: tuple[Portion, ...],
    eggs: dict[int, int],
    bagged_s: float,
    times: tuple[tuple[float, float], ...],
) -> tuple[Piece, ...]:
    """Return what a day rolls of which portions, and whether that is ever frozen."""
    pieces = []
    for i, own in eggs.items():
        ready_s = bagged_s + portions[i].whole.soak_s
        pieces.append(Piece(i, own, ready_s < times[portions[i].trip][0]))
    return tuple(pieces)


def _eggs_of_kinds(
    portions: tuple[Portion, ...], pieces: tuple[Piece, ...]
) -> dict[PasteKind, int]:
    """Return the eggs of a day by kind; pieces of one kind share bowls."""
    eggs: dict[PasteKind, int] = {}
    for piece in pieces:
        kind = portions[piece.portion].kind
        eggs[kind] = eggs.get(kind, 0) + piece.eggs
    return eggs


def _trips(frame: SeasonFrame, plan: Campaign, brings: Sequence[Bring]) -> tuple[TripPlan, ...]:
    trips = []
    for i in dict.fromkeys(b.trip for b in brings):
        thaw, leave = (frame.clock.moment(s) for s in frame.times[i])
        own = tuple(b for b in brings if b.trip == i)
        trips.append(TripPlan(i, plan.trips[i], thaw, leave, own))
    return tuple(trips)


def _levels(
    frame: SeasonFrame,
    days: Sequence[RollingDay],
    stretches: Sequence[Stretch],
    portions: Sequence[Portion],
    held: Held,
) -> tuple[Level, ...]:
    """Return how full the freezer is after each change, with what is in hand from the first day on."""
    changes: dict[datetime, float] = {}
    for litres, upto in held:
        start = frame.clock.moment(0.0)
        changes[start] = changes.get(start, 0.0) + litres
        if upto < math.inf:
            out = frame.clock.moment(max(0.0, upto))
            changes[out] = changes.get(out, 0.0) - litres
    for day in days:
        for piece in day.pieces:
            if piece.frozen:
                stretch = stretches[piece.portion]
                litres = piece.eggs * stretch.litres
                out = frame.clock.moment(stretch.thaw_s)
                soaked = day.soaked if portions[piece.portion].whole.soak_s else None
                put_in = soaked or day.bagged
                changes[put_in] = changes.get(put_in, 0.0) + litres
                changes[out] = changes.get(out, 0.0) - litres
    level = 0.0
    levels = []
    for moment in sorted(changes):
        level = max(0.0, level + changes[moment])
        levels.append(Level(moment, 0.0 if level < 1e-9 else level))
    return tuple(levels)


def _most_tray(frame: SeasonFrame, days: Sequence[RollingDay]) -> float:
    """Return the most tray in use at once."""
    in_hand = {on: one.lying_m2 for on, one in zip(frame.dates, frame.roll_days, strict=True)}
    most = 0.0
    for i, day in enumerate(days):
        lying = [d for d in days[: i + 1] if d.bagged > day.start]
        most = max(most, in_hand[day.day] + sum(b.area_m2 for d in lying for b in d.bowls))
    return most


class SeasonFrame(NamedTuple):
    """The calendar of a season: days on which bait can be rolled, and when trips thaw and leave."""

    plan: Campaign
    first: str
    clock: Clock
    session: Session
    dates: tuple[str, ...]
    hours: tuple[Hours, ...]
    roll_days: tuple[RollDay, ...]
    times: tuple[tuple[float, float], ...]
    limits: Limits
    assumptions: tuple[Assumption, ...]


def _build_frame(plan: Campaign, workshop: Workshop, today: str, bench: Bench) -> SeasonFrame:
    """Return the calendar of a plan, from today or its first rolling day to its last trip."""
    first = max(plan.roll_from or today, today)
    time = plan.start_at or default.ROLLING_STARTS_AT
    clock = clock_at(first, "00:00", plan.zone)
    dates = _possible(plan, first)
    hours = tuple(day_hours(clock, d, time, plan) for d in dates or (first,))
    cleaning_s = workshop.place.cleaning_s
    refuse_cleaning_alone(hours[0], cleaning_s)
    last = max(first, *(trip.last_day for trip in plan.trips))
    length = (date.fromisoformat(last) - date.fromisoformat(first)).days
    turns = moments_at(clock, plan.turn_at or default.TURN_AT, first, length + DRYING_DAYS)
    session = Session(clock, workshop, hours, tuple(turns))
    rolled = tuple(
        RollDay(h.opens_s, _bagged_s(session, h, workshop.drying_s)) for h in hours[: len(dates)]
    )
    life = plan.freezer_life or default.FREEZER_LIFE_DAYS
    limits = Limits(workshop.place.area_m2, bench.freezer_l or math.inf, life * DAY_S)
    assumptions = (*workshop.assumptions, *_assumptions(plan, life, time))
    times = _times(plan, clock)
    return SeasonFrame(
        plan, first, clock, session, dates, hours, rolled, times, limits, assumptions
    )


def _assumptions(plan: Campaign, life: int, time: str) -> Iterator[Assumption]:
    def told(what: str, value: str, own: object, otherwise: Origin = "house default") -> Assumption:
        return Assumption(what, value, "yours" if own else otherwise)

    practice: Origin = "common practice"
    yield told("rolling begins at", time, plan.start_at)
    yield told("frozen bait keeps", counted(life, "day"), plan.freezer_life, practice)
    eggs = plan.egg_life or default.EGG_LIFE_DAYS
    thawed, dry = plan.thawed_life, plan.dry_life
    keeps = counted(thawed or default.THAWED_LIFE_DAYS, "day")
    yield told("thawed bait keeps", keeps, thawed)
    keeps = counted(dry or default.DRY_LIFE_DAYS, "day")
    yield told("dried or fresh bait keeps", keeps, dry)
    yield told("eggs are rolled within", counted(eggs, "day"), plan.egg_life)
    thaw = amount_in(plan.thaw, "h") if plan.thaw else default.THAW_S / 3600
    yield told("out of the freezer before", f"{thaw:g} h", plan.thaw, practice)
    if any(trip.at is None for trip in plan.trips):
        yield told("a trip leaves at", default.TRIP_LEAVES_AT, own=None)


def _possible(plan: Campaign, first: str) -> tuple[str, ...]:
    """Return the dates on which bait can be rolled: right weekday, at home, not ruled out."""
    last = max(trip.leave for trip in plan.trips)
    refuse_too_long_season(
        date.fromisoformat(first), max(date.fromisoformat(d) for d in (first, last))
    )
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


class SeasonCard(NamedTuple):
    """One recipe at one strength: one egg, one bowl and the whole season."""

    one: Batch
    bowl: Batch
    season: Batch

    def per_kg_dry(self, line: DoseLine) -> tuple[float | None, float]:
        """Return an additive's millilitres, if it has any, and grams for a kilo of dry mix."""
        kilos = self.season.powder.expected_g / 1000
        ml = line.amount.ml
        return (None if ml is None else ml / kilos), line.amount.g / kilos


def _build_cards(portions: Sequence[Portion], pastes: Pastes) -> tuple[SeasonCard, ...]:
    """Return a card for each recipe and strength; sizes do not matter to it."""
    eggs: dict[tuple[str, Strength], int] = {}
    first: dict[tuple[str, Strength], Portion] = {}
    for portion in portions:
        key = (portion.kind.file, portion.kind.strength)
        eggs[key] = eggs.get(key, 0) + portion.eggs
        first.setdefault(key, portion)
    cards = []
    for key, portion in first.items():
        want = pastes.want(portion)
        in_bowl = max(1, math.floor(want.most_g / want.paste_of_one_g + 1e-9))
        cards.append(
            SeasonCard(
                *(_batch(pastes, portion.kind, n) for n in (1, min(in_bowl, eggs[key]), eggs[key]))
            )
        )
    return tuple(cards)


def _batch(pastes: Pastes, kind: PasteKind, eggs: int) -> Batch:
    """Return a batch for its doses, of any size; fixed counts of baits do not belong on the card."""
    asked = Asked(
        kind.strength, BatchSize("eggs", float(eggs)), diameter_mm=DEFAULT_SIZE_MM["hookbait"]
    )
    return build_batch(pastes.recipe(kind), asked)
