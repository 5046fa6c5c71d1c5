"""Plans as entries of a calendar: rolling, turning, bagging, buying, thawing and trips."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from eggfold.pages.campaign import frozen_for
from eggfold.pages.figures import Units, eggs_text
from eggfold.pages.rolling import clock_lines
from eggfold.pages.rolling_screen import days_shown, list_of_bowls, worth_text
from eggfold.plan.in_hand import trip_name
from eggfold.records import NamedTuple
from eggfold.reference.session import BAGGING_S, SHORT_JOB_S

if TYPE_CHECKING:
    from eggfold.plan.campaign import RollingDay, SeasonPlan, TripPlan
    from eggfold.plan.rolling import Rolling

SHORT_JOB, BAGGING = timedelta(seconds=SHORT_JOB_S), timedelta(seconds=BAGGING_S)


class AgendaEntry(NamedTuple):
    """One entry: moments, or whole days of which the last is included."""

    what: str
    start: datetime | date
    end: datetime | date
    title: str
    text: str = ""


def rolling_entries(rolling: Rolling, units: Units) -> Iterator[AgendaEntry]:
    """Yield a session's entries: each day, each turning, each bagging."""
    for shown in days_shown(rolling):
        mass = units.mass(sum(b.batch.paste.finished_g for b in shown.bowls))
        lines = "\n".join(clock_lines(rolling, shown, units))
        title = f"Roll {list_of_bowls(tuple(b.number for b in shown.bowls))}: {mass}"
        yield AgendaEntry("roll", shown.start, shown.finish.expected, title, lines)
    for step in rolling.steps:
        if step.what == "turn":
            title = f"Turn the trays: {list_of_bowls(step.bowls)}"
            yield AgendaEntry("turn", step.start, step.start + SHORT_JOB, title)
        elif step.what == "soak":
            title = f"Into the soak: {list_of_bowls(step.bowls)}"
            yield AgendaEntry("soak", step.start, step.start + BAGGING, title)
        elif step.what == "bag":
            title = f"Bag and freeze: {list_of_bowls(step.bowls)}"
            yield AgendaEntry("bag", step.start, step.start + BAGGING, title)


def campaign_entries(season: SeasonPlan, units: Units) -> Iterator[AgendaEntry]:
    """Yield a season's entries: buying, rolling, turning, bagging, thawing, trips."""
    for purchase in season.buying.purchases:
        day = date.fromisoformat(purchase.day)
        lines = [f"{i.name}: {units.amount(i.need, i.unit)}" for i in purchase.items]
        yield AgendaEntry(
            "buy", day, day, f"Buy for rolling up to {purchase.upto}", "\n".join(lines)
        )
    for rolled in season.days:
        yield from _day_entries(season, rolled, units)
    for trip in season.trips:
        yield from _trip_entries(season, trip, units)


def _day_entries(season: SeasonPlan, rolled: RollingDay, units: Units) -> Iterator[AgendaEntry]:
    bowls = rolled.bowls
    worth = worth_text([b.batch for b in bowls], units)
    lines = [
        f"bowl {b.number}: {b.batch.recipe}, {b.batch.strength}, {eggs_text(b.batch.eggs)}"
        for b in bowls
    ]
    yield AgendaEntry("roll", rolled.start, rolled.end, f"Roll {worth}", "\n".join(lines))
    for moment in season.turnings(rolled):
        yield AgendaEntry(
            "turn", moment, moment + SHORT_JOB, f"Turn the trays rolled on {rolled.day}"
        )
    bagged = rolled.bagged
    if rolled.soaked:
        title = f"Into the soak: what was rolled on {rolled.day}"
        yield AgendaEntry("soak", bagged, bagged + BAGGING, title)
        bagged = rolled.soaked
    title = f"Bag and freeze what was rolled on {rolled.day}"
    yield AgendaEntry("bag", bagged, bagged + BAGGING, title)


def _trip_entries(season: SeasonPlan, trip: TripPlan, units: Units) -> Iterator[AgendaEntry]:
    portions = [season.portions[j] for j in trip.portions]
    lines = [
        f"{p.whole.recipe}, {p.kind.strength}: {worth_text([p.whole], units)}" for p in portions
    ]
    lines += [
        f"{bring.whole.recipe}, {bring.kind.strength}: {units.mass(bring.in_hand_g)} in hand"
        for bring in trip.brings
        if bring.in_hand_g >= 1
    ]
    name = trip_name(trip.trip)
    if out := [f"{what}: {amount}" for what, amount in frozen_for(season, trip, units)]:
        text = "\n".join([*out, "Thaw once, in the cool; never freeze it again."])
        title = f"Out of the freezer for {name}"
        yield AgendaEntry("thaw", trip.thaw, trip.thaw + SHORT_JOB, title, text)
    leave, back = date.fromisoformat(trip.trip.leave), date.fromisoformat(trip.trip.last_day)
    yield AgendaEntry("trip", leave, back, trip.trip.name or "Fishing trip", "\n".join(lines))
