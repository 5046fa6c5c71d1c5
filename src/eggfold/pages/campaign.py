"""The season: rolling days, trips, freezer, buying, and a card for each recipe."""

from __future__ import annotations

import math
from datetime import date, datetime, timedelta
from fractions import Fraction
from shlex import quote
from typing import TYPE_CHECKING

from eggfold.amounts import counted
from eggfold.pages.figures import (
    Units,
    day_text,
    eggs_text,
    full_day_text,
    moment_text,
    price_text,
    time_on_text,
    time_text,
)
from eggfold.pages.note import left_text
from eggfold.pages.page import NONE, Block, Column, Facts, Lines, Page, Plot, Table, basis_blocks
from eggfold.pages.rolling import care_lines, first_cautions
from eggfold.pages.rolling_screen import of_text, short_text, tally_text, worth_text
from eggfold.pages.shopping import buy_heading, packs_text, stock_remarks, unpriced_remarks
from eggfold.plan.in_hand import trip_name
from eggfold.reference.session import ENOUGH

if TYPE_CHECKING:
    from collections.abc import Iterator

    from eggfold.plan.campaign import Compared, RollingDay, SeasonCard, SeasonPlan, TripPlan
    from eggfold.plan.in_hand import HeldLot
    from eggfold.plan.purchases import DatedPurchase
    from eggfold.plan.trip_demand import Bring
    from eggfold.stock.shopping import BatchCost, ShoppingItem


def campaign_page(
    season: SeasonPlan, units: Units, *, why: bool = False, full: bool = True
) -> Page:
    """Return a season: what comes next, what is in hand and every trip, where it is ``full`` all tables."""
    shown = _full_blocks(season, units, why=why) if full or why else _screen_blocks(season, units)
    trips, over = len(season.trips), len(season.hand.over)
    compared = season.compared
    skipped = len(compared.asked.skip) if compared else 0
    changes = (Lines("WHAT IF", tuple(_what_if(season, compared, units))),) if compared else ()
    every = trips + over + skipped
    left = f"{trips} of {every} trips left" if every > trips else counted(trips, "trip")
    aside = f"{full_day_text(date.fromisoformat(season.today))}, {left}"
    blocks = *changes, *shown, *units.lines()
    return Page(season.name, aside, blocks, first_cautions(season.cautions))


def _screen_blocks(season: SeasonPlan, units: Units) -> Iterator[Block]:
    """Yield the first screen: what to do up to the next trip, what is in hand, the trips, what to watch."""
    if coming := sorted(_next(season, units)):
        yield Facts("NEXT", tuple((when, what) for _, when, what in coming))
    yield from _hand_blocks(season, units)
    if season.trips:
        yield _needs(season, units)
    yield Facts("", tuple(_watched(season, units)))


def _hand_blocks(season: SeasonPlan, units: Units) -> Iterator[Block]:
    """Yield what is not as it was planned, and the bait in hand."""
    if changed := tuple(_changed(season, units)):
        yield Lines("CHANGED", changed)
    if season.hand.lots:
        yield _in_hand(season, units)


def _next(season: SeasonPlan, units: Units) -> Iterator[tuple[datetime, str, str]]:
    """Yield what is to be done until the next trip leaves: when, and what."""
    if not season.trips:
        return
    trip = season.trips[0]
    zone = trip.leave.tzinfo
    for purchase in season.buying.purchases:
        by = datetime.fromisoformat(purchase.day).replace(tzinfo=zone)
        if by < trip.leave and (short := short_text(purchase.items, units)):
            yield by, day_text(by), f"buy {short}"
    for day in season.days:
        if day.start >= trip.leave:
            break
        yield day.start, day_text(day.start), f"roll {_rolled_text(day, units)}"
        yield day.bagged, moment_text(day.bagged), "bag and freeze what is dry"
    if out := [f"{amount} {name}" for name, amount in frozen_for(season, trip, units)]:
        yield trip.thaw, moment_text(trip.thaw), f"out of the freezer: {', '.join(out)}"
    yield trip.leave, moment_text(trip.leave), f"leave for {_mark_name(trip)}"


def _rolled_text(day: RollingDay, units: Units) -> str:
    mass: dict[str, float] = {}
    for bowl in day.bowls:
        name = f"{bowl.batch.recipe}, {bowl.batch.strength}"
        mass[name] = mass.get(name, 0.0) + bowl.batch.paste.finished_g
    each = "; ".join(f"{units.mass(g)} {name}" for name, g in mass.items())
    bowls = counted(len(day.bowls), "bowl")
    return f"{each}: {bowls}, {time_text(day.start)} to {time_text(day.end)}"


def frozen_for(season: SeasonPlan, trip: TripPlan, units: Units) -> Iterator[tuple[str, str]]:
    """Yield what a trip takes out of the freezer, no more than it asks for: name and amount."""
    cold: dict[str, float] = {}
    counts: dict[str, Bring] = {}
    for one in season.hand.lots:
        if one.lot.state in ("frozen", "drying"):
            name = f"{one.lot.recipe} {one.lot.strength}"
            cold[name] = cold.get(name, 0.0) + sum(g for i, g in one.gives if i == trip.number)
    for bring in trip.brings:
        name = f"{bring.whole.recipe} {bring.kind.strength}"
        if bring.quantity.count is not None:
            counts[name] = bring
        if (j := bring.portion) is None:
            continue
        portion = season.portions[j]
        frozen = sum(p.eggs for d in season.days for p in d.pieces if p.portion == j and p.frozen)
        g = portion.whole.paste.finished_g * frozen / portion.eggs
        cold[name] = cold.get(name, 0.0) + min(g, bring.want.need_g - bring.in_hand_g)
    for name, g in cold.items():
        if g >= 1:
            yield name, _amount_of(counts[name], g, units) if name in counts else units.mass(g)


def _changed(season: SeasonPlan, units: Units) -> Iterator[str]:
    """Yield what is not as it was planned: trips nobody noted, what is too late, bait that serves nothing."""
    yield from _over(season)
    for trip in season.trips:
        for bring in trip.brings:
            if bring.missing_g:
                yield (
                    f"{trip_name(trip.trip)}: {_amount_of(bring, bring.missing_g, units)} of "
                    f"{bring.whole.recipe} {bring.kind.strength} is missing, and no rolling day is early "
                    "enough. Take less, or say what is there: eggfold note count"
                )
    have, levels = season.freezer_l.have, season.levels
    if season.hand.lots and have is not None and levels and levels[0].litres > have:
        now = units.room(levels[0].litres)
        yield f"The bait in hand takes {now}, and the freezer holds {units.litres(have)}."
    yield from _of_no_use(season, units)


def _over(season: SeasonPlan) -> Iterator[str]:
    """Yield the trips that have left and that nobody noted, with what puts it right."""
    for one in season.hand.over:
        name = one.name or one.leave
        if one.under_way:
            yield f"{name}: under way; its bait has left."
        elif not one.booked and season.hand.kept:
            yield (
                f"{name}: over, and nobody wrote it down: taken as planned, nothing came home. If not: "
                f"eggfold note trip {quote(season.file)} {quote(name)} --home RECIPE=AMOUNT"
            )


def _of_no_use(season: SeasonPlan, units: Units) -> Iterator[str]:
    """Yield the bait that is past its days, and what is out of the freezer for no trip."""
    today = date.fromisoformat(season.today)
    for held in season.hand.lots:
        lot, what = held.lot, f"{left_text(held.lot, units)} {held.lot.recipe} {held.lot.strength}"
        if held.until and held.until < today:
            past = day_text(held.until)
            yield f"{what}: past its days since {past}. What smells wrong goes into the bin."
        elif lot.state in ("thawed", "fresh") and not held.gives:
            until = f"by {day_text(held.until)}" if held.until else "soon"
            never = ", never freeze it again" if lot.state == "thawed" else ""
            yield f"{what}, {lot.state}: no trip for it. Use it {until}, dry it, or throw it away{never}."


def _in_hand(season: SeasonPlan, units: Units) -> Table:
    columns = (Column("Bait"), Column("left", "right"), Column("age", "right"), Column("goes to"))
    rows = tuple(_held(season, one, units) for one in season.hand.lots)
    return Table("IN HAND", columns, rows)


def _held(season: SeasonPlan, held: HeldLot, units: Units) -> tuple[str, ...]:
    lot = held.lot
    begun = lot.made or lot.since
    age = f"{(date.fromisoformat(season.today) - begun).days} d" if begun else NONE
    is_cold = lot.state == "frozen" or (
        lot.state == "drying" and held.ready and held.ready <= date.fromisoformat(season.today)
    )
    state = "" if is_cold else f", {lot.state}"
    return (
        f"{lot.recipe} {lot.strength}{state}",
        left_text(lot, units),
        age,
        _goes(season, held, units),
    )


def _goes(season: SeasonPlan, held: HeldLot, units: Units) -> str:
    names = {trip.number: trip_name(trip.trip) for trip in season.trips}
    each_g = (held.finished_g or 0.0) / held.lot.left_baits if held.lot.left_baits else 0.0

    def shown(g: float) -> str:
        return f"{g / each_g:,.0f}" if each_g else units.mass(g)

    parts = [f"{names[i]} {shown(g)}" for i, g in held.gives]
    if held.left_g is not None and held.left_g >= 1 and held.gives:
        parts.append(f"spare {shown(held.left_g)}")
    if parts:
        return ", ".join(parts)
    keeps = held.until and held.until >= date.fromisoformat(season.today)
    return f"nothing, keeps until {day_text(held.until)}" if held.until and keeps else "nothing"


def _needs(season: SeasonPlan, units: Units) -> Table:
    """Return what each trip takes, what of it is in hand, and what is to be rolled on which days."""
    columns = (
        Column("Leave"),
        Column("trip and bait to bring"),
        Column("in hand", "right"),
        Column("to\u00a0roll, whole\u00a0eggs", "right"),
        Column("on"),
    )
    rows: list[tuple[str, ...]] = []
    for trip in season.trips:
        rows.append((day_text(trip.leave), trip_name(trip.trip), "", "", ""))
        rows += [_need(season, bring, units) for bring in trip.brings]
    return Table("TRIPS", columns, tuple(rows))


def _need(season: SeasonPlan, bring: Bring, units: Units) -> tuple[str, ...]:
    j = bring.portion
    amount, in_hand = (_amount_of(bring, g, units) for g in (bring.want.need_g, bring.in_hand_g))
    roll, on = (NONE, "too late" if bring.missing_g else "")
    if j is not None:
        whole = season.portions[j].whole
        by_count = bring.quantity.count is not None
        roll = tally_text([whole]) if by_count else units.mass(whole.paste.finished_g)
        days = [d.day for d in season.days if any(p.portion == j for p in d.pieces)]
        on = ", ".join(day_text(date.fromisoformat(day)) for day in days)
    return "", f"{bring.whole.recipe} {bring.kind.strength}, {amount}", in_hand, roll, on


def _amount_of(bring: Bring, g: float, units: Units) -> str:
    """Return so much of what a trip takes, in baits where it counts them."""
    if g < 1:
        return NONE
    return units.mass(g) if bring.quantity.count is None else f"{g / bring.want.each_g:,.0f}"


def _freezer_line(season: SeasonPlan, units: Units) -> str:
    if not season.levels:
        return "Nothing goes through it."
    peak = max(season.levels, key=lambda level: level.litres)
    is_cold = any(one.lot.state in ("frozen", "drying") for one in season.hand.lots)
    cold_l = season.levels[0].litres if is_cold else 0.0
    now = units.room(cold_l) if cold_l else "empty"
    of = of_text(season.freezer_l.have, units.litres)
    late = [one for one in season.hand.lots if one.until and (one.left_g or 0) >= 1 and one.gives]
    ends = min((one.until for one in late if one.until), default=None)
    keeps = f" What is spare keeps until {day_text(ends)}." if ends else ""
    return f"{now} now; fullest {units.room(peak.litres)}{of} on {day_text(peak.moment)}.{keeps}"


def _watched(season: SeasonPlan, units: Units) -> Iterator[tuple[str, str]]:
    """Yield how full freezer and trays get, what nobody weighed, the usual care, and where more stands."""
    trays = season.trays_m2
    have = of_text(trays.have, units.area)
    yield "FREEZER", _freezer_line(season, units)
    if trays.needed:
        yield "TRAYS", f"{units.area(trays.needed)}{have} at once"
    for text in _unsure(season, units):
        yield "NOT SURE", text
    yield "CARE", "Bag when dry; thaw once, in the cool. Allergens and the usual care: --full"
    yield from _right(season, units)
    yield (
        "MORE",
        "Every day's bowls, all dates, packs, the freezer's level, cards: --full, or on paper.",
    )


def _unsure(season: SeasonPlan, units: Units) -> Iterator[str]:
    """Yield the bait that nobody weighed, and below which weight more must be rolled."""
    slack: dict[tuple[str, str], float] = {}
    for trip in season.trips:
        for bring in trip.brings:
            if bring.portion is None and not bring.missing_g and bring.in_hand_g >= 1:
                spare = bring.in_hand_g - ENOUGH * bring.want.need_g
                slack[bring.want.kind] = min(spare, slack.get(bring.want.kind, math.inf))
    for held in season.hand.lots:
        lot = held.lot
        if not held.gives or not (lot.left.rough or not lot.is_weighed) or held.finished_g is None:
            continue
        least = held.finished_g - slack.get(lot.kind, 0.0) - (held.left_g or 0.0)
        is_least = lot.kind in slack and least >= 1
        under = f" Under {units.mass(least)}, more must be rolled." if is_least else ""
        yield f"{lot.recipe} {lot.strength} is {left_text(lot, units)}: weigh it.{under}"


def _right(season: SeasonPlan, units: Units) -> Iterator[tuple[str, str]]:
    """Yield how to put right what the books say of the bait in hand, and to leave a trip out."""
    if season.hand.lots:
        lot = season.hand.lots[0].lot
        amount = left_text(lot, units).removeprefix("about ").removesuffix(" baits")
        kind = quote(f"{lot.recipe} {lot.strength}={amount.replace(' ', '').replace(',', '')}")
        yield "WRONG?", f"Say what is really there: eggfold note count {kind}"
    if season.trips and season.hand.over:
        name = quote(trip_name(season.trips[-1].trip))
        yield "SKIP?", f"A trip that falls out: eggfold campaign {quote(season.file)} --skip {name}"


def _what_if(season: SeasonPlan, compared: Compared, units: Units) -> Iterator[str]:
    """Yield what is asked beside the plan, and what it changes."""
    plain, now = compared.plain, season.instead
    if plain is None:
        yield "As it stands, the plan has no answer."
        return
    yield _days_change(plain.rolling_days, now.rolling_days)
    more = now.finished_g - plain.finished_g
    if abs(more) >= 1:
        yield f"{units.mass(abs(more))} {'more' if more > 0 else 'less'} to roll."
    litres = now.freezer_l - plain.freezer_l
    if abs(litres) >= 0.5:
        yield (
            f"The freezer is {units.room(now.freezer_l)} at its fullest, not {units.room(plain.freezer_l)}."
        )
    if now.cost is not None and plain.cost is not None and now.cost != plain.cost:
        yield (
            f"To buy for {now.cost:f}, not {plain.cost:f} {season.total.currency or ''}".rstrip()
            + "."
        )


def _days_change(before: tuple[str, ...], after: tuple[str, ...]) -> str:
    gone = ", ".join(day_text(date.fromisoformat(d)) for d in before if d not in after)
    new = ", ".join(day_text(date.fromisoformat(d)) for d in after if d not in before)
    if not gone and not new:
        return "The same rolling days as without it."
    which = (
        f"not {gone}, but {new}" if gone and new else f"without {gone}" if gone else f"with {new}"
    )
    if len(after) == len(before):
        return f"Still {counted(len(after), 'rolling day')}: {which}."
    return f"{counted(len(after) or 'No', 'rolling day')} instead of {len(before)}: {which}."


def _full_blocks(season: SeasonPlan, units: Units, *, why: bool) -> Iterator[Block]:
    """Yield all tables."""
    yield from _hand_blocks(season, units)
    yield from (_facts(season, units), _days(season, units), _trips(season, units))
    if season.levels:
        yield _freezer(season, units)
    yield from _buying(season, units)
    for card in season.cards:
        yield _card(card, units)
    yield care_lines(season.cautions)
    if why:
        from eggfold.pages.why_plans import campaign_sums  # noqa: PLC0415 - few ask for the sums

        yield Lines("HOW EACH FIGURE CAME ABOUT", tuple(campaign_sums(season)))
    yield from basis_blocks(season, why=why)


def _facts(season: SeasonPlan, units: Units) -> Facts:
    rows = [("To roll", worth_text([p.whole for p in season.portions], units))]
    if season.days:
        first, last = (date.fromisoformat(season.days[i].day) for i in (0, -1))
        span = (
            full_day_text(first) if first == last else f"{day_text(first)} to {full_day_text(last)}"
        )
        proved = "the fewest there can be" if season.fewest else "the fewest found"
        rows.append(("Rolling days", f"{len(season.days)}, {proved}: {span}"))
    freezer, trays = season.freezer_l, season.trays_m2
    have = of_text(freezer.have, units.litres)
    rows.append(("Freezer", f"{units.room(freezer.needed)}{have} at its fullest"))
    have = of_text(trays.have, units.area)
    rows.append(("Trays", f"{units.area(trays.needed)}{have} at once"))
    return Facts("SEASON", tuple(rows))


def _days(season: SeasonPlan, units: Units) -> Table:
    columns = (
        Column("Roll on"),
        Column("bowls"),
        Column("dried", "right"),
        Column("clean by"),
        Column("bag"),
    )
    return Table(
        "ROLLING", columns, tuple(row for day in season.days for row in _day_rows(day, units))
    )


def _day_rows(day: RollingDay, units: Units) -> Iterator[tuple[str, ...]]:
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
        yield when, text, units.mass(mass[want]), clean, bag


def _bowls_of(eggs: list[int]) -> str:
    """Return equal bowls and the odd one that follows them."""
    number, last = len(eggs), eggs[-1]
    if last == eggs[0]:
        return f"{counted(number, 'bowl')} of {eggs_text(last)}"
    return f"{counted(number - 1, 'bowl')} of {eggs_text(eggs[0])}, one of {eggs_text(last)}"


def _trips(season: SeasonPlan, units: Units) -> Table:
    columns = [Column("Leave, thaw"), Column("trip and bait to bring")]
    columns += [Column(head, "right") for head in ("dried", "baits", "eggs")]
    rows = [row for trip in season.trips for row in _trip_rows(season, trip, units)]
    currency = next((cost.currency for cost in season.costs if cost), None)
    if currency:
        columns.append(Column(f"material, {currency}", "right"))
    else:
        rows = [row[:-1] for row in rows]
    return Table("TRIPS", tuple(columns), tuple(rows))


def _trip_rows(season: SeasonPlan, trip: TripPlan, units: Units) -> Iterator[tuple[str, ...]]:
    costs = [season.costs[j] for j in trip.portions]
    back = (
        "" if trip.trip.back is None else f", back {day_text(date.fromisoformat(trip.trip.back))}"
    )
    name = f"{trip.trip.name or 'trip'}{back}"
    yield moment_text(trip.leave), name, "", "", "", _cost_text(costs)
    for bring in trip.brings:
        if bring.in_hand_g >= 1:
            name = f"{bring.whole.recipe}, {bring.kind.strength}"
            baits = f"about {bring.in_hand_g / bring.want.each_g:,.0f}"
            yield "in hand", name, units.mass(bring.in_hand_g), baits, "", ""
    for j in trip.portions:
        portion, whole = season.portions[j], season.portions[j].whole
        yield (
            _thaw(season, j, trip),
            f"{whole.recipe}, {portion.kind.strength}",
            units.mass(whole.paste.finished_g),
            tally_text([whole]),
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


def _freezer(season: SeasonPlan, units: Units) -> Plot:
    """Return how full the freezer is, day by day from the first bagging."""
    start = season.levels[0].moment
    unit, size_l = ("litres", 1.0) if units.metric else ("quarts", units.quart_ml / 1000)
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


def _buying(season: SeasonPlan, units: Units) -> Iterator[Block]:
    """Yield what to buy when, what it costs, and what is to be known of the stock behind it."""
    total, purchases = season.total, season.buying.purchases
    items = [item for purchase in purchases for item in purchase.items]
    stocked = any(item.on_shelf for item in items)
    columns = [Column("Buy by"), Column("what"), Column("need", "right")]
    if stocked:
        columns += [Column("in hand", "right"), Column("buy"), Column("cost", "right")]
    rows = [
        row for purchase in purchases for row in _purchase_rows(purchase, units, stocked=stocked)
    ]
    yield Table(buy_heading(total, " in all"), tuple(columns), tuple(rows))
    remarks = list(dict.fromkeys(remark for item in items for remark in stock_remarks(item, units)))
    remarks += list(dict.fromkeys(_undated_eggs(season, items)))
    remarks += unpriced_remarks(total)
    if remarks:
        yield Lines("ON THE SHELF", tuple(remarks))
    if any(level.left for level in season.buying.levels):
        yield _shelf(season, units)


def _undated_eggs(season: SeasonPlan, items: list[ShoppingItem]) -> Iterator[str]:
    """Yield the eggs in hand of which the shelf does not say how long they keep."""
    eggs = {bowl.batch.egg.label for bowl in season.bowls}
    for item in items:
        if item.name in eggs and item.in_hand and item.use_by is None:
            yield (
                f"{item.name}: those in hand have no use_by, so they are taken to keep until they are "
                "rolled."
            )


def _purchase_rows(
    purchase: DatedPurchase, units: Units, *, stocked: bool
) -> Iterator[tuple[str, ...]]:
    for i, item in enumerate(purchase.items):
        when = "" if i else day_text(date.fromisoformat(purchase.day))
        name = item.name
        if item.unit == "piece":
            name += f", rolled by {day_text(date.fromisoformat(purchase.upto))}"
        shelf: tuple[str, ...] = ()
        if stocked:
            in_hand = NONE if item.in_hand is None else units.amount(item.in_hand, item.unit)
            shelf = (in_hand, packs_text(item), NONE if item.cost is None else f"{item.cost:f}")
        yield (when, name, units.amount(item.need, item.unit), *shelf)


def _shelf(season: SeasonPlan, units: Units) -> Table:
    """Return what is left of everything that the shelf tracks, after each rolling day."""
    rows = tuple(
        (
            day_text(date.fromisoformat(level.day)),
            "; ".join(f"{name} {units.amount(left, unit)}" for name, left, unit in level.left),
        )
        for level in season.buying.levels
    )
    return Table("SHELF  after each rolling day", (Column("After"), Column("left")), rows)


def _card(card: SeasonCard, units: Units) -> Table:
    """Return the season card: one egg, one bowl, the season and a kilo of dry mix side by side."""
    columns = (
        Column("Season card"),
        Column("1 egg", "right"),
        Column(f"bowl, {eggs_text(card.bowl.eggs)}", "right"),
        Column(f"season, {eggs_text(card.season.eggs)}", "right"),
        Column("per kg dry", "right"),
    )
    batches = (card.one, card.bowl, card.season)
    rows = [("eggs, shelled", *(units.mass(b.shelled_g) for b in batches), "")]
    for lines in zip(*(b.doses for b in batches), strict=True):
        line = lines[-1]
        kilo = card.per_kg_dry(line)
        cells = [units.measure(one.amount, by_volume=line.by_volume) for one in lines]
        shown = kilo[0] if line.by_volume and kilo[0] is not None else kilo[1]
        cells.append(units.amount(shown, "ml" if line.by_volume and kilo[0] is not None else "g"))
        rows.append((line.additive.name, *cells))
    rows.append((card.one.powder.base_mix, *(units.mass(b.powder.base_mix_g) for b in batches), ""))
    rows.append(("all dry mix", *(units.mass(b.powder.expected_g) for b in batches), ""))
    heading = f"{card.one.recipe.upper()}  {card.one.strength.upper()}"
    return Table(heading, columns, tuple(rows))
