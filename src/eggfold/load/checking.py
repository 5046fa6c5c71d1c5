"""Every problem of every file of any kind."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TypeAlias

from eggfold.errors import FileAccessError, Problem, tidy
from eggfold.load.companions import Companions, open_bench, open_powders, open_register, open_stock
from eggfold.load.folder import KINDS_BY_NAME, companion, expand, kind_by_name
from eggfold.load.load_recipe import OpenRecipe, check_warnings, name_of, shared_name_problem
from eggfold.load.lots import lot_problems
from eggfold.load.notebook import check_notebook
from eggfold.load.reading import Placed
from eggfold.load.workspace import Workspace
from eggfold.nearest import fold

Oddities: TypeAlias = Callable[[OpenRecipe], Iterable[Problem]]
"""What can be read of a recipe and is hardly ever meant."""


def check_shelf(file: str, workspace: Workspace) -> list[Problem]:
    """Return all problems of a shelf that are not told yet, also those with the register beside it."""
    register = workspace.companions.register
    if register.file is None and (beside := companion("additives", file, None)):
        register = open_register(beside)[0]
    elif file in workspace.told:
        return lot_problems(workspace.companions.shelf)
    opened, _, problems = open_stock([], file, register)
    return problems + lot_problems(opened)


def check_files(
    workspace: Workspace,
    last_day: str | None = None,
    today: str | None = None,
    oddities: Oddities | None = None,
) -> tuple[list[Problem], int]:
    """Return all problems, sorted, and how many files were looked at.

    Each file is looked at with what lies beside it. A notebook has no day after ``last_day``; trips
    of a campaign before ``today`` are past. ``oddities`` tells of a recipe what can be read and is
    hardly ever meant.
    """
    groups = _groups(workspace.arguments)
    if len(groups) == 1:
        return _check_together(workspace, last_day, today, oddities)
    problems: list[Problem] = []
    seen = 0
    for group in groups:
        part = replace(workspace, arguments=group, problems=[], notes=[], failures=[], told=set())
        found, number = _check_together(part, last_day, today, oddities)
        problems += found
        seen += number
        workspace.notes += part.notes
        workspace.failures += part.failures
    return tidy(problems), seen


def _groups(arguments: tuple[str, ...]) -> list[tuple[str, ...]]:
    """Return the files that are meant, those together that have the same companions."""
    groups: dict[tuple[str | None, ...], list[str]] = {}
    for argument in arguments:
        try:
            files = [*expand([argument])]
        except FileAccessError:  # it is told of where the files are read
            files = [argument]
        for file in files:
            beside = tuple(companion(kind, file, None) for kind in KINDS_BY_NAME)
            groups.setdefault(beside, []).append(file)
    return [tuple(files) for files in groups.values()] if len(groups) > 1 else [arguments]


def _found(arguments: tuple[str, ...]) -> Iterator[str]:
    """Yield the files that are meant; what cannot be found has been told of."""
    for argument in arguments:
        with suppress(FileAccessError):
            yield from expand([argument])


def _check_together(
    workspace: Workspace, last_day: str | None, today: str | None, oddities: Oddities | None
) -> tuple[list[Problem], int]:
    firsts: dict[tuple[Path, str], str] = {}
    for opened in workspace.recipes(required=False):
        workspace.problems += _shared_name(opened, firsts)
        workspace.problems += [*map(_told_once, opened.problems), *check_warnings(opened)]
        workspace.problems += oddities(opened) if oddities else ()
    seen = workspace.seen
    notes = []
    for file in dict.fromkeys(_found(workspace.arguments)):
        kind = kind_by_name(file)
        if kind == "shelf":
            workspace.problems += check_shelf(file, workspace)
        elif kind and file in workspace.told:
            pass
        elif kind == "additives":
            workspace.problems += open_register(file)[1]
        elif kind == "ingredients":
            workspace.problems += open_powders(file)[1]
        elif kind == "bench":
            workspace.problems += open_bench(file)[1]
        elif kind == "notebook":
            workspace.problems += check_notebook(file, last_day)
        elif plan := workspace.plans.get(file):
            workspace.problems += _plan_problems(file, *plan, today)
        else:
            notes += [n for n in workspace.notes if n.startswith(f"{file}: ")]
            continue
        seen += 1
    workspace.notes = notes
    workspace.companions = Companions()  # what was read of them is not needed any more
    workspace.densities = None
    workspace.plans.clear()
    return tidy(workspace.problems), seen


def _shared_name(opened: OpenRecipe, firsts: dict[tuple[Path, str], str]) -> list[Problem]:
    """Return a warning where an earlier recipe of the folder has this one's name."""
    name = name_of(opened.placed)
    first = firsts.setdefault((Path(opened.file).parent, fold(name or "")), opened.file)
    if name is None or first == opened.file:
        return []
    return [shared_name_problem(opened.placed, first, severity="warning")]


def _told_once(problem: Problem) -> Problem:
    """Return a broken additive as a warning: the register's own problem is the error."""
    return problem._replace(severity="warning") if problem.code == "broken-additive" else problem


def _plan_problems(
    file: str, kind: str, placed: Placed, problems: list[Problem], today: str | None
) -> list[Problem]:
    from eggfold.load.load_plan import plan_file_problems  # noqa: PLC0415 - dates and zones

    return plan_file_problems(file, kind, placed, problems, today)
