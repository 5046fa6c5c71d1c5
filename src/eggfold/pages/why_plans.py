"""The sums of both plans, for ``--why``."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from eggfold.pages.figures import added, day_text, duration_text, fine, got, put, without_sum
from eggfold.pages.shopping import buying_lines
from eggfold.pages.why_card import bowl_sums
from eggfold.reference.session import LOOSE_PACKING, MIX_ANY_S, MIX_FULL_S, TRAY_AREA_FACTOR

if TYPE_CHECKING:
    from eggfold.plan.campaign import RollingDay, SeasonCard, SeasonPlan
    from eggfold.plan.plan_bowls import PlanBowl
    from eggfold.plan.rolling import Rolling


CARD = "the sums stand on its card, with eggfold batch --why"
CLOCK = (
    "a short search tries who has the pan, when to mix, and the order of bowls and sizes; each step begins "
    "as soon as bowl, table, pan, trays and hands are free, first in, first out, and no paste or bait "
    "stands for longer than stand and raw allow"
)


def rolling_sums(rolling: Rolling) -> Iterator[str]:
    """Yield what each station has to do, then the room that each bowl takes."""
    yield without_sum("What goes into each bowl", "as a batch of its eggs", CARD)
    yield without_sum("Who does what when", "by the clock", CLOCK)
    if rolling.made:
        yield from _work_sums(rolling)
    for bowl in rolling.made:
        yield from _room_sums(f"Bowl {bowl.number}", bowl)
    yield from buying_lines(rolling.shopping)


def _work_sums(rolling: Rolling) -> Iterator[str]:
    """Yield the work of each station, shared out; nothing ends before it is done."""
    place, (mix, table, pan, hands) = rolling.session.place, rolling.bounds
    mixing, rolled = _mixing(rolling), _rolled(rolling)
    loads = [load for bowl in rolling.made for load in bowl.work.loads]
    seconds = sum(load.pan_s for load in loads)
    yield (
        f"The mixing bowl = minutes of all bowls / mixing bowls = ({mixing}) / {place.mixing_bowls} = "
        f"{got(mix.work_s / 60)} min of work"
    )
    yield (
        f"The table = hours of rolling × 60 / tables = ({rolled}) × 60 / {place.tables} = "
        f"{got(table.work_s / 60)} min of work"
    )
    yield (
        f"The pan = all boils and waits in s / 60 / pans = {put(seconds)} / 60 / {place.pans} = "
        f"{got(pan.work_s / 60)} min of work"
    )
    yield (
        f"The people = mixing + rolling + boiling / people = ({mixing} + ({rolled}) × 60 + "
        f"{put(seconds)} / 60 / {place.pans}) / {place.people} = {got(hands.work_s / 60)} min of work"
    )


def _mixing(rolling: Rolling) -> str:
    """Return the minutes that all bowls are mixed."""
    workshop, number = rolling.session.workshop, len(rolling.made)
    if workshop.mix_s is not None:
        return f"{number} × {put(workshop.mix_s / 60)}"
    kilos = sum(bowl.batch.paste.mass_g for bowl in rolling.made) / 1000
    bowl_kg = put(workshop.bowl_g / 1000)
    return f"{number} × {MIX_ANY_S / 60:g} + {put(kilos)} × {MIX_FULL_S / 60:g} / {bowl_kg}"


def _rolled(rolling: Rolling) -> str:
    """Return the hours that one person would roll; baits on cork are moulded by hand."""
    workshop = rolling.session.workshop
    lines = [line for bowl in rolling.made for line in bowl.batch.baits]
    kilos = sum(line.paste_g for line in lines if not line.core_mm) / 1000
    corks = sum(line.count for line in lines if line.core_mm)
    rolled = f"{put(kilos)} / {put(workshop.pace_kg_h)}"
    return f"{rolled} + {corks} / {put(workshop.cork_pace_h)}" if corks else rolled


def _room_sums(head: str, bowl: PlanBowl) -> Iterator[str]:
    """Yield the tray and the room in the freezer that a bowl takes."""
    paste, lines = bowl.batch.paste, bowl.batch.baits
    areas = [
        f"{put(line.baits_g / 1000)} × 6 / ({put(line.density_g_ml)} × 3.14159 × {put(line.diameter_mm)})"
        for line in lines
    ]
    yield (
        f"{head}: tray = Σ fresh in kg × 6 / (density × 3.14159 × diameter) × room each takes = "
        f"({added(areas)}) × {TRAY_AREA_FACTOR:g} = {got(bowl.area_m2)} m²"
    )
    fresh_g = sum(line.baits_g for line in lines)
    rooms = [f"{put(line.baits_g / fresh_g)} / {put(line.density_g_ml)}" for line in lines]
    yield (
        f"{head}: freezer = dried in kg / packing × Σ share / density = "
        f"{put(paste.finished_g / 1000)} / {LOOSE_PACKING:g} × ({added(rooms)}) = {got(bowl.freezer_l)} l"
    )


DAYS = (
    "bait is rolled in the order in which it is fished; each day takes as many eggs as its hours, the "
    "trays and the freezer hold, and no choice of fewer days makes everything in time"
)


def campaign_sums(season: SeasonPlan) -> Iterator[str]:
    """Yield what fills each day, what it takes of tray and freezer, what is bought, and the cards."""
    yield without_sum("Rolling days", f"{len(season.days)}", DAYS)
    for trip in season.trips:
        eggs = [str(season.portions[i].eggs) for i in trip.portions]
        if len(eggs) > 1:
            name = trip.trip.name or trip.trip.leave
            yield f"{name}: eggs = {added(eggs)} = {sum(map(int, eggs))}"
    for day in season.days:
        yield from _day_sums(day)
    for purchase in season.buying.purchases:
        for line in buying_lines(purchase.items):
            yield f"Buying by {day_text(date.fromisoformat(purchase.day))}: {line}"
    for card in season.cards:
        yield from _card_sums(card)


def _day_sums(day: RollingDay) -> Iterator[str]:
    name = day_text(date.fromisoformat(day.day))
    yield without_sum(
        f"{name}, with breaks and cleaning",
        duration_text((day.end - day.start).total_seconds()),
        "the bowls are run through the stations step by step",
    )
    for i, bowl in enumerate(day.bowls, 1):
        yield from _room_sums(f"{name}, bowl {i}", bowl)
    if len(day.bowls) > 1:
        eggs = added(str(b.batch.eggs) for b in day.bowls)
        area = added(put(b.area_m2) for b in day.bowls)
        room = added(put(b.freezer_l) for b in day.bowls)
        yield f"{name}: eggs = {eggs} = {sum(b.batch.eggs for b in day.bowls)}"
        yield f"{name}: tray = {area} = {got(sum(b.area_m2 for b in day.bowls))} m²"
        yield f"{name}: freezer = {room} = {fine(sum(b.freezer_l for b in day.bowls), 2)} l"


def _card_sums(card: SeasonCard) -> Iterator[str]:
    """Yield the sums of the season's column, and how the other columns follow from it."""
    season, strength = card.season, card.season.strength
    head = f"Season card, {season.recipe}, {strength}"
    for line in bowl_sums(season):
        yield f"{head}: {line}"
    whole = put(season.powder.expected_g)
    for batch in (card.one, card.bowl):
        yield (
            f"{head}: dry mix of {batch.eggs} of {season.eggs} eggs = {whole} × {batch.eggs} / "
            f"{season.eggs} = {got(batch.powder.expected_g)} g"
        )
    for lines in zip(card.one.doses, card.bowl.doses, season.doses, strict=True):
        name, last = lines[-1].additive.name, lines[-1]
        by_volume = last.by_volume and last.amount.ml is not None
        one, bowl, all_ = ((x.amount.ml or 0.0) if by_volume else x.amount.g for x in lines)
        unit = "ml" if by_volume else "g"
        for batch, amount in ((card.one, one), (card.bowl, bowl)):
            yield (
                f"{head}: {name} for {batch.eggs} of {season.eggs} eggs = {put(all_)} × {batch.eggs} / "
                f"{season.eggs} = {got(amount)} {unit}"
            )
        yield (
            f"{head}: {name} per kg = {put(all_)} / {put(season.powder.expected_g / 1000)} = "
            f"{got(all_ / (season.powder.expected_g / 1000))} {unit}"
        )
