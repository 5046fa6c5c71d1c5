"""What both plan commands do around their job: problems, formats, what does not fit."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

import click

from eggfold.commands.options import whole_option
from eggfold.commands.run import finish, open_workspace

if TYPE_CHECKING:
    from eggfold.files.planned import OpenPlan
    from eggfold.files.workspace import Workspace
    from eggfold.jobs.rescue import Rescue

A = TypeVar("A")


def answer_plan(
    given: Mapping[str, Any],
    open_plan: Callable[[Workspace], OpenPlan[Any]],
    build: Callable[[OpenPlan[Any]], A],
    write: Callable[[A], str],
    unfit: Callable[[A], Iterable[str]],
) -> int:
    """Open a plan, build its answer, print it, and report what does not fit; return the exit code."""
    from eggfold.errors import NoAnswerError, ProblemsError  # noqa: PLC0415
    from eggfold.files.planned import asked_of  # noqa: PLC0415

    workspace = open_workspace((), given["additives"], given, stocked=True)
    try:
        opened = open_plan(workspace)
    except ProblemsError as error:
        workspace.problems += error.problems
        return finish(workspace)
    workspace.problems += opened.problems
    for asked in asked_of(opened.plan):
        if recipe := opened.recipes.get(asked.quantity.recipe):
            workspace.problems += recipe.answerable(asked.strength)
    if workspace.failures or any(p.severity == "error" for p in workspace.problems):
        return finish(workspace)
    try:
        answer = build(opened)
    except NoAnswerError as error:
        workspace.failures.append(NoAnswerError(f"{opened.file}: {error}"))
        return finish(workspace)
    click.echo(write(answer), nl=False)
    workspace.failures += [NoAnswerError(sentence) for sentence in unfit(answer)]
    return finish(workspace)


def rescue_of(done: str, now: str | None, eggs_left: str | None) -> Rescue:
    """Return where a session stands, from the options."""
    from eggfold.amounts import AmountError  # noqa: PLC0415
    from eggfold.files.clock import parse_moment, parse_time  # noqa: PLC0415
    from eggfold.jobs.rescue import Rescue  # noqa: PLC0415

    try:
        at = now and (parse_moment(now) if len(now) > len("14:20") else parse_time(now))
    except AmountError as error:
        raise click.UsageError(f"--now: {error.message}; try: {error.hint}") from error
    return Rescue(
        0 if done == "0" else whole_option("done", done, 10_000),
        at or None,
        None if eggs_left is None else _eggs(eggs_left),
    )


def _eggs(text: str) -> int:
    return 0 if text == "0" else whole_option("eggs-left", text, 100_000)
