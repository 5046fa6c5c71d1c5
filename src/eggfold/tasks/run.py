"""What every task that takes recipes does around its work: problems, notes, exit code."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Iterable
from typing import TypeVar

from eggfold.errors import NoAnswerError, OptionError, Problem, ProblemsError, errors_of, tidy
from eggfold.formats.characters import clean
from eggfold.formats.plain_text import problems_text
from eggfold.load.gate import shown_problems
from eggfold.load.load_recipe import OpenRecipe, named_recipes
from eggfold.load.workspace import Chosen, Findings, NoRecipe, Workspace, open_workspace
from eggfold.recipe.asked import Asked
from eggfold.tasks.asked import Given
from eggfold.tasks.surroundings import remark, say, with_progress

T = TypeVar("T")


def begin(given: Given, *, stocked: bool = False) -> Chosen:
    """Set the collector for a run that reads files, and return the companions that it reads.

    ``given`` names other companions: ``additives``, ``bench``, ``notebook`` and ``shelf``;
    ``without_notes`` leaves the notebook out. The shelf is read only where ``stocked``.
    """
    gc.freeze()  # what is imported stays: collecting it costs 12 ms and frees nothing
    gc.set_threshold(50_000, 20, 50)  # a large file makes a million nodes and drops few of them
    gc.enable()
    additives, bench, notebook, shelf = map(given.get, ("additives", "bench", "notebook", "shelf"))
    with_notes = not given.get("without_notes", False)
    return Chosen(additives, bench, notebook, shelf, with_notes, stocked)


def open_files(arguments: Iterable[str], given: Given, *, stocked: bool = False) -> Workspace:
    """Return the workspace of a run over these files, folders and names of recipes."""
    return open_workspace(named_recipes(arguments), begin(given, stocked=stocked))


def gather(
    workspace: Workspace,
    build: Callable[[OpenRecipe], T],
    wrong: Callable[[OpenRecipe], list[Problem]] = lambda opened: errors_of(opened.problems),
    *,
    required: bool = True,
) -> tuple[list[T], Findings]:
    """Return what is built of each recipe in which nothing is ``wrong``, and all there is to tell.

    One recipe is held at a time, unless what is built holds it.
    """
    made, findings = list[T](), [workspace.findings]
    opened = workspace.opened(required=required)
    for one in with_progress(opened, len(workspace.candidates), "working out"):
        if isinstance(one, NoRecipe):
            findings.append(one.findings)
        elif problems := wrong(one):
            findings.append(Findings(problems, unanswered=(one.file,)))
        else:
            try:
                made.append(build(one))
            except NoAnswerError as error:
                findings.append(no_answer(one.file, error))
    return made, Findings().plus(*findings)


def answers(
    workspace: Workspace, asked: Asked, build: Callable[[OpenRecipe, Asked], T]
) -> tuple[list[T], Findings]:
    """Return what is built of each recipe that has an answer, and all there is to tell."""
    return gather(workspace, lambda o: build(o, asked), lambda o: o.answerable(asked.strength))


def no_answer(file: str, error: NoAnswerError) -> Findings:
    """Return what there is to tell of a file that has no answer."""
    return Findings(failures=(NoAnswerError(f"{file}: {error}"),), unanswered=(file,))


def finish(findings: Findings) -> int:
    """Report what was passed over and what failed; return the exit code, 4 before 1 before 3."""
    problems = shown_problems(tidy(findings.problems))
    report(findings, problems_text(problems))
    return exit_code(findings, problems)


def report(findings: Findings, problems: str = "") -> None:
    """Tell on standard error what was passed over, the problems as text, and what failed."""
    sys.stdout.flush()
    if findings.interrupted:
        from eggfold.edit.commit import warnings  # noqa: PLC0415 - hardly ever needed

        for note in warnings(findings.interrupted):
            say(clean(note))
    for note in findings.notes:
        remark(clean(note))
    if problems:
        say(problems.rstrip("\n"))
    for failure in findings.failures:
        say(f"eggfold: {clean(str(failure))}")


def exit_code(findings: Findings, problems: list[Problem]) -> int:
    """Return the exit code of a run with these problems."""
    codes = {failure.exit_code for failure in findings.failures}
    codes |= {ProblemsError.exit_code} if errors_of(problems) else set()
    return next((code for code in (4, 1, 3) if code in codes), 0)


def need_strength(workspace: Workspace, asked: Asked | None) -> Asked:
    """Return what is asked; without a strength, show both doses of the first additive."""
    if asked is not None:
        return asked
    recipes = (one for one in workspace.opened() if isinstance(one, OpenRecipe))
    first = next((additive for one in recipes for additive in one.additives), None)
    example = ""
    if first:
        example = f" ({first.name}: hookbait {first.hookbait or 'none stated'}, freebie {first.freebie or 'none stated'})"
    raise OptionError(f"say which doses: --as hookbait or --as freebie{example}")
