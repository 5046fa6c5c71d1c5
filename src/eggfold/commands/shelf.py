"""``eggfold shelf``: what is there, and what runs out first."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from eggfold.commands.completion import complete_recipes
from eggfold.commands.display import current_look, display_options
from eggfold.commands.options import (
    additives_option,
    date_option,
    format_option,
    shelf_option,
    why_option,
)

if TYPE_CHECKING:
    from eggfold.files.opened import OpenRecipe
    from eggfold.files.workspace import Workspace
    from eggfold.recipe.batch import Batch


@click.command()
@click.argument("recipes", nargs=-1, metavar="[RECIPE|FOLDER]...", shell_complete=complete_recipes)
@shelf_option
@additives_option
@date_option
@format_option
@why_option
@display_options
def shelf(
    recipes: tuple[str, ...],
    shelf: str | None,
    additives: str | None,
    date: str,
    form: str,
    *,
    why: bool,
) -> int:
    """Show what is there, what is past its date, and what runs out first.

    Without a recipe, those beside the shelf count.

    \b
    eggfold shelf recipes
    eggfold shelf --shelf recipes/shelf.yaml --date 2026-05-02
    """
    from eggfold.commands.delivery import print_json, print_page  # noqa: PLC0415
    from eggfold.commands.run import finish, open_workspace  # noqa: PLC0415
    from eggfold.formats.json import document  # noqa: PLC0415
    from eggfold.load.folder import shelf_and_recipes  # noqa: PLC0415
    from eggfold.pages.shelf import shelf_page  # noqa: PLC0415
    from eggfold.stock.shelf import build_shelf  # noqa: PLC0415
    from eggfold.stock.shopping import stock_on  # noqa: PLC0415

    file, arguments = shelf_and_recipes(recipes, shelf)
    workspace = open_workspace(arguments, additives, {"shelf": file}, stocked=True)
    found, batches = _used(workspace)
    stock = stock_on(workspace.companions.shelf, date)
    if stock is None:
        if code := finish(workspace):
            return code
        raise click.UsageError("there is no shelf.yaml here; name one with --shelf")
    state = build_shelf(stock, found, batches)
    if form == "json":
        print_json(document("shelf", state))
    else:
        print_page(shelf_page(state, why=why), current_look())
    return finish(workspace)


def _used(workspace: Workspace) -> tuple[list[OpenRecipe], list[Batch]]:
    """Return the recipes that draw on the shelf, and one egg of each at the freebie dose."""
    from eggfold.errors import NoAnswerError  # noqa: PLC0415
    from eggfold.recipe.asked import Asked  # noqa: PLC0415
    from eggfold.recipe.batch import build_batch  # noqa: PLC0415

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
