"""The season: rolling days, trips, freezer, buying, and a card for each recipe."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING

from eggfold.pages.basis import basis_blocks
from eggfold.pages.display import quart_ml, shows_metric, units_lines
from eggfold.pages.figures import (
    amount_text,
    area_text,
    eggs_text,
    mass_text,
    measure_text,
    price_text,
    room_text,
    worth_text,
)
from eggfold.pages.page import Block, Column, Facts, Lines, Page, Plot, Table
from eggfold.pages.rolling import care_lines, first_cautions
from eggfold.pages.rolling_screen import short_text
from eggfold.pages.shopping import NONE, buy_heading, packs_text, stock_remarks, unpriced_remarks
from eggfold.pages.times import day_text, full_day_text, moment_text, time_on_text, time_text
from eggfold.plural import counted

if TYPE_CHECKING:
    from collections.abc import Iterator

    from eggfold.plan.campaign import RollingDay, SeasonCard, SeasonPlan, TripPlan
    from eggfold.plan.purchases import DatedPurchase
    from eggfold.plan.trip_demand import Portion
    from eggfold.stock.cost import BatchCost
    from eggfold.stock.shopping import ShoppingItem


def campaign_page(season: SeasonPlan, *, why: bool = False, full: bool = True) -> Page:
    """Return a season: what comes next and every trip, and where it is ``full`` all tables too."""
    days, trips = len(season.days), len(season.trips)
    aside = f"{counted(trips, 'trip')}, {counted(days, 'rolling day')}"
    blocks: list[Block] = [*units_lines()]
    blocks += _full_blocks(season, why=why) if full or why else _screen_blocks(season)
    return Page(season.name, aside, tuple(blocks), first_cautions(season.cautions))


def _screen_blocks(season: SeasonPlan) -> Iterator[Block]:
    """Yield the first screen: what to do up to the next trip, the trips, and what to watch."""
    yield Facts("NEXT", tuple((when, what) for _, when, what in sorted(_next(season))))
    yield _trips_in_short(season)
    yield Facts("", tuple(_watched(season)))


def _next(season: SeasonPlan) -> Iterator[tuple[datetime, str, str]]:
    """Yield what is to be done until the next trip leaves: when, and what."""
    trip = season.trips[0]
    zone = trip.leave.tzinfo
    for purchase in season.buying.purchases:
        by = datetime.fromisoformat(purchase.day).replace(tzinfo=zone)
        if by < trip.leave and (short := short_text(purchase.items)):
            yield by, day_text(by), f"buy {short}"
    for day in season.days:
        if day.start >= trip.leave:
            break
        yield day.start, day_text(day.start), f"roll {_rolled_text(day)}"
        yield day.bagged, moment_text(day.bagged), "bag and freeze what is dry"
    taken = [(j, season.portions[j]) for j in trip.portions]
    frozen = {p.portion for day in season.days for p in day.pieces if p.frozen}
    if out := [portion for j, portion in taken if j in frozen]:
        what = ", ".join(_portion_text(p) for p in out)
        yield trip.thaw, moment_text(trip.thaw), f"out of the freezer: {what}"
    yield trip.leave, moment_text(trip.leave), f"leave for {_mark_name(trip)}"


def _rolled_text(day: RollingDay) -> str:
    mass: dict[str, float] = {}
    for bowl in day.bowls:
        name = f"{bowl.batch.recipe}, {bowl.batch.strength}"
        mass[name] = mass.get(name, 0.0) + bowl.batch.paste.finished_g
    each = "; ".join(f"{mass_text(g)} {name}" for name, g in mass.items())
    bowls = counted(len(day.bowls), "bowl")
    return f"{each}: {bowls}, {time_text(day.start)} to {time_text(day.end)}"


def _portion_text(portion: Portion) -> str:
    whole = portion.whole
    return f"{mass_text(whole.paste.finished_g)} {whole.recipe}, {portion.kind.strength}"


def _trips_in_short(season: SeasonPlan) -> Table:
    """Return what each trip takes and when it is rolled."""
    columns = (Column("Leave"), Column("trip"), Column("takes"), Column("roll"))
    rows = []
    for trip in season.trips:
        for i, j in enumerate(trip.portions):
            rolled = [day for day in season.days if any(p.portion == j for p in day.pieces)]
            head = ("", "") if i else (day_text(trip.leave), trip.trip.name or "")
            days = ", ".join(day_text(day.start) for day in rolled)
            rows.append((*head, _portion_text(season.portions[j]), days))
    return Table("TRIPS", columns, tuple(rows))


def _watched(season: SeasonPlan) -> Iterator[tuple[str, str]]:
    """Yield how full the freezer and the trays get, the usual care, and where more stands."""
    freezer, trays = season.freezer_l, season.trays_m2
    if season.levels:
        fullest = max(season.levels, key=lambda level: level.litres)
        have = "" if freezer.have is None else f" of {room_text(freezer.have)}"
        yield "FREEZER", f"fullest {room_text(freezer.needed)}{have} on {day_text(fullest.moment)}"
    have = "" if trays.have is None else f" of {area_text(trays.have)}"
    yield "TRAYS", f"{area_text(trays.needed)}{have} at once"
    yield "CARE", "Bag when dry; thaw once, in the cool. Allergens and the usual care: --full"
    yield (
        "MORE",
        "Every day's bowls, all dates, packs, the freezer's level, cards: --full, or on paper.",
    )


def _full_blocks(season: SeasonPlan, *, why: bool) -> Iterator[Block]:
    """Yield all tables."""
    yield from (_facts(season), _days(season), _trips(season))
    if season.levels:
        yield _freezer(season)
    yield from _buying(season)
    yield from map(_card, season.cards)
    yield care_lines(season.cautions)
    if why:
        from eggfold.pages.why_plans import campaign_sums  # noqa: PLC0415 - few ask for the sums

        yield Lines("HOW EACH FIGURE CAME ABOUT", tuple(campaign_sums(season)))
    yield from basis_blocks(season, why=why)


def portions_worth(portions: list[Portion]) -> str:
    """Return what some portions are as kilos, baits and eggs' worth together."""
    return worth_text(
        sum(p.whole.paste.finished_g for p in portions),
        sum(line.count for p in portions for line in p.whole.baits),
        sum(p.eggs for p in portions),
    )


def _facts(season: SeasonPlan) -> Facts:
    rows = [("In all", portions_worth(list(season.portions)))]
    if season.days:
        first, last = (date.fromisoformat(season.days[i].day) for i in (0, -1))
        span = (
            full_day_text(first) if first == last else f"{day_text(first)} to {full_day_text(last)}"
        )
        rows.append(("Rolling days", f"{len(season.days)}, the fewest there can be: {span}"))
    freezer, trays = season.freezer_l, season.trays_m2
    have = "" if freezer.have is None else f" of {room_text(freezer.have)}"
    rows.append(("Freezer", f"{room_text(freezer.needed)}{have} at its fullest"))
    have = "" if trays.have is None else f" of {area_text(trays.have)}"
    rows.append(("Trays", f"{area_text(trays.needed)}{have} at once"))
    return Facts("SEASON", tuple(rows))


def _days(season: SeasonPlan) -> Table:
    columns = (
        Column("Roll on"),
        Column("bowls"),
        Column("dried", "right"),
        Column("clean by"),
        Column("bag"),
    )
    return Table("ROLLING", columns, tuple(row for day in season.days for row in _day_rows(day)))


def _day_rows(day: RollingDay) -> Iterator[tuple[str, ...]]:
    groups: dict[int, list[int]] = {}
    mass: dict[int, float] = {}
    names: dict[int, str] = {}
    for bowl in day.bowls:
        groups.setdefault(bowl.want, []).append(bowl.batch.eggs)
        mass[bowl.want] = mass.get(bowl.want, 0.0) + bowl.batch.paste.finished_g
        names[bowl.want] = f"{bowl.batch.recipe}, {bowl.batch.strength}"
    for i, (want, eggs) in enumerate(groups.items()):
        rolled = date.fromisoformat(day.day)
        bag = moment_text(day.bagged)
        if day.soaked:
            bag = f"soak {bag}, bag {moment_text(day.soaked)}"
        head = (day_text(rolled), time_on_text(day.end, rolled), bag)
        when, clean, bag = ("", "", "") if i else head
        text = f"{names[want]}: {_bowls_of(eggs)}"
        yield when, text, mass_text(mass[want]), clean, bag


def _bowls_of(eggs: list[int]) -> str:
    """Return equal bowls and the odd one that follows them."""
    number, last = len(eggs), eggs[-1]
    if last == eggs[0]:
        return f"{counted(number, 'bowl')} of {eggs_text(last)}"
    return f"{counted(number - 1, 'bowl')} of {eggs_text(eggs[0])}, one of {eggs_text(last)}"


def _trips(season: SeasonPlan) -> Table:
    columns = [Column("Leave, thaw"), Column("trip and what it takes")]
    columns += [Column(head, "right") for head in ("dried", "baits", "eggs")]
    rows = [row for trip in season.trips for row in _trip_rows(season, trip)]
    currency = next((cost.currency for cost in season.costs if cost), None)
    if currency:
        columns.append(Column(f"material, {currency}", "right"))
    else:
        rows = [row[:-1] for row in rows]
    return Table("TRIPS", tuple(columns), tuple(rows))


def _trip_rows(season: SeasonPlan, trip: TripPlan) -> Iterator[tuple[str, ...]]:
    costs = [season.costs[j] for j in trip.portions]
    back = (
        "" if trip.trip.back is None else f", back {day_text(date.fromisoformat(trip.trip.back))}"
    )
    name = f"{trip.trip.name or 'trip'}{back}"
    yield moment_text(trip.leave), name, "", "", "", _cost_text(costs)
    for j in trip.portions:
        portion, whole = season.portions[j], season.portions[j].whole
        yield (
            _thaw(season, j, trip),
            f"{whole.recipe}, {portion.kind.strength}",
            mass_text(whole.paste.finished_g),
            f"{sum(line.count for line in whole.baits):,}",
            f"{portion.eggs}",
            "",
        )


def _cost_text(costs: list[BatchCost | None]) -> str:
    """Return what the material of a trip costs, from which on where a price is not known."""
    known = [cost for cost in costs if cost]
    if not known:
        return NONE
    whole = len(known) == len(costs) and not any(cost.unpriced for cost in known)
    price = price_text(sum((c.material for c in known), Fraction(0)), "").rstrip()
    return price if whole else f"from {price}"


def _thaw(season: SeasonPlan, portion: int, trip: TripPlan) -> str:
    """Return when to take a portion out of the freezer, and how much never goes in."""
    pieces = [p for day in season.days for p in day.pieces if p.portion == portion]
    frozen = sum(p.eggs for p in pieces if p.frozen)
    fresh = sum(p.eggs for p in pieces if not p.frozen)
    if not frozen:
        return "fresh, not frozen"
    text = moment_text(trip.thaw)
    return f"{text}; {eggs_text(fresh)} fresh, not frozen" if fresh else text


def _freezer(season: SeasonPlan) -> Plot:
    """Return how full the freezer is, day by day from the first bagging."""
    start = season.levels[0].moment
    unit, size_l = ("litres", 1.0) if shows_metric() else ("quarts", quart_ml() / 1000)
    points = [
        ((level.moment - start) / timedelta(days=1), level.litres / size_l)
        for level in season.levels
    ]
    marks = tuple(
        (
            (trip.thaw - start) / timedelta(days=1),
            _level_at(season, trip) / size_l,
            _mark_name(trip),
        )
        for trip in season.trips
        if trip.thaw >= start
    )
    return Plot("FREEZER", f"days from {day_text(start)}", unit, tuple(points), marks, stepped=True)


def _mark_name(trip: TripPlan) -> str:
    return trip.trip.name or day_text(date.fromisoformat(trip.trip.leave))


def _level_at(season: SeasonPlan, trip: TripPlan) -> float:
    """Return the level just before a trip's bait is taken out."""
    before = [level.litres for level in season.levels if level.moment < trip.thaw]
    return before[-1] if before else 0.0


def _buying(season: SeasonPlan) -> Iterator[Block]:
    """Yield what to buy when, what it costs, and what is to be known of the stock behind it."""
    total, purchases = season.total, season.buying.purchases
    items = [item for purchase in purchases for item in purchase.items]
    stocked = any(item.on_shelf for item in items)
    columns = [Column("Buy by"), Column("what"), Column("need", "right")]
    if stocked:
        columns += [Column("in hand", "right"), Column("buy"), Column("cost", "right")]
    rows = [row for purchase in purchases for row in _purchase_rows(purchase, stocked=stocked)]
    yield Table(buy_heading(total, " in all"), tuple(columns), tuple(rows))
    remarks = list(dict.fromkeys(remark for item in items for remark in stock_remarks(item)))
    remarks += list(dict.fromkeys(_undated_eggs(season, items)))
    remarks += unpriced_remarks(total)
    if remarks:
        yield Lines("ON THE SHELF", tuple(remarks))
    if any(level.left for level in season.buying.levels):
        yield _shelf(season)


def _undated_eggs(season: SeasonPlan, items: list[ShoppingItem]) -> Iterator[str]:
    """Yield the eggs in hand of which the shelf does not say how long they keep."""
    eggs = {bowl.batch.egg.label for bowl in season.bowls}
    for item in items:
        if item.name in eggs and item.in_hand and item.use_by is None:
            yield (
                f"{item.name}: those in hand have no use_by, so they are taken to keep until they are "
                "rolled."
            )


def _purchase_rows(purchase: DatedPurchase, *, stocked: bool) -> Iterator[tuple[str, ...]]:
    for i, item in enumerate(purchase.items):
        when = "" if i else day_text(date.fromisoformat(purchase.day))
        name = item.name
        if item.unit == "piece":
            name += f", rolled by {day_text(date.fromisoformat(purchase.upto))}"
        shelf: tuple[str, ...] = ()
        if stocked:
            in_hand = NONE if item.in_hand is None else amount_text(item.in_hand, item.unit)
            shelf = (in_hand, packs_text(item), NONE if item.cost is None else f"{item.cost:f}")
        yield (when, name, amount_text(item.need, item.unit), *shelf)


def _shelf(season: SeasonPlan) -> Table:
    """Return what is left of everything that the shelf tracks, after each rolling day."""
    rows = tuple(
        (
            day_text(date.fromisoformat(level.day)),
            "; ".join(f"{name} {amount_text(left, unit)}" for name, left, unit in level.left),
        )
        for level in season.buying.levels
    )
    return Table("SHELF  after each rolling day", (Column("After"), Column("left")), rows)


def _card(card: SeasonCard) -> Table:
    """Return the season card: one egg, one bowl, the season and a kilo of dry mix side by side."""
    columns = (
        Column("Season card"),
        Column("1 egg", "right"),
        Column(f"bowl, {eggs_text(card.bowl.eggs)}", "right"),
        Column(f"season, {eggs_text(card.season.eggs)}", "right"),
        Column("per kg dry", "right"),
    )
    batches = (card.one, card.bowl, card.season)
    rows = [("eggs, shelled", *(mass_text(b.shelled_g) for b in batches), "")]
    for lines in zip(*(b.doses for b in batches), strict=True):
        line = lines[-1]
        kilo = card.per_kg_dry(line)
        cells = [measure_text(one.amount, by_volume=line.by_volume) for one in lines]
        shown = kilo[0] if line.by_volume and kilo[0] is not None else kilo[1]
        cells.append(amount_text(shown, "ml" if line.by_volume and kilo[0] is not None else "g"))
        rows.append((line.additive.name, *cells))
    rows.append((card.one.powder.base_mix, *(mass_text(b.powder.base_mix_g) for b in batches), ""))
    rows.append(("all dry mix", *(mass_text(b.powder.expected_g) for b in batches), ""))
    heading = f"{card.one.recipe.upper()}  {card.one.strength.upper()}"
    return Table(heading, columns, tuple(rows))
