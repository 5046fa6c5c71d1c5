"""``shelf``: what is there, and what runs out first."""

from __future__ import annotations

from eggfold.errors import NoAnswerError, OptionError
from eggfold.formats.json import document
from eggfold.load.folder import shelf_and_recipes
from eggfold.load.load_recipe import OpenRecipe
from eggfold.load.lots import lot_problems
from eggfold.load.workspace import Workspace
from eggfold.pages.shelf import shelf_page
from eggfold.recipe.asked import Asked
from eggfold.recipe.batch import Batch, build_batch
from eggfold.recipe.bench import build_bench
from eggfold.stock.shelf import build_shelf
from eggfold.stock.shopping import stock_on
from eggfold.tasks.asked import Given
from eggfold.tasks.delivery import print_json, print_page
from eggfold.tasks.run import finish, open_workspace
from eggfold.tasks.surroundings import current_look


def run_shelf(given: Given) -> int:
    """Print the shelf; return the exit code."""
    file, arguments = shelf_and_recipes(given["recipes"], given["shelf"])
    workspace = open_workspace(arguments, {**given, "shelf": file}, stocked=True)
    found, batches = _used(workspace)
    workspace.problems += lot_problems(workspace.companions.shelf)
    stock = stock_on(workspace.companions.shelf, given["date"])
    if stock is None:
        if code := finish(workspace):
            return code
        raise OptionError("there is no shelf.yaml here; name one with --shelf")
    bench = build_bench(workspace.companions.bench)
    state = build_shelf(stock, found, batches, bench.drying_h)
    if given["form"] == "json":
        print_json(document("shelf", state))
    else:
        print_page(shelf_page(state, why=given["why"]), current_look(given["color"]))
    return finish(workspace)


def _used(workspace: Workspace) -> tuple[list[OpenRecipe], list[Batch]]:
    """Return the recipes that draw on the shelf, and one egg of each at the freebie dose."""
    recipes, batches = [], []
    for opened in workspace.good_recipes(required=False):
        recipes.append(opened)
        if opened.answerable("freebie"):
            workspace.notes.append(f"{opened.file}: no whole freebie dose, so no eggs counted")
            continue
        try:
            batches.append(build_batch(opened, Asked("freebie")))
        except NoAnswerError as error:
            workspace.failures.append(NoAnswerError(f"{opened.file}: {error}"))
    return recipes, batches
