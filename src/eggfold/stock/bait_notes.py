"""Notes of finished bait: bagged, counted, taken on a trip."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from eggfold.errors import OptionError
from eggfold.load.lots import Lot, LotLeft, LotState, lots_of
from eggfold.nearest import fold
from eggfold.records import NamedTuple
from eggfold.reference.session import ENOUGH
from eggfold.stock.baits import (
    Kind,
    ShelfLife,
    Want,
    after_giving,
    allot,
    grams,
    lots_after,
    newest_that_are,
)
from eggfold.stock.noting import Note, entry_change

if TYPE_CHECKING:
    from eggfold.edit.splice import Fields
    from eggfold.edit.writing import Draft
    from eggfold.load.recipe import Strength
    from eggfold.load.shelf import OpenShelf

SOON_BAGGED_DAYS = 7
"""Bait is bagged within so many days of its rolling; house default."""


def kind_text(recipe: str, strength: Strength) -> str:
    """Return a kind of bait as it is written."""
    return f"{recipe} {strength}"


class Bagged(NamedTuple):
    """Dried bait on the scale: of which recipe, how much, and what became of it."""

    date: str
    recipe: str
    strength: Strength | None
    amount: LotLeft
    state: LotState = "frozen"


def note_bagged(asked: Bagged, draft: Draft, stock: tuple[Draft, OpenShelf]) -> Note:
    """Return the note of bait that was weighed days after it was rolled."""
    lots, day = lots_of(stock[1]), date.fromisoformat(asked.date)
    number = _to_bag(lots, asked, day)
    strength = asked.strength or (
        lots[number].strength if number is not None else by_amount(asked.amount)
    )
    known = {"left": asked.amount, "state": asked.state, "since": day, "weighed": "yes"}
    after: list[Lot | None] = [*lots]
    added: list[Lot] = []
    remarks: list[str] = []
    expected = None
    if number is None:
        new = Lot.model_construct(recipe=asked.recipe, strength=strength)
        added.append(new.model_copy(update=known))
        remarks.append("No bowl of it waited to be bagged, so this is a lot of its own.")
    else:
        expected = str(lots[number].left)
        after[number] = lots[number].model_copy(update=known)
    made = lots_after(stock[1], after, added)
    fields: Fields = {
        "date": asked.date,
        "recipe": asked.recipe,
        "strength": strength,
        "amount": str(asked.amount),
        "state": asked.state,
    }
    figures = {"strength": strength, "amount": str(asked.amount), "expected": expected}
    return Note(
        "bagged",
        asked.recipe,
        asked.date,
        {**figures, "state": asked.state},
        (stock[0].change(made.text), entry_change(draft, "bagged", fields | made.patch)),
        draft.file,
        stock[0].file,
        lots=made.changes,
        remarks=tuple(remarks),
    )


def _to_bag(lots: Sequence[Lot], asked: Bagged, day: date) -> int | None:
    """Return the lot that is meant: the oldest of the last days, else the newest; None without one.

    Lots that nobody weighed come before those that were weighed and not bagged.
    """
    own = [
        i
        for i, lot in enumerate(lots)
        if fold(lot.recipe) == fold(asked.recipe)
        and asked.strength in (None, lot.strength)
        and (lot.made is None or lot.made <= day)
    ]
    waiting = [i for i in own if lots[i].weighed == "no"]
    waiting = waiting or [i for i in own if lots[i].state == "drying"]
    strengths = {lots[i].strength for i in waiting}
    if len(strengths) > 1:
        strength = by_amount(asked.amount) if asked.amount.stock.kind == "piece" else None
        if strength is None:
            raise OptionError("hookbaits and freebies of it wait to be bagged: say --as")
        waiting = [i for i in waiting if lots[i].strength == strength]
    made = {i: lots[i].made or date.min for i in waiting}
    late = [i for i in waiting if made[i] >= day - timedelta(SOON_BAGGED_DAYS)]
    if late:
        return min(late, key=made.__getitem__)
    return max(waiting, key=made.__getitem__, default=None)


def by_amount(amount: LotLeft) -> Strength:
    """Return the strength that is meant where none is said: baits are counted, freebies weighed."""
    return "hookbait" if amount.stock.kind == "piece" else "freebie"


def note_count(
    day: str,
    counted: Mapping[Kind, LotLeft],
    draft: Draft,
    stock: tuple[Draft, OpenShelf],
    *,
    rest_none: bool,
) -> Note:
    """Return the note of what bait is there: it beats all that was written before."""
    lots, today = lots_of(stock[1]), date.fromisoformat(day)
    kinds = {(fold(name), strength) for name, strength in counted}
    after = [None if rest_none and lot.kind not in kinds else lot for lot in lots]
    known = {"counted": today, "weighed": "yes"}
    added = []
    for (name, strength), amount in counted.items():
        own = [i for i, lot in enumerate(lots) if lot.kind == (fold(name), strength)]
        if own:
            left = newest_that_are([lots[i] for i in own], amount)
            for i, lot in zip(own, left, strict=True):
                after[i] = lot and lot.model_copy(update=known)
        elif amount.stock.number:
            new = Lot.model_construct(recipe=name, strength=strength, left=amount, since=today)
            added.append(new.model_copy(update=known))
    made = lots_after(stock[1], after, added)
    told = {kind_text(*kind): str(amount) for kind, amount in counted.items()}
    fields: Fields = {"date": day, "counted": told}
    fields |= {"rest": "none"} if rest_none else {}
    return Note(
        "count",
        "Bait in hand",
        day,
        {"counted": len(counted)},
        (stock[0].change(made.text), entry_change(draft, "count", fields | made.patch)),
        draft.file,
        stock[0].file,
        lots=made.changes,
        remarks=() if made.changes else ("The shelf held just that.",),
    )


class TripTaken(NamedTuple):
    """A trip that is noted: its plan and names, its wants and those of trips that nobody noted."""

    date: str
    plan: str
    leave: str
    last_day: str
    name: str | None
    wants: tuple[Want, ...]
    names: Mapping[Kind, str]
    """Recipes as they are spelt, by folded name and strength."""
    home: Mapping[Kind, LotLeft]
    assumed: Mapping[str, str]
    """Trips before it that nobody noted: their names, by the day they began."""
    trip: int


def note_trip(
    asked: TripTaken, life: ShelfLife, draft: Draft, stock: tuple[Draft, OpenShelf]
) -> Note:
    """Return the note of a trip: what it took, oldest first, and what came home thawed."""
    lots = lots_of(stock[1])
    given = allot(lots, asked.wants, life)
    took_g: dict[Kind, float] = {}
    made_on: dict[Kind, list[date]] = {}
    for one in given:
        if asked.wants[one.want].trip == asked.trip:
            lot = lots[one.lot]
            took_g[lot.kind] = took_g.get(lot.kind, 0.0) + one.g
            made_on.setdefault(lot.kind, []).extend([lot.made] if lot.made else [])
    since = min(asked.date, asked.last_day)
    added = [
        Lot.model_construct(
            recipe=asked.names.get(kind, kind[0]),
            strength=kind[1],
            left=amount,
            made=min(made_on.get(kind, ()), default=None),
            state="thawed",
            since=date.fromisoformat(since),
        )
        for kind, amount in asked.home.items()
        if amount.stock.number
    ]
    made = lots_after(stock[1], after_giving(lots, given), added)
    told = {kind_text(asked.names[kind], kind[1]): str(grams(g)) for kind, g in took_g.items()}
    home = {kind_text(lot.recipe, lot.strength): str(lot.left) for lot in added}
    fields: Fields = {"date": asked.date, "plan": asked.plan, "leave": asked.leave}
    fields |= {"name": asked.name} if asked.name else {}
    texts = {"took": told, "home": home, "assumed": dict(asked.assumed)}
    fields |= {key: value for key, value in texts.items() if value}
    return Note(
        "trip",
        asked.name or f"Trip of {asked.leave}",
        asked.date,
        {"plan": asked.plan, "leave": asked.leave, "took_g": sum(took_g.values())},
        (stock[0].change(made.text), entry_change(draft, "trip", fields | made.patch)),
        draft.file,
        stock[0].file,
        lots=made.changes,
        remarks=tuple(_trip_remarks(asked, took_g)),
    )


def _trip_remarks(asked: TripTaken, took_g: Mapping[Kind, float]) -> Iterator[str]:
    for leave, name in asked.assumed.items():
        yield f"{name}, {leave}, was never noted: booked as planned, nothing came home."
    need_g: dict[Kind, float] = {}
    for want in asked.wants:
        if want.trip == asked.trip:
            need_g[want.kind] = need_g.get(want.kind, 0.0) + want.need_g
    for kind, wanted_g in need_g.items():
        if took_g.get(kind, 0.0) < ENOUGH * wanted_g:
            held, planned = (grams(g) for g in (took_g.get(kind, 0.0), wanted_g))
            yield (
                f"{kind_text(asked.names[kind], kind[1])}: of the {planned} planned the books held {held}, "
                "and that is booked."
            )
    for kind in asked.home:
        if kind not in took_g:
            yield f"{kind_text(asked.names.get(kind, kind[0]), kind[1])}: came home, but was not taken."
