"""``note trip`` and ``note bought PLAN``: notes that a season's or a weekend's plan is asked for."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from eggfold.edit.writing import open_draft
from eggfold.errors import FileAccessError, NoAnswerError, OptionError
from eggfold.load.load_plan import OpenPlan, open_campaign, plan_kind
from eggfold.load.load_recipe import with_ending
from eggfold.load.lots import LotLeft, lots_of
from eggfold.load.notebook import open_notebook
from eggfold.load.plan import Campaign
from eggfold.load.shelf import OpenShelf, Stock, parse_stock
from eggfold.nearest import fold
from eggfold.plan.in_hand import (
    build_wants,
    life_of,
    noted_trips,
    trip_name,
    trips_in_order,
)
from eggfold.recipe.bench import build_bench
from eggfold.reference.eggs import ANY_EGGS
from eggfold.stock.bait_notes import TripTaken, note_trip
from eggfold.stock.baits import Kind
from eggfold.stock.buying import BoughtItem
from eggfold.stock.noting import Note
from eggfold.stock.shopping import ShoppingItem
from eggfold.tasks.asked import Given
from eggfold.tasks.note import Books, keep_note, shelf_to_change, undo
from eggfold.tasks.note_stock import (
    books_of,
    kind_and_amount,
    put_on_shelf,
    shelf_of,
    with_notebook,
)
from eggfold.tasks.plans import due_items, open_good, trip_of
from eggfold.tasks.run import begin, finish
from eggfold.tasks.surroundings import past_day


def travel(given: Given) -> int:
    """Note a trip, or take the last one back."""
    if given["undo"]:
        return undo("trip", given)
    if given["plan"] is None:
        raise OptionError("which plan? As in: eggfold note trip season.yaml")
    day = past_day(given["date"])
    opened, findings = open_good(open_campaign, given["plan"], begin(given, stocked=True), day)
    if opened is None:
        return finish(findings)
    books = books_of(given, given["plan"])
    on_shelf = {lot.kind for lot in lots_of(shelf_of(books))}
    home: dict[Kind, LotLeft] = {}
    for text in given["home"]:
        kind, amount = kind_and_amount(text, books, on_shelf, "--home")
        home[kind] = amount
    return keep_note(books, given, _travelled, opened, given["trip"], home, day)


def _travelled(
    books: Books,
    opened: OpenPlan[Campaign],
    named: str | None,
    home: dict[Kind, LotLeft],
    day: str,
) -> Note:
    draft, stock = open_draft(books.notebook), shelf_to_change(books.shelf)
    noted = noted_trips(open_notebook(books.notebook, ("trip",))[0] if draft.old else None)
    trips = opened.plan.trips
    left = [i for i in trips_in_order(opened.plan) if trips[i].leave <= day]
    number = _trip(opened.plan, named, [i for i in left if trips[i].leave not in noted])
    trip = trips[number]
    if trip.leave > day:
        raise NoAnswerError(f"{trip_name(trip)} leaves on {trip.leave}, and today is {day}")
    if noted.get(trip.leave):
        raise NoAnswerError(
            f"{trip_name(trip)} is noted already: take that back with eggfold note trip --undo"
        )
    taken = [] if trip.leave in noted else left[: left.index(number) + 1]
    taken = [i for i in taken if trips[i].leave not in noted]
    wants = build_wants(opened, taken)
    spelt = {fold(one.recipe.name): one.recipe.name for one in opened.recipes.values()}
    spelt |= {fold(name): name for name, _ in home}
    kinds = dict.fromkeys([*(want.kind for want in wants), *((fold(n), s) for n, s in home)])
    bench = build_bench(opened.companions.bench)
    asked = TripTaken(
        day,
        Path(opened.file).name,
        trip.leave,
        trip.last_day,
        trip.name,
        wants,
        {kind: spelt[kind[0]] for kind in kinds},
        {(fold(name), strength): amount for (name, strength), amount in home.items()},
        {trips[i].leave: trip_name(trips[i]) for i in taken if i != number},
        number,
    )
    return note_trip(asked, life_of(opened.plan, bench.drying_h), draft, stock)


def _trip(plan: Campaign, named: str | None, left: list[int]) -> int:
    """Return the trip that is meant: by its day or any unique part of its name, else the last to leave."""
    if named is None:
        if left:
            return left[-1]
        raise NoAnswerError("no trip of this plan has begun that is not noted")
    return trip_of(plan, named)


def buy_list(given: Given) -> int:
    """Note that what a plan says to buy next was bought."""
    plan = with_ending(" ".join(given["item"].split()))
    if not plan_kind(plan):
        raise OptionError(f"AMOUNT: how much of {plan}?")
    if given["price"] is not None:
        raise OptionError("--price is that of one thing; the packs of a list have theirs")
    day = past_day(given["date"])
    items, shelf, findings = due_items(plan, begin(given, stocked=True), day)
    if items is None:
        return finish(findings)
    if shelf is None:
        raise FileAccessError("shelf.yaml", "there is no shelf beside the plan to put it on")
    eggs = given["use_by"]
    bought = [
        one._replace(use_by=eggs if item.unit == "piece" and ANY_EGGS in fold(one.item) else None)
        for item in items
        if (one := _bought_item(item, shelf, day))
    ]
    if not bought:
        raise NoAnswerError(f"{plan}: nothing is to be bought")
    books = with_notebook(shelf.file, given)
    return keep_note(books, given, put_on_shelf, bought, Path(plan).name)


def _bought_item(item: ShoppingItem, shelf: OpenShelf, day: str) -> BoughtItem | None:
    """Return what to buy of a thing: its packs, else what is missing; None where that is nothing."""
    name = item.on_shelf or item.name
    own = shelf.shelf.items.get(name)
    if own is not None and own.left is None and not item.buy:
        return None
    if item.buy:
        packs = [(parse_stock(line.pack), line.packs) for line in item.buy]
        amount = sum((shelf.exact(pack) * n for pack, n in packs), Fraction(0))
        return BoughtItem(name, Stock(amount, packs[0][0].kind), None, day)
    missing = round(item.need - (item.in_hand or 0.0))
    return BoughtItem(name, Stock(Fraction(missing), item.unit), None, day) if missing > 0 else None
