"""The outings to compare: recipes by name, what the notebook says they caught, and other recipes."""

from __future__ import annotations

from functools import partial

from eggfold.errors import FileAccessError, NoAnswerError, errors_of
from eggfold.load.folder import files_by_notebook, one_companion
from eggfold.load.load_recipe import Companion, OpenRecipe, read_with, shared_name_problem
from eggfold.load.notebook import Fished, open_notebook
from eggfold.load.workspace import Workspace
from eggfold.nearest import fold
from eggfold.pages.trials import trials_page
from eggfold.recipe.trials import build_trials
from eggfold.records import NamedTuple
from eggfold.tasks.asked import Given
from eggfold.tasks.delivery import Answer, deliver, destination_of
from eggfold.tasks.run import finish, open_workspace


class NotedOutings(NamedTuple):
    """Files by recipe name, every outing, the noted recipes in other files, and the notebook read."""

    files: dict[str, str]
    fished: tuple[Fished, ...]
    elsewhere: frozenset[str]
    companions: tuple[Companion, ...]


def read_outings(workspace: Workspace, notebook: str | None) -> NotedOutings:
    """Read the recipes asked for and the outings in their notebook.

    Raises NoAnswerError where there is no notebook, FileAccessError where it cannot be read.
    """
    files, broken = _recipes(workspace)
    notes = one_companion("notebook", [*files.values(), *broken], notebook)
    if notes is None:
        raise NoAnswerError(
            "there is no notebook.yaml beside these recipes; note the first outing with "
            "eggfold note fished RECIPE --rods N --hours H --takes N"
        )
    book, problems = open_notebook(notes, ("fished",))
    workspace.problems += problems
    strangers = {fold(entry.recipe) for entry in book.fished} - {fold(name) for name in files}
    elsewhere = _among(strangers, notes, broken) if strangers else frozenset()
    companions = tuple(read_with({"notebook": notes}, next(iter([*files.values(), *broken]))))
    return NotedOutings(files, book.fished, elsewhere, companions)


def _recipes(workspace: Workspace) -> tuple[dict[str, str], list[str]]:
    """Return the good recipes as files by name, and the files of the others.

    An outing of a name that two of them have is of neither.
    """
    by_name: dict[str, list[OpenRecipe]] = {}
    broken = []
    for opened in workspace.recipes():
        errors = errors_of(opened.problems)
        workspace.problems += errors
        if errors:
            broken.append(opened.file)
        else:
            by_name.setdefault(fold(opened.recipe.name), []).append(opened)
    for first, *others in by_name.values():
        workspace.problems += [shared_name_problem(o.placed, first.file) for o in others]
        broken += [o.file for o in (first, *others) if others]
    files = {one[0].recipe.name: one[0].file for one in by_name.values() if len(one) == 1}
    return files, broken


def _among(names: set[str], notebook: str, files: list[str]) -> frozenset[str]:
    """Return those of some folded names that a recipe bears, in these files or by the notebook."""
    from eggfold.load.names import recipe_names  # noqa: PLC0415 - few notebooks have strangers

    return frozenset(recipe_names([*files, *files_by_notebook(notebook)]).keys() & names)


def run_trials(given: Given) -> int:
    """Write the comparison; return the exit code."""
    to = destination_of(given)
    workspace = open_workspace(
        given["recipes"] or (".",), {"additives": given["additives"], "without_notes": True}
    )
    try:
        noted = read_outings(workspace, given["notebook"])
        compared = build_trials(*noted) if noted.files else None
    except (NoAnswerError, FileAccessError) as error:
        workspace.failures.append(error)
        return finish(workspace)
    if compared is not None:
        workspace.failures += deliver(
            to, Answer("trials", compared, partial(trials_page, full=given["full"]), given["why"])
        )
    return finish(workspace)
