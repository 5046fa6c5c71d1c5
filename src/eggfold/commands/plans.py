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
    from eggfold.jobs.batch import Batch
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
    from eggfold.errors import NoAnswerError  # noqa: PLC0415

    workspace = open_workspace((), given["additives"], given, stocked=True)
    opened = answerable_plan(workspace, open_plan)
    if opened is None:
        return finish(workspace)
    try:
        answer = build(opened)
    except NoAnswerError as error:
        workspace.failures.append(NoAnswerError(f"{opened.file}: {error}"))
        return finish(workspace)
    click.echo(write(answer), nl=False)
    workspace.failures += [NoAnswerError(sentence) for sentence in unfit(answer)]
    return finish(workspace)


def answerable_plan(
    workspace: Workspace, open_plan: Callable[[Workspace], OpenPlan[Any]]
) -> OpenPlan[Any] | None:
    """Open a plan; None where it or a recipe of it has errors, which the workspace then holds."""
    from eggfold.errors import ProblemsError  # noqa: PLC0415
    from eggfold.files.planned import asked_of  # noqa: PLC0415

    before = (len(workspace.problems), len(workspace.failures))
    try:
        opened = open_plan(workspace)
    except ProblemsError as error:
        workspace.problems += error.problems
        return None
    workspace.problems += opened.problems
    for asked in asked_of(opened.plan):
        if recipe := opened.recipes.get(asked.quantity.recipe):
            workspace.problems += recipe.answerable(asked.strength)
    errors = [p for p in workspace.problems[before[0] :] if p.severity == "error"]
    return None if errors or workspace.failures[before[1] :] else opened


def split_plans(files: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the plans among files named one by one, and the others."""
    plans = tuple(f for f in files if f != "-" and _is_plan(f))
    return plans, tuple(f for f in files if f not in plans)


def _is_plan(file: str) -> bool:
    """Tell whether a file is a plan; only one that speaks of bowls or trips is read as YAML."""
    from eggfold.errors import EggfoldError  # noqa: PLC0415
    from eggfold.files.source import read_source  # noqa: PLC0415

    try:
        text = read_source(file).text
    except EggfoldError:
        return False
    if "bowls" not in text and "trips" not in text:
        return False
    from eggfold.files.planned import plan_kind  # noqa: PLC0415

    return plan_kind(file) is not None


def plan_batches(workspace: Workspace, file: str, today: str) -> list[Batch]:
    """Return every bowl that a plan wants, as batches; none where it has errors or no answer."""
    from eggfold.errors import NoAnswerError  # noqa: PLC0415
    from eggfold.files.planned import open_campaign, open_rolling, plan_kind  # noqa: PLC0415
    from eggfold.jobs.campaign import build_season  # noqa: PLC0415
    from eggfold.jobs.rolling import build_rolling  # noqa: PLC0415

    def open_plan(workspace: Workspace) -> OpenPlan[Any]:
        if plan_kind(file) == "campaign":
            return open_campaign(file, workspace, today)
        return open_rolling(file, workspace)

    opened = answerable_plan(workspace, open_plan)
    if opened is None:
        return []
    try:
        if plan_kind(file) == "campaign":
            return [bowl.batch for bowl in build_season(opened, today).bowls]
        return [bowl.batch for bowl in build_rolling(opened).bowls]
    except NoAnswerError as error:
        workspace.failures.append(NoAnswerError(f"{file}: {error}"))
        return []


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
