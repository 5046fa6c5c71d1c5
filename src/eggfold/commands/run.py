"""What every command that takes recipes does around its job: problems, notes, exit code."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

import click

from eggfold.errors import NoAnswerError, ProblemsError, errors_of, tidy

if TYPE_CHECKING:
    from eggfold.errors import Problem
    from eggfold.files.opened import OpenRecipe
    from eggfold.files.recipe import Strength
    from eggfold.files.workspace import Workspace
    from eggfold.recipe.asked import Asked

T = TypeVar("T")


def say(text: str) -> None:
    """Write to standard error."""
    click.echo(text, err=True)


def open_workspace(
    arguments: tuple[str, ...],
    additives: str | None,
    given: Mapping[str, Any] | None = None,
    *,
    stocked: bool = False,
) -> Workspace:
    """Return the workspace of a run over these files and folders.

    ``given`` names other companions: ``bench``, ``notebook`` and ``shelf``; ``without_notes`` leaves
    the notebook out. The shelf is read only where ``stocked``.
    """
    from eggfold.files.workspace import Workspace  # noqa: PLC0415

    gc.freeze()  # what is imported stays: collecting it costs 12 ms and frees nothing
    gc.set_threshold(50_000, 20, 50)  # a large file makes a million nodes and drops few of them
    gc.enable()
    named = given or {}
    with_notes = not named.get("without_notes", False)
    bench, notebook, shelf = (named.get(kind) for kind in ("bench", "notebook", "shelf"))
    return Workspace(arguments, additives, bench, notebook, with_notes, shelf, stocked)


def answers(
    workspace: Workspace, strength: Strength, answer: Callable[[OpenRecipe], T]
) -> Iterator[T]:
    """Yield the answers of the recipes that have one; what fails is remembered."""
    from eggfold.commands.progress import shown  # noqa: PLC0415

    for opened in shown(workspace.recipes(), lambda: workspace.expected, "working out"):
        wrong = opened.answerable(strength)
        workspace.problems += wrong
        if wrong:
            continue
        try:
            yield answer(opened)
        except NoAnswerError as error:
            workspace.failures.append(NoAnswerError(f"{opened.file}: {error}"))


def finish(workspace: Workspace) -> int:
    """Report what was passed over and what failed; return the exit code, 4 before 1 before 3."""
    from eggfold.formats.problems import problems_text  # noqa: PLC0415
    from eggfold.load.problem_limit import told  # noqa: PLC0415

    problems = told(tidy(workspace.problems))
    report(workspace, problems_text(problems))
    return exit_code(workspace, problems)


def report(workspace: Workspace, problems: str = "") -> None:
    """Tell on standard error what was passed over, the problems as text, and what failed."""
    from eggfold.formats.characters import clean  # noqa: PLC0415

    sys.stdout.flush()
    for note in (*dict.fromkeys(workspace.interrupted), *workspace.notes):
        say(clean(note))
    if problems:
        say(problems.rstrip("\n"))
    for failure in workspace.failures:
        say(f"eggfold: {clean(str(failure))}")


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
    raise click.UsageError(f"say which doses: --as hookbait or --as freebie{example}")
