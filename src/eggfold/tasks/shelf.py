"""``shelf``: what is there, and what runs out first."""

from __future__ import annotations

from eggfold.errors import NoAnswerError, OptionError
from eggfold.formats.json import document
from eggfold.load.folder import shelf_and_recipes
from eggfold.load.load_recipe import OpenRecipe
from eggfold.load.lots import lot_problems
from eggfold.load.workspace import Findings
from eggfold.pages.figures import units_in
from eggfold.pages.shelf import shelf_page
from eggfold.recipe.asked import Asked
from eggfold.recipe.batch import Batch, build_batch
from eggfold.recipe.bench import build_bench
from eggfold.stock.shelf import build_shelf
from eggfold.stock.shopping import stock_on
from eggfold.tasks.asked import Given
from eggfold.tasks.delivery import print_json, print_page
from eggfold.tasks.run import finish, gather, no_answer, open_files
from eggfold.tasks.surroundings import current_look


def run_shelf(given: Given) -> int:
    """Print the shelf; return the exit code."""
    file, arguments = shelf_and_recipes(given["recipes"], given["shelf"])
    workspace = open_files(arguments, {**given, "shelf": file}, stocked=True)
    recipes, findings = gather(workspace, lambda o: o, required=False)
    batches, others = _of_one_egg(recipes)
    findings = findings.plus(others, Findings(lot_problems(workspace.companions.shelf)))
    stock = stock_on(workspace.companions.shelf, given["date"])
    if stock is None:
        if code := finish(findings):
            return code
        raise OptionError("there is no shelf.yaml here; name one with --shelf")
    bench = build_bench(workspace.companions.bench)
    state = build_shelf(stock, recipes, batches, bench.drying_h)
    if given["form"] == "json":
        print_json(document("shelf", state))
    else:
        page = shelf_page(state, units_in(given["units"]), why=given["why"])
        print_page(page, current_look(given["color"]))
    return finish(findings)


def _of_one_egg(recipes: list[OpenRecipe]) -> tuple[list[Batch], Findings]:
    """Return one egg of each recipe at the freebie dose, and what there is to tell of the others."""
    batches, findings = [], []
    for opened in recipes:
        if opened.answerable("freebie"):
            note = f"{opened.file}: no whole freebie dose, so no eggs counted"
            findings.append(Findings(notes=(note,)))
            continue
        try:
            batches.append(build_batch(opened, Asked("freebie")))
        except NoAnswerError as error:
            findings.append(no_answer(opened.file, error))
    return batches, Findings().plus(*findings)
