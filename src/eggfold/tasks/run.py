"""What every task that takes recipes does around its work: problems, notes, exit code."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Iterable, Iterator
from typing import Concatenate, ParamSpec, TypeVar

from eggfold.errors import NoAnswerError, OptionError, Problem, ProblemsError, errors_of, tidy
from eggfold.formats.characters import clean
from eggfold.formats.plain_text import problems_text
from eggfold.load.gate import told
from eggfold.load.load_recipe import OpenRecipe, named_recipes
from eggfold.load.workspace import Workspace
from eggfold.recipe.asked import Asked
from eggfold.tasks.asked import Given
from eggfold.tasks.surroundings import remark, say, shown

P = ParamSpec("P")
T = TypeVar("T")


def open_workspace(arguments: tuple[str, ...], given: Given, *, stocked: bool = False) -> Workspace:
    """Return the workspace of a run over these files and folders.

    ``given`` names other companions: ``additives``, ``bench``, ``notebook`` and ``shelf``;
    ``without_notes`` leaves the notebook out. The shelf is read only where ``stocked``.
    """
    gc.freeze()  # what is imported stays: collecting it costs 12 ms and frees nothing
    gc.set_threshold(50_000, 20, 50)  # a large file makes a million nodes and drops few of them
    gc.enable()
    additives, bench, notebook, shelf = map(given.get, ("additives", "bench", "notebook", "shelf"))
    with_notes = not given.get("without_notes", False)
    return Workspace(
        named_recipes(arguments), additives, bench, notebook, with_notes, shelf, stocked
    )


def answers(
    workspace: Workspace,
    asked: Asked,
    build: Callable[Concatenate[OpenRecipe, Asked, P], T],
    *more: P.args,
    **named: P.kwargs,
) -> Iterator[T]:
    """Yield what is built of each recipe that has an answer; what fails is remembered."""
    for opened in shown(workspace.recipes(), lambda: workspace.expected, "working out"):
        wrong = opened.answerable(asked.strength)
        workspace.problems += wrong
        if wrong:
            workspace.unanswered.append(opened.file)
            continue
        try:
            yield build(opened, asked, *more, **named)
        except NoAnswerError as error:
            workspace.unanswered.append(opened.file)
            workspace.failures.append(NoAnswerError(f"{opened.file}: {error}"))


def finish(workspace: Workspace) -> int:
    """Report what was passed over and what failed; return the exit code, 4 before 1 before 3."""
    problems = told(tidy(workspace.problems))
    report(workspace, problems_text(problems))
    return exit_code(workspace, problems)


def report(workspace: Workspace, problems: str = "") -> None:
    """Tell on standard error what was passed over, the problems as text, and what failed."""
    sys.stdout.flush()
    for note in _interrupted(workspace):
        say(clean(note))
    for note in workspace.notes:
        remark(clean(note))
    if problems:
        say(problems.rstrip("\n"))
    for failure in workspace.failures:
        say(f"eggfold: {clean(str(failure))}")


def _interrupted(workspace: Workspace) -> Iterable[str]:
    """Return what to say of notes that were stopped while they were written."""
    if not workspace.interrupted:
        return ()
    from eggfold.edit.commit import warnings  # noqa: PLC0415 - hardly ever needed

    return warnings(workspace.interrupted)


def exit_code(workspace: Workspace, problems: list[Problem]) -> int:
    """Return the exit code of a run with these problems."""
    codes = {failure.exit_code for failure in workspace.failures}
    codes |= {ProblemsError.exit_code} if errors_of(problems) else set()
    return next((code for code in (4, 1, 3) if code in codes), 0)


def need_strength(workspace: Workspace, asked: Asked | None) -> Asked:
    """Return what is asked; without a strength, show both doses of the first additive."""
    if asked is not None:
        return asked
    example = ""
    for opened in workspace.recipes():
        for a in opened.additives:
            example = f" ({a.name}: hookbait {a.hookbait or 'none stated'}, freebie {a.freebie or 'none stated'})"
            break
        if example:
            break
    raise OptionError(f"say which doses: --as hookbait or --as freebie{example}")
