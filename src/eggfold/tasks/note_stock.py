"""``note bagged``, ``count``, ``trip`` and ``bought``: what changes the shelf beside the notebook."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from eggfold.amounts import AmountError, in_our_digits
from eggfold.edit.writing import open_draft
from eggfold.errors import FileAccessError, NoAnswerError, OptionError, UsageProblemError
from eggfold.load.folder import companion
from eggfold.load.gate import LONGEST_NAME
from eggfold.load.load_plan import OpenPlan, plan_kind
from eggfold.load.load_recipe import with_ending
from eggfold.load.lots import LotLeft, LotState, lots_of, parse_left
from eggfold.load.names import names_beside, own_name, read_keys
from eggfold.load.notebook import open_notebook
from eggfold.load.plan import Campaign
from eggfold.load.recipe import STRENGTHS
from eggfold.load.shelf import (
    OpenShelf,
    Stock,
    number_and_currency,
    open_shelf,
    parse_price,
    parse_stock,
)
from eggfold.nearest import did_you_mean, fold
from eggfold.plan.in_hand import (
    build_wants,
    life_of,
    noted_trips,
    trip_name,
    trips_in_order,
)
from eggfold.recipe.bench import build_bench
from eggfold.reference.eggs import ANY_EGGS
from eggfold.stock.bait_notes import (
    Bagged,
    TripTaken,
    by_amount,
    note_bagged,
    note_count,
    note_trip,
)
from eggfold.stock.baits import Kind
from eggfold.stock.buying import BoughtItem, Price, note_bought
from eggfold.stock.noting import Note
from eggfold.stock.shopping import ShoppingItem
from eggfold.tasks.asked import Given, amount_error
from eggfold.tasks.note import Books, keep_note, meant_recipe, open_stock, undo
from eggfold.tasks.plans import due_items, opened_campaign, trip_of
from eggfold.tasks.run import finish, open_workspace
from eggfold.tasks.surroundings import past_day


def bag(given: Given) -> int:
    """Note dried bait on the scale, or take the last one back."""
    if given["undo"]:
        return undo("bagged", given)
    if given["recipe"] is None or given["amount"] is None:
        raise OptionError("which bait, and how much of it? As in: caraway 6.2kg")
    if given["fresh"] and given["dried"]:
        raise OptionError("it is --fresh or --dried; without either it goes into the freezer")
    state: LotState = "fresh" if given["fresh"] else "dried" if given["dried"] else "frozen"
    books = _books(given, given["recipe"])
    name = _recipe_name(given["recipe"], books)
    amount = _left(given["amount"], "AMOUNT")
    if not amount.stock.number:
        raise OptionError("AMOUNT: nothing was bagged; what is gone is said with note count")
    asked = Bagged(past_day(given["date"]), name, given["strength"], amount, state)
    return keep_note(books, given, _bagged, asked)


def _bagged(books: Books, asked: Bagged) -> Note:
    return note_bagged(asked, open_draft(books.notebook), open_stock(books.shelf))


def count(given: Given) -> int:
    """Note what bait is there, or take the last count back."""
    if given["undo"]:
        return undo("count", given)
    if not given["baits"] and not given["rest_none"]:
        raise OptionError("what is there? As in: caraway=3kg 'caraway hookbait=240'")
    books = _books(given, None)
    lots = lots_of(_shelf_of(books))
    on_shelf = {(fold(lot.recipe), lot.strength) for lot in lots}
    counted: dict[Kind, LotLeft] = {}
    for text in given["baits"]:
        kind, amount = _kind_and_amount(text, books, on_shelf, "BAIT")
        if kind in counted:
            raise OptionError(f"BAIT: {kind[0]} {kind[1]} is counted twice")
        counted[kind] = amount
    day = past_day(given["date"])
    return keep_note(books, given, _counted, day, counted, rest_none=given["rest_none"])


def _counted(books: Books, day: str, counted: dict[Kind, LotLeft], *, rest_none: bool) -> Note:
    stock = open_stock(books.shelf)
    return note_count(day, counted, open_draft(books.notebook), stock, rest_none=rest_none)


def travel(given: Given) -> int:
    """Note a trip, or take the last one back."""
    if given["undo"]:
        return undo("trip", given)
    if given["plan"] is None:
        raise OptionError("which plan? As in: eggfold note trip season.yaml")
    workspace = open_workspace((), given, stocked=True)
    day = past_day(given["date"])
    opened = opened_campaign(workspace, given["plan"], day)
    if opened is None:
        return finish(workspace)
    books = _books(given, given["plan"])
    lots = lots_of(_shelf_of(books))
    on_shelf = {(fold(lot.recipe), lot.strength) for lot in lots}
    home: dict[Kind, LotLeft] = {}
    for text in given["home"]:
        kind, amount = _kind_and_amount(text, books, on_shelf, "--home")
        home[kind] = amount
    return keep_note(books, given, _travelled, opened, given["trip"], home, day)


def _travelled(
    books: Books,
    opened: OpenPlan[Campaign],
    named: str | None,
    home: dict[Kind, LotLeft],
    day: str,
) -> Note:
    draft, stock = open_draft(books.notebook), open_stock(books.shelf)
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
    before = left[: left.index(number)] if trip.leave not in noted else []
    unnoted = [i for i in before if trips[i].leave not in noted]
    wants = build_wants(opened, [*unnoted, number] if trip.leave not in noted else [])
    names = {(want.kind[0], want.kind[1]): "" for want in wants}
    spelt = {fold(one.recipe.name): one.recipe.name for one in opened.recipes.values()}
    spelt |= {fold(name): name for name, _ in home}
    kinds = dict.fromkeys([*names, *((fold(n), s) for n, s in home)])
    bench = build_bench(next(iter(opened.recipes.values())).companions.bench)
    asked = TripTaken(
        day,
        Path(opened.file).name,
        trip.leave,
        trip.last_day,
        trip.name,
        wants,
        {kind: spelt[kind[0]] for kind in kinds},
        {(fold(name), strength): amount for (name, strength), amount in home.items()},
        {trips[i].leave: trip_name(trips[i]) for i in unnoted},
        number,
    )
    return note_trip(asked, life_of(opened.plan, bench.drying_h), draft, stock)


def _trip(plan: Campaign, named: str | None, left: list[int]) -> int:
    """Return the trip that is meant: by its day or any unique part of its name, else the last to leave."""
    if named is None:
        if left:
            return left[-1]
        raise NoAnswerError("no trip of this plan has left that was not noted yet")
    return trip_of(plan, named)


def buy(given: Given) -> int:
    """Note a purchase, or take the last one back."""
    if given["undo"]:
        return undo("bought", given)
    name = " ".join((given["item"] or "").split())
    if not name or not name.isprintable():
        raise OptionError("ITEM: what was bought? Give its name as it stands on the shelf")
    if given["amount"] is None and plan_kind(plan := with_ending(name)):
        return _buy_list(plan, given)
    if len(name) > LONGEST_NAME:
        raise OptionError(f"ITEM: a name has at most {LONGEST_NAME} characters")
    if given["amount"] is None:
        raise OptionError(f"AMOUNT: how much of {name}?")
    try:
        stock = parse_stock(given["amount"])
    except AmountError as error:
        raise amount_error("AMOUNT", error) from error
    day, use_by = past_day(given["date"]), given["use_by"]
    purchase = BoughtItem(name, stock, _price(given["price"]), day, use_by)
    shelf = companion("shelf", None, given["shelf"]) or "shelf.yaml"
    return keep_note(_with_notebook(shelf, given), given, _bought, [purchase], None)


def _buy_list(plan: str, given: Given) -> int:
    """Note that what a plan says to buy next was bought."""
    if given["price"] is not None:
        raise OptionError("--price is that of one thing; the packs of a list have theirs")
    day = past_day(given["date"])
    workspace = open_workspace((), given, stocked=True)
    items = due_items(workspace, plan, day)
    if items is None:
        return finish(workspace)
    shelf = workspace.companions.shelf
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
    books = _with_notebook(shelf.file, given)
    return keep_note(books, given, _bought, bought, Path(plan).name)


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


def _bought(books: Books, purchases: list[BoughtItem], plan: str | None) -> Note:
    draft = open_draft(books.shelf)
    stock = None if draft.old is None else open_stock(books.shelf)[1]
    used = names_beside(books.shelf)
    return note_bought(purchases, open_draft(books.notebook), (draft, stock), used, plan)


def _price(text: str | None) -> Price | None:
    if text is None:
        return None
    digits = in_our_digits(text.strip())
    number, currency = number_and_currency(digits) or (digits, None)
    try:
        parse_price(number)
    except AmountError as error:
        raise amount_error("--price", error) from error
    return Price(number, currency or None)


def _books(given: Given, beside: str | None) -> Books:
    """Return the shelf that is meant and the notebook beside it."""
    file = beside if beside and Path(beside).exists() else None
    shelf = companion("shelf", file, given["shelf"])
    if shelf is None:
        raise OptionError("there is no shelf.yaml here, so no bait is kept; name one with --shelf")
    return _with_notebook(shelf, given)


def _with_notebook(shelf: str, given: Given) -> Books:
    found = companion("notebook", shelf, given["notebook"])
    return Books(found or str(Path(shelf).parent / "notebook.yaml"), shelf)


def _shelf_of(books: Books) -> OpenShelf:
    shelf, _ = open_shelf(books.shelf)
    if shelf is None:
        raise FileAccessError(books.shelf, "cannot be read as a shelf")
    return shelf


def _kind_and_amount(
    text: str, books: Books, on_shelf: set[Kind], option: str
) -> tuple[Kind, LotLeft]:
    """Read ``RECIPE [STRENGTH]=AMOUNT``; a strength that is not said is the one that is there."""
    part, equals, amount = text.rpartition("=")
    if not equals or not part.strip():
        raise OptionError(f"{option}: '{text[:60]}' says no amount; write RECIPE=AMOUNT")
    left = _left(amount, option)
    words = part.split()
    said = next((s for s in STRENGTHS if fold(words[-1]).rstrip("s") == s), None)
    name = _recipe_name(" ".join(words[:-1] if said and len(words) > 1 else words), books)
    there = [strength for n, strength in on_shelf if n == fold(name)]
    only = there[0] if len(there) == 1 else by_amount(left)
    return (name, said if said and len(words) > 1 else only), left


def _left(text: str, option: str) -> LotLeft:
    try:
        return parse_left(text)
    except AmountError as error:
        raise amount_error(option, error) from error


def _recipe_name(part: str, books: Books) -> str:
    """Return the name of the recipe that is meant, beside the shelf or on it."""
    file = meant_recipe(part, str(Path(books.shelf).parent))
    if Path(file).is_file():
        return own_name(read_keys(file)) or Path(file).stem
    names = dict.fromkeys(lot.recipe for lot in lots_of(_shelf_of(books)))
    found = [name for name in names if fold(part) in fold(name)]
    if len(found) == 1:
        return found[0]
    hint = did_you_mean(part, names)
    raise UsageProblemError(f"no recipe here is called '{part[:60]}'{f'; {hint}' if hint else ''}")
