"""``note``: read what was typed, keep the note, show it."""

from __future__ import annotations

import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Concatenate, NamedTuple, ParamSpec

from eggfold.amounts import Amount, AmountError, Dimension, parse_amount
from eggfold.edit.commit import warnings, writing, written
from eggfold.edit.writing import Draft, open_draft
from eggfold.errors import FileAccessError, OptionError, ProblemsError, errors_of
from eggfold.formats.characters import clean
from eggfold.formats.difference import differences_text
from eggfold.formats.json import Data, document
from eggfold.formats.problems import problems_text
from eggfold.load.eggs import MOST_EGGS
from eggfold.load.folder import companion, folder_of
from eggfold.load.gate import LONGEST_NAME
from eggfold.load.load_recipe import OpenRecipe, shared_name
from eggfold.load.names import names_beside
from eggfold.load.notebook import SectionName
from eggfold.load.problem_limit import told
from eggfold.load.recipe import STRENGTHS, Strength
from eggfold.load.register import SPARE_NAME
from eggfold.load.shelf import OpenShelf, number_and_currency, open_shelf, parse_price, parse_stock
from eggfold.load.workspace import Workspace
from eggfold.pages.note import note_page
from eggfold.recipe.asked import Asked
from eggfold.recipe.batch import Batch, build_batch
from eggfold.stock.buying import BoughtItem, Price, note_bought
from eggfold.stock.noting import (
    AskedBowl,
    AskedCut,
    AskedOuting,
    Note,
    build_bowl,
    note_cut,
    note_fished,
    note_rolled,
    note_weighed,
)
from eggfold.stock.undoing import undo_last
from eggfold.tasks.asked import Given, amount_error, egg_option, whole_option
from eggfold.tasks.delivery import print_json, print_page
from eggfold.tasks.run import finish, need_strength, open_workspace
from eggfold.tasks.surroundings import PLAIN, past_day, say, show, silence_stdout
from eggfold.units import amount_in

P = ParamSpec("P")
_SPELLED = {"strength": "as", "set_through": "set"}
"""Options whose name is not that of their value."""


class Books(NamedTuple):
    """The files that a note goes into, empty where it does not."""

    notebook: str = ""
    shelf: str = ""


def weigh(given: Given) -> int:
    """Note a weighing, or take the last one back."""
    if given["undo"]:
        return _undo("weighed", given)
    workspace = _workspace(_recipe(given, "weighed"), given)
    opened = _one_recipe(workspace)
    if opened is None:
        return finish(workspace)
    for key in ("before", "after"):
        if given[key] is None:
            raise OptionError(f"--{key}: what the bag weighed {key} is missing")
    strength: Strength = given["strength"] or _usual_strength(opened)
    if not _answerable(workspace, opened, strength):
        return finish(workspace)
    asked = _bowl(given, strength)
    batch = build_bowl(opened, asked)
    notebook = _notebook_for(opened.file, given)
    assumed = not given["strength"] and asked.eggs > 1
    return _keep(Books(notebook), given, _weighed, batch, asked, assumed=assumed)


def _weighed(books: Books, batch: Batch, asked: AskedBowl, *, assumed: bool) -> Note:
    """Return the note of a weighing, with a remark where its strength was ``assumed``."""
    note = note_weighed(batch, asked, _notebook(books))
    if not assumed:
        return note
    other = "hookbait" if asked.strength == "freebie" else "freebie"
    text = f"Noted at {asked.strength} doses; if these were {other} doses, say --as {other}."
    return note._replace(remarks=(*note.remarks, text))


def roll(given: Given) -> int:
    """Note a rolled bowl and draw the shelf, or take the last one back."""
    if given["undo"]:
        return _undo("rolled", given)
    workspace = _workspace(_recipe(given, "rolled"), given)
    if given["strength"] is None and _eggs(given) != 1:
        need_strength(workspace, None)
    opened = _one_recipe(workspace)
    strength: Strength = given["strength"] or "hookbait"
    if opened is None or not _answerable(workspace, opened, strength):
        return finish(workspace)
    asked = _bowl(given, strength)
    batch = build_bowl(opened, asked)
    notebook = _notebook_for(opened.file, given)
    shelf = companion("shelf", opened.file, given["shelf"])
    return _keep(Books(notebook, shelf or ""), given, _rolled, batch, asked, force=given["force"])


def _rolled(books: Books, batch: Batch, asked: AskedBowl, *, force: bool) -> Note:
    return note_rolled(batch, asked, _notebook(books), _stock_of(books), force=force)


def _undo(section: SectionName, given: Given) -> int:
    """Take back what was noted last."""
    kept = {"recipe", "date", "undo", "notebook", "shelf", "dry_run", "form", "additives"}
    others = [key for key, value in given.items() if value and key not in kept]
    if given["recipe"] is not None or others:
        extra = f"--{_SPELLED.get(others[0], others[0])}" if others else "a recipe"
        raise OptionError(
            f"--undo takes back what was noted last and stands alone, without {extra}"
        )
    notebook = companion("notebook", None, given["notebook"])
    if notebook is None:
        raise OptionError("there is no notebook.yaml here; name one with --notebook")
    shelf = companion("shelf", notebook, given["shelf"]) if section == "rolled" else None
    return _keep(Books(notebook, shelf or ""), given, _undone, section)


def _undone(books: Books, section: SectionName) -> Note:
    return undo_last(section, _notebook(books), _stock_of(books))


def fish(given: Given) -> int:
    """Note a session, or take the last one back."""
    if given["undo"]:
        return _undo("fished", given)
    recipe = _recipe(given, "fished")
    if missing := [key for key in ("rods", "hours", "takes") if given[key] is None]:
        raise OptionError(f"--{missing[0]} is missing; none is 0")
    workspace = open_workspace((recipe,), {"without_notes": True})
    opened = _one_recipe(workspace)
    if opened is None or opened.recipe.name == SPARE_NAME:
        workspace.problems += opened.problems if opened else []
        return finish(workspace)
    name = opened.recipe.name
    asked = AskedOuting(
        past_day(given["date"]),
        given["rods"],
        given["hours"],
        given["takes"],
        _amount(given, "water", "temperature"),
        given["swim"],
        given["remark"],
    )
    notebook = _notebook_for(opened.file, given)
    return _keep(Books(notebook), given, _fished, name, asked)


def cut_open(given: Given) -> int:
    """Note two baits cut open, or take the last ones back."""
    if given["undo"]:
        return _undo("cut", given)
    recipe = _recipe(given, "cut")
    if missing := [key for key in ("diameter", "after") if given[key] is None]:
        raise OptionError(f"--{missing[0]} is missing: the bait's size, and how long it boiled")
    if given["raw"] == given["set_through"]:
        raise OptionError("say --raw or --set: was there a raw, shiny core, or none?")
    workspace = _workspace(recipe, given)
    opened = _one_recipe(workspace)
    if opened is None:
        return finish(workspace)
    strength: Strength = given["strength"] or _usual_strength(opened)
    if not _answerable(workspace, opened, strength):
        return finish(workspace)
    size, boiled = _amount(given, "diameter", "length"), _amount(given, "after", "time")
    assert size is not None  # noqa: S101 - both are given
    assert boiled is not None  # noqa: S101
    asked = AskedCut(
        past_day(given["date"]),
        size,
        boiled,
        "set" if given["set_through"] else "raw",
        _amount(given, "start", "temperature"),
        _amount(given, "altitude", "length"),
    )
    batch = build_batch(opened, Asked(strength, diameter_mm=amount_in(size, "mm")))
    return _keep(Books(_notebook_for(opened.file, given)), given, _cut, batch, asked)


def _cut(books: Books, batch: Batch, asked: AskedCut) -> Note:
    return note_cut(batch, asked, _notebook(books))


def _fished(books: Books, name: str, asked: AskedOuting) -> Note:
    return note_fished(name, asked, _notebook(books))


def buy(given: Given) -> int:
    """Note a purchase."""
    name = " ".join(given["item"].split())
    if not name or not name.isprintable():
        raise OptionError("ITEM: what was bought? Give its name as it stands on the shelf")
    if len(name) > LONGEST_NAME:
        raise OptionError(f"ITEM: a name has at most {LONGEST_NAME} characters")
    try:
        stock = parse_stock(given["amount"])
    except AmountError as error:
        raise amount_error("AMOUNT", error) from error
    purchase = BoughtItem(name, stock, _price(given["price"]), past_day(given["date"]))
    shelf = companion("shelf", None, given["shelf"]) or "shelf.yaml"
    return _keep(Books(shelf=shelf), given, _bought, purchase)


def _bought(books: Books, purchase: BoughtItem) -> Note:
    draft = open_draft(books.shelf)
    stock = None if draft.old is None else _stock(books.shelf)[1]
    return note_bought(purchase, draft, stock, names_beside(books.shelf))


def _recipe(given: Given, what: SectionName) -> str:
    recipe: str | None = given["recipe"]
    if recipe is None:
        raise OptionError(f"which recipe was {what}? Give its file, or --undo alone")
    return recipe


def _workspace(recipe: str, given: Given) -> Workspace:
    """Return the workspace of one recipe; a notebook that is named may be still to be made."""
    named = given["notebook"]
    notebook = named if named and Path(named).exists() else None
    return open_workspace((recipe,), {"additives": given["additives"], "notebook": notebook})


def _one_recipe(workspace: Workspace) -> OpenRecipe | None:
    """Return the one recipe that was named, None where it cannot be read or told from another."""
    opened = list(workspace.recipes())
    if workspace.seen + len(workspace.failures) > 1:
        raise OptionError("a note is of one recipe; name its file")
    if not opened:
        return None
    shared = shared_name(opened[0])
    workspace.problems += shared
    return None if shared else opened[0]


def _answerable(workspace: Workspace, opened: OpenRecipe, strength: Strength) -> bool:
    wrong = opened.answerable(strength)
    workspace.problems += wrong
    return not wrong


def _usual_strength(opened: OpenRecipe) -> Strength:
    """Return the doses of a bowl that does not say: hookbait where the recipe has them."""
    return next((s for s in STRENGTHS if not opened.answerable(s)), "hookbait")


def _eggs(given: Given) -> int:
    if given["eggs"] is None:
        raise OptionError("--eggs: how many eggs went in?")
    return whole_option("eggs", given["eggs"], MOST_EGGS)


def _bowl(given: Given, strength: Strength) -> AskedBowl:
    return AskedBowl(
        past_day(given["date"]),
        strength,
        _eggs(given),
        egg_option(given["egg"]),
        _amount(given, "before", "mass"),
        _amount(given, "after", "mass"),
        _amount(given, "scale", "mass"),
        _amount(given, "finished", "mass"),
        _amount(given, "hundred", "mass"),
        _amount(given, "diameter", "length"),
    )


def _amount(given: Given, key: str, dimension: Dimension) -> Amount | None:
    """Read an amount as it is to be written; its range is checked with the entry."""
    text = given.get(key)
    try:
        return None if text is None else parse_amount(text, dimension)
    except AmountError as error:
        if text and error.code == "no-unit" and (unit := _unit_of_the_other(given, key)):
            error.hint = f"{text.strip()} {unit} or {error.hint}"
        raise amount_error(f"--{key}", error) from error


def _unit_of_the_other(given: Given, key: str) -> str | None:
    """Return the larger unit that the bag's other weight was typed in, None where it is grams."""
    other = given.get({"before": "after", "after": "before"}.get(key, ""))
    try:
        unit = parse_amount(other, "mass").unit if other else None
    except AmountError:
        return None
    return unit if unit in ("kg", "lb") else None


def _price(text: str | None) -> Price | None:
    if text is None:
        return None
    number, _, currency = text.strip().partition(" ")
    try:
        parse_price(number)
    except AmountError as error:
        if both := number_and_currency(text):
            error.hint = " ".join(both)
        raise amount_error("--price", error) from error
    return Price(number, currency.strip() or None)


def _notebook_for(recipe: str, given: Given) -> str:
    """Return the notebook of a recipe; one that does not exist yet is made beside it."""
    folder = Path() if recipe == "-" else Path(recipe).parent
    return companion("notebook", recipe, given["notebook"]) or str(folder / "notebook.yaml")


def _notebook(books: Books) -> Draft:
    return open_draft(books.notebook)


def _stock_of(books: Books) -> tuple[Draft, OpenShelf] | None:
    return _stock(books.shelf) if books.shelf else None


def _stock(file: str) -> tuple[Draft, OpenShelf]:
    draft = open_draft(file)
    if draft.old is None:
        raise FileAccessError(file, "there is no such shelf")
    shelf, problems = open_shelf(file)
    errors = errors_of(problems)
    if shelf is None or errors:
        raise ProblemsError(errors)
    return draft, shelf


def _keep(
    books: Books,
    given: Given,
    build: Callable[Concatenate[Books, P], Note],
    *more: P.args,
    **named: P.kwargs,
) -> int:
    """Make a note of its files, write it under their locks, and show it; a dry run writes nothing."""
    folders = [folder_of(file) for file in books if file]
    try:
        if given["dry_run"]:
            note = build(books, *more, **named)
            _show(note, given)
            for text in warnings(folders):
                say(clean(text))
            return 0
        with writing(folders) as finished:
            if finished:
                say(f"eggfold: {clean(finished)}")
                return FileAccessError.exit_code
            note = build(books, *more, **named)
            with written(note.changes, f"{note.what} {note.title}, {note.date}"):
                _show_written(note, given)
    except ProblemsError as error:
        say(problems_text(told(error.problems)).rstrip("\n"))
        return error.exit_code
    return 0


def _show_written(note: Note, given: Given) -> None:
    """Show a note that stands in its files: where that fails, the run has not failed."""
    try:
        _show(note, given)
        sys.stdout.flush()
    except OSError as error:
        silence_stdout()
        with suppress(OSError):
            say(f"eggfold: the note was written, only its answer cannot be shown: {error.strerror}")


def _show(note: Note, given: Given) -> None:
    if given["form"] == "json":
        print_json(_document(note, written=not given["dry_run"]))
    elif given["dry_run"]:
        for line in differences_text(note.changes).splitlines():
            show(f"{clean(line)}\n")
        for remark in note.remarks:
            say(clean(remark))
    else:
        print_page(note_page(note), PLAIN)


def _document(note: Note, *, written: bool) -> Data:
    """Return the object of ``note``."""
    return document(
        "note",
        {
            "what": note.what,
            "date": note.date,
            "item" if note.what == "bought" else "recipe": note.title,
            **note.figures,
            "notebook": note.notebook,
            "shelf": note.shelf,
            "written": written,
            "drawn": note.drawing.drawn,
            "not_drawn": note.drawing.passed,
            "remarks": note.remarks,
            "diff": None if written else differences_text(note.changes),
        },
    )
