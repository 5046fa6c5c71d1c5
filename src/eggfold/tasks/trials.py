"""``trials``: recipes by name, what the notebook says they caught, and how they compare."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from eggfold.errors import FileAccessError, NoAnswerError, Problem
from eggfold.load.folder import files_by_notebook, one_companion
from eggfold.load.load_recipe import Companion, OpenRecipe, read_with, shared_name_problem
from eggfold.load.notebook import Fished, open_notebook
from eggfold.load.workspace import Findings
from eggfold.nearest import fold
from eggfold.pages.trials import trials_page
from eggfold.recipe.trials import build_trials
from eggfold.records import NamedTuple
from eggfold.tasks.asked import Given
from eggfold.tasks.delivery import Answer, deliver, destination_of
from eggfold.tasks.run import finish, gather, open_files


class NotedOutings(NamedTuple):
    """Every outing, the noted recipes in other files, the notebook read, and what is wrong in it."""

    fished: tuple[Fished, ...]
    elsewhere: frozenset[str]
    companions: tuple[Companion, ...]
    problems: list[Problem]


def _read_outings(
    files: dict[str, str], broken: Sequence[str], notebook: str | None
) -> NotedOutings:
    """Read the outings in the notebook of good recipes, files by name, and of others.

    Raises NoAnswerError where there is no notebook, FileAccessError where it cannot be read.
    """
    recipes = [*files.values(), *broken]
    notes = one_companion("notebook", recipes, notebook)
    if notes is None:
        raise NoAnswerError(
            "there is no notebook.yaml beside these recipes; note the first outing with "
            "eggfold note fished RECIPE --rods N --hours H --takes N"
        )
    book, problems = open_notebook(notes, ("fished",))
    strangers = {fold(entry.recipe) for entry in book.fished} - {fold(name) for name in files}
    elsewhere = _among(strangers, notes, broken) if strangers else frozenset()
    companions = tuple(read_with({"notebook": notes}, next(iter(recipes), None)))
    return NotedOutings(book.fished, elsewhere, companions, problems)


def _by_name(recipes: list[OpenRecipe]) -> tuple[dict[str, str], Findings]:
    """Return recipes as files by name, and those of which two have it: an outing is of neither."""
    by_name: dict[str, list[OpenRecipe]] = {}
    for opened in recipes:
        by_name.setdefault(fold(opened.recipe.name), []).append(opened)
    alike = [several for several in by_name.values() if len(several) > 1]
    shared = [shared_name_problem(o.placed, first.file) for first, *others in alike for o in others]
    files = {one[0].recipe.name: one[0].file for one in by_name.values() if len(one) == 1}
    return files, Findings(shared, unanswered=[o.file for several in alike for o in several])


def _among(names: set[str], notebook: str, files: Sequence[str]) -> frozenset[str]:
    """Return those of some folded names that a recipe bears, in these files or by the notebook."""
    from eggfold.load.names import recipe_names  # noqa: PLC0415 - few notebooks have strangers

    there = recipe_names([*files, *files_by_notebook(notebook)])
    return frozenset(names.intersection(map(fold, there.values())))


def run_trials(given: Given) -> int:
    """Write the comparison; return the exit code."""
    to = destination_of(given)
    chosen = {"additives": given["additives"], "without_notes": True}
    recipes, findings = gather(open_files(given["recipes"] or (".",), chosen), lambda o: o)
    files, shared = _by_name(recipes)
    findings = findings.plus(shared)
    try:
        noted = _read_outings(files, findings.unanswered, given["notebook"])
        findings = findings.plus(Findings(noted.problems))
        compared = build_trials(files, *noted[:3]) if files else None
    except (NoAnswerError, FileAccessError) as error:
        return finish(findings.failing((error,)))
    if compared is not None:
        page = partial(trials_page, full=given["full"])
        findings = findings.failing(deliver(to, Answer("trials", compared, page, given["why"])))
    return finish(findings)
