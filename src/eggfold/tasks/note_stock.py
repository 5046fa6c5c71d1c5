"""``note bagged``, ``count`` and ``bought``: what changes the shelf beside the notebook."""

from __future__ import annotations

from pathlib import Path

from eggfold.amounts import AmountError, in_our_digits
from eggfold.edit.writing import open_draft
from eggfold.errors import FileAccessError, OptionError, UsageProblemError, in_quotes
from eggfold.load.folder import companion
from eggfold.load.gate import LONGEST_NAME
from eggfold.load.lots import LotLeft, LotState, lots_of, parse_left
from eggfold.load.names import names_beside, own_name, read_keys
from eggfold.load.recipe import STRENGTHS
from eggfold.load.shelf import (
    OpenShelf,
    number_and_currency,
    open_shelf,
    parse_price,
    parse_stock,
)
from eggfold.nearest import did_you_mean, fold
from eggfold.stock.bait_notes import (
    Bagged,
    by_amount,
    note_bagged,
    note_count,
)
from eggfold.stock.baits import Kind
from eggfold.stock.buying import BoughtItem, Price, note_bought
from eggfold.stock.noting import Note
from eggfold.tasks.asked import Given, amount_error
from eggfold.tasks.note import Books, keep_note, meant_recipe, shelf_to_change, undo
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
    books = books_of(given, given["recipe"])
    name = _recipe_name(given["recipe"], books)
    amount = _left(given["amount"], "AMOUNT")
    if not amount.stock.number:
        raise OptionError("AMOUNT: nothing was bagged; what is gone is said with note count")
    asked = Bagged(past_day(given["date"]), name, given["strength"], amount, state)
    return keep_note(books, given, _bagged, asked)


def _bagged(books: Books, asked: Bagged) -> Note:
    return note_bagged(asked, open_draft(books.notebook), shelf_to_change(books.shelf))


def count(given: Given) -> int:
    """Note what bait is there, or take the last count back."""
    if given["undo"]:
        return undo("count", given)
    if not given["baits"] and not given["rest_none"]:
        raise OptionError("what is there? As in: caraway=3kg 'caraway hookbait=240'")
    books = books_of(given, None)
    on_shelf = {lot.kind for lot in lots_of(shelf_of(books))}
    counted: dict[Kind, LotLeft] = {}
    for text in given["baits"]:
        kind, amount = kind_and_amount(text, books, on_shelf, "BAIT")
        if kind in counted:
            raise OptionError(f"BAIT: {kind[0]} {kind[1]} is counted twice")
        counted[kind] = amount
    day = past_day(given["date"])
    return keep_note(books, given, _counted, day, counted, rest_none=given["rest_none"])


def _counted(books: Books, day: str, counted: dict[Kind, LotLeft], *, rest_none: bool) -> Note:
    stock = shelf_to_change(books.shelf)
    return note_count(day, counted, open_draft(books.notebook), stock, rest_none=rest_none)


def buy(given: Given) -> int:
    """Note a purchase, or take the last one back."""
    if given["undo"]:
        return undo("bought", given)
    name = " ".join((given["item"] or "").split())
    if not name or not name.isprintable():
        raise OptionError("ITEM: what was bought? Give its name as it stands on the shelf")
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
    return keep_note(with_notebook(shelf, given), given, put_on_shelf, [purchase], None)


def put_on_shelf(books: Books, purchases: list[BoughtItem], plan: str | None) -> Note:
    """Return the note of purchases."""
    draft = open_draft(books.shelf)
    stock = None if draft.old is None else shelf_to_change(books.shelf)[1]
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


def books_of(given: Given, beside: str | None) -> Books:
    """Return the shelf that is meant and the notebook beside it."""
    file = beside if beside and Path(beside).exists() else None
    shelf = companion("shelf", file, given["shelf"])
    if shelf is None:
        raise OptionError("there is no shelf.yaml here, so no bait is kept; name one with --shelf")
    return with_notebook(shelf, given)


def with_notebook(shelf: str, given: Given) -> Books:
    """Return a shelf and the notebook beside it."""
    found = companion("notebook", shelf, given["notebook"])
    return Books(found or str(Path(shelf).parent / "notebook.yaml"), shelf)


def shelf_of(books: Books) -> OpenShelf:
    """Return the shelf of some books; raises FileAccessError where there is none to read."""
    shelf, _ = open_shelf(books.shelf)
    if shelf is None:
        raise FileAccessError(books.shelf, "cannot be read as a shelf")
    return shelf


def kind_and_amount(
    text: str, books: Books, on_shelf: set[Kind], option: str
) -> tuple[Kind, LotLeft]:
    """Read ``RECIPE [STRENGTH]=AMOUNT``; a strength that is not said is the one that is there."""
    part, equals, amount = text.rpartition("=")
    if not equals or not part.strip():
        raise OptionError(f"{option}: {in_quotes(text)} says no amount; write RECIPE=AMOUNT")
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
    names = dict.fromkeys(lot.recipe for lot in lots_of(shelf_of(books)))
    found = [name for name in names if fold(part) in fold(name)]
    if len(found) == 1:
        return found[0]
    hint = did_you_mean(part, names)
    raise UsageProblemError(
        f"no recipe here is called {in_quotes(part)}{f'; {hint}' if hint else ''}"
    )
