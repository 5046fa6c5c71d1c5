"""One file of any kind: problems at places in it, or a model that answers."""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import date
from typing import TYPE_CHECKING, Any

from eggfold.errors import NoAnswerError, Problem, ProblemsError, errors_of
from eggfold.formats.json import document, dumps
from eggfold.formats.plain_text import page_text, problems_text
from eggfold.load.gate import encoding_of, read_source, stand_ins
from eggfold.load.load_recipe import (
    Companions,
    open_placed,
    open_powders,
    open_recipe,
    open_register,
)
from eggfold.load.notebook import open_notebook
from eggfold.load.recipe import Strength
from eggfold.load.workspace import Chosen, NoRecipe, open_workspace
from eggfold.load.yaml_tree import scalar_text
from eggfold.pages.card import card_page
from eggfold.pages.doses import doses_page
from eggfold.pages.figures import METRIC
from eggfold.pages.shelf import shelf_page
from eggfold.pages.trials import trials_page
from eggfold.recipe.asked import Asked
from eggfold.recipe.batch import build_batch
from eggfold.recipe.dose_sheet import default_columns, register_sheet
from eggfold.recipe.trials import build_trials
from eggfold.stock.holdings import ShelfToday
from eggfold.stock.shelf import build_shelf
from eggfold.stock.shopping import build_shopping
from eggfold.tasks.check import check_files
from eggfold.tasks.doses import doses_document
from fuzz.plans import answer_plan
from fuzz.texts import CODES
from trees import read_slowly, read_tree

if TYPE_CHECKING:
    from collections.abc import Iterable

    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.pages.page import Page

KINDS = ("recipe", "additives", "ingredients", "bench", "shelf", "notebook", "plan", "season")
"""What a file can be; the first byte of the input chooses the file's name."""
NOWHERE = "/nowhere"
"""A folder that is not there: whatever is read of it stands in memory."""
RECIPE = f"{NOWHERE}/beside.yaml"
LAST_DAY = "2026-01-01"
STRENGTHS: tuple[Strength, ...] = ("hookbait", "freebie")


def read_files(data: bytes) -> None:
    """Any bytes as a file of any kind are problems at places in it, or a model that answers."""
    if not data:
        return
    kind = KINDS[data[0] % len(KINDS)]
    file = f"{NOWHERE}/{kind}.yaml"
    with stand_ins.kept():
        stand_ins.put(file, data[1:])
        problems = check_alone(file)
        _assert_placed(data[1:], problems)
        _assert_read_alike(file)
        if all(problem.code == "unknown-recipe" for problem in errors_of(problems)):
            _answer(kind, file)


def check_alone(file: str) -> list[Problem]:
    """Return every problem of a file with nothing beside it."""
    findings, _ = check_files((file,), Chosen(stocked=True), LAST_DAY, LAST_DAY)
    assert findings.failures == []
    return [*findings.problems]


def _assert_placed(data: bytes, problems: list[Problem]) -> None:
    text = data.decode(encoding_of(data)[0], "replace").removeprefix("\ufeff")
    lines = re.split(r"\r\n|\n|\r", text)
    for problem in problems:
        assert problem.code in CODES, problem
        assert 1 <= problem.line <= len(lines), problem
        assert 1 <= problem.column <= len(lines[problem.line - 1]) + 1, problem
        assert 0 <= problem.caret <= len(problem.source), problem
        assert problem.source in lines[problem.line - 1] or problem.code == "not-utf-8", problem
    problems_text(problems).encode()


def _assert_read_alike(file: str) -> None:
    """Hold that a text is read alike where the C reader is not installed."""
    with suppress(ProblemsError):  # it is no text
        source = read_source(file)
        read = read_slowly(source)
        assert read is None or read == read_tree(source)


def _answer(kind: str, file: str) -> None:
    """Answer with the file, as the only recipe or beside a recipe that uses it."""
    if kind == "additives":
        register = open_register(file)[0]
        sheet = register_sheet(Companions(register), default_columns(6))
        _write(doses_page(sheet, METRIC, why=True), doses_document(sheet))
        _put_recipe(additives=register.names())
        _ask(Chosen(additives=file))
    elif kind == "ingredients":
        powders = open_powders(file)[0]
        _put_recipe(blend=[name for name, _ in powders.values()])
        opened = open_recipe(RECIPE, Companions(powders=powders), *open_placed(RECIPE))
        _answer_recipe(opened, None)
    elif kind == "bench":
        _put_recipe()
        _ask(Chosen(bench=file))
    elif kind == "notebook":
        _put_recipe()
        _ask(Chosen(notebook=file, with_notes=True))
        _compare(file)
    elif kind == "shelf":
        _put_recipe()
        _ask(Chosen(shelf=file, stocked=True))
    else:
        _put_recipe()
        _ask(Chosen(), file)


def _compare(file: str) -> None:
    fished = open_notebook(file, ("fished",))[0].fished
    if any(one.rod_hours for one in fished):
        trials = build_trials({}, fished)
        _write(trials_page(trials, why=True), document("trials", trials))


def _put_recipe(*, additives: Iterable[str] = (), blend: Iterable[str] = ()) -> None:
    """Let a recipe stand beside the file that uses what the file names."""
    parts = ", ".join(f"{scalar_text(name)}: 100 %" for name in [*blend][:1])
    mix = f"{{name: Reeds, blend: {{{parts}}}}}" if parts else "Semolina"
    listed = "".join(f"  - {scalar_text(name)}\n" for name in additives)
    text = f"name: Reeds\nbase_mix: {mix}\n" + (f"additives:\n{listed}" if listed else "")
    stand_ins.put(RECIPE, text.encode())


def _ask(chosen: Chosen, file: str = RECIPE) -> None:
    workspace = open_workspace((file,), chosen)
    shelf = workspace.companions.shelf
    stock = ShelfToday(shelf, date.fromisoformat(LAST_DAY)) if shelf else None
    for one in workspace.opened(required=False):
        if not isinstance(one, NoRecipe):
            _answer_recipe(one, stock)
        elif one.plan:
            kind, placed, _ = one.plan
            answer_plan(file, kind, placed, RECIPE, LAST_DAY)


def _answer_recipe(opened: OpenRecipe, stock: ShelfToday | None) -> None:
    for strength in STRENGTHS:
        if not opened.answerable(strength):
            _answer_batch(opened, strength, stock)


def _answer_batch(opened: OpenRecipe, strength: Strength, stock: ShelfToday | None) -> None:
    try:
        batch = build_batch(opened, Asked(strength))
    except NoAnswerError as error:
        str(error).encode()
        return
    items = build_shopping([batch], stock)
    _write(
        card_page(batch, METRIC, items, why=True),
        document("batch", {"batches": [batch], "shopping": items}),
    )
    if stock:
        state = build_shelf(stock, [opened], [batch], 48.0)
        _write(shelf_page(state, METRIC, why=True), document("shelf", state))


def _write(page: Page, document: dict[str, Any]) -> None:
    """Write an answer as a user sees it; nothing in it is infinite or no number."""
    page_text(page).encode()
    dumps(document).encode()
