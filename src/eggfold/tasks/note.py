"""``note``: read what was typed, keep the note, show it."""

from __future__ import annotations

import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Concatenate, ParamSpec

from eggfold.amounts import Amount, AmountError, Dimension, in_our_digits, parse_amount
from eggfold.edit.commit import warnings, writing, written
from eggfold.edit.writing import Draft, differences_text, open_draft
from eggfold.errors import FileAccessError, OptionError, ProblemsError, errors_of
from eggfold.formats.characters import clean
from eggfold.formats.json import Data, document
from eggfold.formats.plain_text import problems_text
from eggfold.load.eggs import MOST_EGGS
from eggfold.load.fields import in_range
from eggfold.load.folder import SUFFIXES, companion, expand, folder_of
from eggfold.load.gate import shown_problems
from eggfold.load.load_recipe import OpenRecipe, shared_name
from eggfold.load.lots import lot_problems
from eggfold.load.names import files_called, recipe_names
from eggfold.load.notebook import SectionName
from eggfold.load.recipe import STRENGTHS, Strength
from eggfold.load.register import SPARE_NAME
from eggfold.load.shelf import OpenShelf, open_shelf
from eggfold.load.workspace import Findings, Workspace
from eggfold.nearest import one_of
from eggfold.pages.figures import METRIC
from eggfold.pages.note import note_page
from eggfold.recipe.asked import Asked
from eggfold.recipe.batch import Batch, build_batch
from eggfold.records import NamedTuple
from eggfold.reference.boiling import LEAST_BAIT_MM, MOST_BAIT_MM
from eggfold.stock.baits import LotChange
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
    undo_last,
)
from eggfold.tasks.asked import Given, amount_error, eggs_option, liquid_option, whole_option
from eggfold.tasks.delivery import print_json, print_page
from eggfold.tasks.run import finish, need_strength, open_files
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
        return undo("weighed", given)
    opened, findings = _one_recipe(_workspace(_recipe(given, "weighed"), given))
    if opened is None:
        return finish(findings)
    for key in ("before", "after"):
        if given[key] is None:
            raise OptionError(f"--{key}: what the bag weighed {key} is missing")
    strength: Strength = given["strength"] or _usual_strength(opened)
    if wrong := opened.answerable(strength):
        return finish(findings.plus(Findings(wrong)))
    asked = _bowl(given, strength)
    batch = build_bowl(opened, asked)
    notebook = _notebook_for(opened.file, given)
    assumed = not given["strength"] and asked.eggs != 1
    return keep_note(Books(notebook), given, _weighed, batch, asked, assumed=assumed)


def _weighed(books: Books, batch: Batch, asked: AskedBowl, *, assumed: bool) -> Note:
    """Return the note of a weighing, with a remark where its strength was ``assumed``."""
    note = note_weighed(batch, asked, open_draft(books.notebook))
    if not assumed:
        return note
    other = "hookbait" if asked.strength == "freebie" else "freebie"
    text = f"Noted at {asked.strength} doses; if these were {other} doses, say --as {other}."
    return note._replace(remarks=(*note.remarks, text))


def roll(given: Given) -> int:
    """Note a rolled bowl and draw the shelf, or take the last one back."""
    if given["undo"]:
        return undo("rolled", given)
    workspace = _workspace(_recipe(given, "rolled"), given)
    if given["strength"] is None and _eggs(given) != 1:
        need_strength(workspace, None)
    opened, findings = _one_recipe(workspace)
    if opened is None:
        return finish(findings)
    strength: Strength = given["strength"] or "hookbait"
    if wrong := opened.answerable(strength):
        return finish(findings.plus(Findings(wrong)))
    asked = _bowl(given, strength)._replace(sizes=_sizes(given["sizes"]))
    batch = build_bowl(opened, asked)
    notebook = _notebook_for(opened.file, given)
    shelf = companion("shelf", opened.file, given["shelf"])
    return keep_note(
        Books(notebook, shelf or ""), given, _rolled, batch, asked, force=given["force"]
    )


def _rolled(books: Books, batch: Batch, asked: AskedBowl, *, force: bool) -> Note:
    return note_rolled(batch, asked, open_draft(books.notebook), _shelf_of(books), force=force)


_ARGUMENTS = {
    "recipe": "a recipe",
    "amount": "an amount",
    "baits": "baits",
    "plan": "a plan",
    "trip": "a trip",
    "item": "a thing",
}
"""What stands behind a command without an option's dashes."""
_SHELF_NOTES: tuple[SectionName, ...] = ("rolled", "bagged", "count", "trip", "bought")
"""What changes the shelf too."""


def undo(section: SectionName, given: Given) -> int:
    """Undo the last note of this kind."""
    kept = {"date", "undo", "notebook", "shelf", "dry_run", "form", "additives"}
    if others := [key for key, value in given.items() if value and key not in kept]:
        key = next((key for key in others if key in _ARGUMENTS), others[0])
        extra = _ARGUMENTS.get(key, f"--{_SPELLED.get(key, key)}")
        raise OptionError(
            f"--undo takes back what was noted last and stands alone, without {extra}"
        )
    notebook = companion("notebook", given.get("shelf"), given.get("notebook"))
    if notebook is None:
        raise OptionError("there is no notebook.yaml here; name one with --notebook")
    shelf = companion("shelf", notebook, given["shelf"]) if section in _SHELF_NOTES else None
    return keep_note(Books(notebook, shelf or ""), given, _undone, section)


def _undone(books: Books, section: SectionName) -> Note:
    return undo_last(section, open_draft(books.notebook), _shelf_of(books))


def fish(given: Given) -> int:
    """Note a session, or take the last one back."""
    if given["undo"]:
        return undo("fished", given)
    recipe = _recipe(given, "fished")
    if missing := [key for key in ("rods", "hours", "takes") if given[key] is None]:
        raise OptionError(f"--{missing[0]} is missing; none is 0")
    opened, findings = _one_recipe(open_files((meant_recipe(recipe),), {"without_notes": True}))
    if opened is None or opened.recipe.name == SPARE_NAME:
        return finish(findings.plus(Findings(opened.problems if opened else ())))
    name = opened.recipe.name
    asked = AskedOuting(
        past_day(given["date"]),
        given["rods"],
        in_our_digits(given["hours"].strip()),
        given["takes"],
        _amount(given, "water", "temperature"),
        given["swim"],
        given["remark"],
    )
    notebook = _notebook_for(opened.file, given)
    return keep_note(Books(notebook), given, _fished, name, asked)


def cut_open(given: Given) -> int:
    """Note two baits cut open, or take the last ones back."""
    if given["undo"]:
        return undo("cut", given)
    recipe = _recipe(given, "cut")
    if missing := [key for key in ("diameter", "after") if given[key] is None]:
        raise OptionError(f"--{missing[0]} is missing: the bait's size, and how long it boiled")
    if given["raw"] == given["set_through"]:
        raise OptionError("say --raw or --set: was there a raw, shiny core, or none?")
    opened, findings = _one_recipe(_workspace(recipe, given))
    if opened is None:
        return finish(findings)
    strength: Strength = given["strength"] or _usual_strength(opened)
    if wrong := opened.answerable(strength):
        return finish(findings.plus(Findings(wrong)))
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
    return keep_note(Books(_notebook_for(opened.file, given)), given, _cut, batch, asked)


def _cut(books: Books, batch: Batch, asked: AskedCut) -> Note:
    return note_cut(batch, asked, open_draft(books.notebook))


def _fished(books: Books, name: str, asked: AskedOuting) -> Note:
    return note_fished(name, asked, open_draft(books.notebook))


def _recipe(given: Given, what: SectionName) -> str:
    recipe: str | None = given["recipe"]
    if recipe is None:
        raise OptionError(f"which recipe was {what}? Give its file, or --undo alone")
    return recipe


def _workspace(recipe: str, given: Given) -> Workspace:
    """Return the workspace of one recipe; a notebook that is named may be still to be made."""
    recipe = meant_recipe(recipe)
    named = given["notebook"]
    notebook = named if named and Path(named).exists() else None
    return open_files((recipe,), {"additives": given["additives"], "notebook": notebook})


def meant_recipe(part: str, folder: str = ".") -> str:
    """Return the file of the recipe of a folder that a part of its name or file means.

    A file that is there is itself; so is what no recipe is called.
    """
    if part == "-" or not part or Path(part).suffix in SUFFIXES or Path(part).exists():
        return part
    names = recipe_names(expand([folder]))
    found = files_called(part, names)
    if len(found) > 1:
        listed = one_of([names[file] for file in found])
        raise OptionError(f"'{part}' may be {listed}: say more of its name, or its file")
    return found[0] if found else part


def _one_recipe(workspace: Workspace) -> tuple[OpenRecipe | None, Findings]:
    """Return the one recipe that was named, None where it cannot be read or told from another."""
    opened, findings = workspace.recipes()
    if len(opened) + len(findings.unanswered) > 1:
        raise OptionError("a note is of one recipe; name its file")
    if not opened:
        return None, findings
    shared = shared_name(opened[0])
    return None if shared else opened[0], findings.plus(Findings(shared))


def _usual_strength(opened: OpenRecipe) -> Strength:
    """Return the doses of a bowl that does not say: hookbait where the recipe has them."""
    return next((s for s in STRENGTHS if not opened.answerable(s)), "hookbait")


def _eggs(given: Given) -> int | None:
    """Return how many eggs went in, None where egg was poured."""
    boxes = sum(egg.number or 0 for egg in eggs_option(given))
    if boxes or given["liquid"] is not None:
        if given["eggs"] is not None:
            raise OptionError("--eggs and --liquid both say how much egg went in; keep one of them")
        return boxes or None
    if given["eggs"] is None:
        raise OptionError("--eggs: how many eggs went in?")
    return whole_option("eggs", given["eggs"], MOST_EGGS)


def _bowl(given: Given, strength: Strength) -> AskedBowl:
    return AskedBowl(
        past_day(given["date"]),
        strength,
        _eggs(given),
        eggs_option(given),
        _amount(given, "before", "mass"),
        _amount(given, "after", "mass"),
        _amount(given, "scale", "mass"),
        _amount(given, "finished", "mass"),
        _amount(given, "hundred", "mass"),
        _amount(given, "diameter", "length"),
        liquid_option(given["liquid"])[0] if given["liquid"] else None,
    )


def _sizes(text: str | None) -> tuple[Amount, ...] | None:
    """Read the sizes that a bowl was rolled to."""
    try:
        parts = text.split(",") if text else ()
        return (
            tuple(
                in_range(parse_amount(p, "length"), "mm", LEAST_BAIT_MM, MOST_BAIT_MM)
                for p in parts
            )
            or None
        )
    except AmountError as error:
        raise amount_error("--sizes", error) from error


def _amount(given: Given, key: str, dimension: Dimension) -> Amount | None:
    """Read an amount as it is to be written; its range is checked with the entry."""
    text = given.get(key)
    try:
        return None if text is None else parse_amount(text, dimension)
    except AmountError as error:
        if text and error.code == "no-unit" and (unit := _unit_of_the_other(given, key)):
            error.hint = f"{text.strip()} {unit} or {error.hint}"
        raise amount_error(_BAG_OPTIONS.get((key, dimension), f"--{key}"), error) from error


_BAG_OPTIONS = {("before", "mass"): "--before or --tub", ("after", "mass"): "--after or --left"}
"""Options of two names; a cut bait has an ``--after`` of its own."""


def _unit_of_the_other(given: Given, key: str) -> str | None:
    """Return the larger unit that the bag's other weight was typed in, None where it is grams."""
    other = given.get({"before": "after", "after": "before"}.get(key, ""))
    try:
        unit = parse_amount(other, "mass").unit if other else None
    except AmountError:
        return None
    return unit if unit in ("kg", "lb") else None


def _notebook_for(recipe: str, given: Given) -> str:
    """Return the notebook of a recipe; one that does not exist yet is made beside it."""
    folder = Path() if recipe == "-" else Path(recipe).parent
    return companion("notebook", recipe, given["notebook"]) or str(folder / "notebook.yaml")


def _shelf_of(books: Books) -> tuple[Draft, OpenShelf] | None:
    """Return the shelf that a note changes, None where there is none."""
    return shelf_to_change(books.shelf) if books.shelf else None


def shelf_to_change(file: str) -> tuple[Draft, OpenShelf]:
    """Open a shelf to change it; raises FileAccessError or ProblemsError where that cannot be."""
    draft = open_draft(file)
    if draft.old is None:
        raise FileAccessError(file, "there is no such shelf")
    shelf, problems = open_shelf(file, to_change=True)
    errors = errors_of(problems + lot_problems(shelf))
    if shelf is None or errors:
        raise ProblemsError(errors)
    return draft, shelf


def keep_note(
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
        say(problems_text(shown_problems(error.problems)).rstrip("\n"))
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
        print_page(note_page(note, METRIC), PLAIN)


_TITLES = {
    **dict.fromkeys(("weighed", "rolled", "cut", "fished", "bagged", "undone"), "recipe"),
    "trip": "trip",
    "bought": "item",
}
"""The key of what a note is of."""


def _document(note: Note, *, written: bool) -> Data:
    """Return the object of ``note``."""
    return document(
        "note",
        {
            "what": note.what,
            "date": note.date,
            **({key: note.title} if (key := _TITLES.get(note.what)) else {}),
            **note.figures,
            "notebook": note.notebook,
            "shelf": note.shelf,
            "written": written,
            "drawn": note.withdrawal.drawn,
            "not_drawn": note.withdrawal.passed,
            "lots": [_lot(change) for change in note.lots],
            "remarks": note.remarks,
            "diff": None if written else differences_text(note.changes),
        },
    )


def _lot(change: LotChange) -> Data:
    lot = change.after or change.before
    assert lot is not None  # noqa: S101 - one of them is there
    return {
        "recipe": lot.recipe,
        "strength": lot.strength,
        "before": str(change.before.left) if change.before else None,
        "left": str(change.after.left) if change.after else "none",
        "made": lot.made,
        "state": lot.state,
    }
