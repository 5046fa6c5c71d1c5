"""Taking back what was noted last."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import TYPE_CHECKING

from eggfold.amounts import AmountError
from eggfold.edit.splice import Splice, drop_last, last_entry, patch_back, spliced
from eggfold.edit.stocktaking import left_splice, refuse_harm
from eggfold.errors import NoAnswerError, ProblemsError, UsageProblemError
from eggfold.load.notebook import (
    MODELS,
    BoughtEntry,
    BowlEntry,
    CutEntry,
    Dated,
    Fished,
    Noted,
    RolledEntry,
    SectionName,
    TripEntry,
    read_entries,
)
from eggfold.load.shelf import Stock, parse_stock
from eggfold.records import NamedTuple
from eggfold.stock.noting import Figures, Note
from eggfold.stock.withdraw import Passed, Withdrawal, WithdrawnItem, left_after
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.edit.writing import Change, Draft
    from eggfold.load.shelf import OpenShelf


class _Return(NamedTuple):
    """What goes back to one item, and the text that its ``left`` gets."""

    drawn: WithdrawnItem
    text: str


def undo_last(name: SectionName, draft: Draft, stock: tuple[Draft, OpenShelf] | None) -> Note:
    """Return the note that takes a section's last entry back, with what it changed on the shelf.

    What the shelf held before stands there again as it was written; where an item was changed since,
    what was drawn is added to what is left now. Raises NoAnswerError where other lines were.
    """
    entry = _last(name, draft)
    text = drop_last(draft.source, name, entry.began)
    changes: tuple[Change, ...] = (draft.change(text),)
    drawing = Withdrawal()
    drew = entry.drew if isinstance(entry, RolledEntry) else {}
    if drew or entry.now:
        if stock is None:
            what = f"drew {', '.join(drew)}" if drew else "changed the shelf"
            raise UsageProblemError(f"that note {what}; name the shelf with --shelf")
        drawing, shelf_change = _give_back(entry, *stock)
        changes = (shelf_change, *changes)
    return Note(
        "undone",
        _title(entry),
        entry.date,
        _figures(entry),
        changes,
        draft.file,
        stock[0].file if stock and (drew or entry.now) else None,
        drawing,
        () if text else (f"{draft.file} held nothing else and is gone.",),
    )


def _title(entry: Dated) -> str:
    if isinstance(entry, Noted):
        return entry.recipe
    if isinstance(entry, TripEntry):
        return entry.name or f"Trip of {entry.leave}"
    if isinstance(entry, BoughtEntry):
        return next(iter(entry.bought)) if len(entry.bought) == 1 else f"{len(entry.bought)} things"
    return "Bait in hand"


def _figures(entry: Dated) -> Figures:
    if isinstance(entry, BowlEntry):
        liquid_g = amount_in(entry.liquid, "g") if entry.liquid else None
        return {"strength": entry.strength, "eggs": entry.eggs, "liquid_g": liquid_g}
    if isinstance(entry, CutEntry):
        size_mm, time_s = amount_in(entry.size, "mm"), amount_in(entry.boiled, "s")
        return {"diameter_mm": size_mm, "after_s": time_s, "looked": entry.looked}
    if isinstance(entry, Fished):
        return {"rods": entry.rods, "hours": entry.hours, "takes": entry.takes}
    return {}


def _last(name: SectionName, draft: Draft) -> Dated:
    placed = last_entry(draft.source, name)
    if placed is None:
        raise NoAnswerError(f"{draft.file} holds no note {name}, so nothing can be taken back")
    entries, problems = read_entries(MODELS[name], placed, name)
    if problems:
        raise ProblemsError(problems)
    return entries[0]


def _give_back(entry: Dated, draft: Draft, shelf: OpenShelf) -> tuple[Withdrawal, Change]:
    returns: list[_Return] = []
    passed: list[Passed] = []
    if isinstance(entry, RolledEntry):
        outcomes = [_return(entry, name, shelf) for name in entry.drew]
        passed += [one for one in outcomes if isinstance(one, Passed)]
        returns += [one for one in outcomes if isinstance(one, _Return)]
    splices: list[Splice] = [left_splice(shelf, r.drawn.name, r.text) for r in returns]
    try:
        splices += patch_back(draft.source.text, entry.was, entry.now)
    except LookupError as error:
        raise NoAnswerError(
            f"line {error} of {draft.file} was changed since, so this cannot be taken back alone: take "
            "back what was noted after it first, or mend the file yourself"
        ) from error
    text = spliced(draft.source.text, splices)
    touched = {r.drawn.name for r in returns} | {*_bought(entry)}
    if text:
        refuse_harm(draft.file, text, shelf, touched, baits=True)
    return Withdrawal(tuple(r.drawn for r in returns), tuple(passed)), draft.change(text)


def _bought(entry: Dated) -> Iterable[str]:
    return entry.bought if isinstance(entry, BoughtEntry) else ()


def _return(entry: RolledEntry, name: str, shelf: OpenShelf) -> _Return | Passed:
    found = shelf.find(name)
    if found is None:
        return Passed(name, "no longer on the shelf")
    own, item = found
    try:
        drew = parse_stock(entry.drew[name])
        corrected = parse_stock(entry.corrected[name]) if name in entry.corrected else None
    except AmountError as error:
        return Passed(name, error.message)
    if item.left is None or item.left.kind != drew.kind:
        return Passed(own, f"{drew} was drawn, and the shelf now counts it another way")
    amount = shelf.exact(drew)
    had = entry.had.get(name)
    if had is not None and _unchanged_since(shelf, had, amount, item.left):
        before = parse_stock(_bare(had))
        return _Return(WithdrawnItem(own, drew, item.left, before, shelf.exact(before)), had)
    back = amount - (shelf.exact(corrected) if corrected else 0)
    left = left_after(shelf, item.left, back)
    return _Return(WithdrawnItem(own, drew, item.left, left, shelf.exact(left)), str(left))


def _unchanged_since(shelf: OpenShelf, had: str, drew: Fraction, now: Stock) -> bool:
    """Tell whether an item still holds what the draw left in it."""
    try:
        return left_after(shelf, parse_stock(_bare(had)), -drew) == now
    except AmountError:
        return False


def _bare(text: str) -> str:
    return text.strip("\"'")
