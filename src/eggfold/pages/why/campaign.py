"""How the figures of a season came about: days, trays, freezer, purchases, cards."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from eggfold.pages.times import day_text, duration_text
from eggfold.pages.why.card import bowl_sums
from eggfold.pages.why.rolling import room_sums
from eggfold.pages.why.shopping import buying_lines
from eggfold.pages.why.sums import added, fine, got, put, without_sum

if TYPE_CHECKING:
    from eggfold.jobs.campaign import RollingDay, SeasonPlan
    from eggfold.jobs.plans.season_card import SeasonCard

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
        yield from room_sums(f"{name}, bowl {i}", bowl)
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
