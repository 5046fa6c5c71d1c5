"""What both plan commands do around their job: problems, formats, what does not fit."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeVar

import click

from eggfold.commands.option_types import CALENDAR
from eggfold.commands.options import amount_error, whole_option
from eggfold.commands.run import finish, open_workspace, say

if TYPE_CHECKING:
    from eggfold.commands.delivery import Destination
    from eggfold.files.planned import OpenPlan
    from eggfold.files.workspace import Workspace
    from eggfold.pages.agenda import AgendaEntry
    from eggfold.pages.page import Page
    from eggfold.plan.remedies import Rescue
    from eggfold.recipe.batch import Batch

A = TypeVar("A")


class Writers(NamedTuple, Generic[A]):
    """How an answer is written: as pages, as an object, as entries of a calendar."""

    pages: Callable[[A], tuple[Page, ...]]
    data: Callable[[A], dict[str, Any]]
    entries: Callable[[A], Iterable[AgendaEntry]]


def answer_plan(
    given: Mapping[str, Any],
    open_plan: Callable[[Workspace], OpenPlan[Any]],
    build: Callable[[OpenPlan[Any]], A],
    writers: Writers[A],
    unfit: Callable[[A], Iterable[str]],
) -> int:
    """Open a plan, build its answer, write it, and report what does not fit; return the exit code."""
    from eggfold.errors import NoAnswerError  # noqa: PLC0415

    to = None if _is_calendar(given) else _destination(given)
    workspace = open_workspace((), given["additives"], given, stocked=True)
    opened = answerable_plan(workspace, open_plan)
    if opened is None:
        return finish(workspace)
    try:
        answer = build(opened)
    except NoAnswerError as error:
        workspace.failures.append(NoAnswerError(f"{opened.file}: {error}"))
        return finish(workspace)
    if to is None:
        _write_calendar(given, opened, writers.entries(answer))
    else:
        _deliver(to, opened.file, answer, writers, workspace)
    workspace.failures += [NoAnswerError(sentence) for sentence in unfit(answer)]
    return finish(workspace)


def _is_calendar(given: Mapping[str, Any]) -> bool:
    ending = str(given["output"] or "").lower().endswith(f".{CALENDAR}")
    return bool(given["form"] == CALENDAR or (given["form"] is None and ending))


def _destination(given: Mapping[str, Any]) -> Destination:
    from eggfold.commands.delivery import destination_of  # noqa: PLC0415

    return destination_of(dict(given), others=(f".{CALENDAR}",))


def _deliver(
    to: Destination, file: str, answer: A, writers: Writers[A], workspace: Workspace
) -> None:
    from eggfold.commands.delivery import Part, deliver, file_stem  # noqa: PLC0415

    whole = Part(file_stem(file), lambda: writers.pages(answer), lambda: writers.data(answer))
    workspace.failures += deliver(to, whole)


def _write_calendar(
    given: Mapping[str, Any], opened: OpenPlan[Any], entries: Iterable[AgendaEntry]
) -> None:
    from pathlib import Path  # noqa: PLC0415

    from eggfold.commands.delivery import file_stem, is_folder  # noqa: PLC0415
    from eggfold.files.writing import make_folder, write_file  # noqa: PLC0415
    from eggfold.formats.ics import write_calendar  # noqa: PLC0415

    stem = file_stem(opened.file)
    name = opened.plan.name or stem
    text = write_calendar(name, entries, floating=opened.plan.zone is None)
    if given["output"] in (None, "-"):
        click.echo(text, nl=False)
        return
    path = Path(given["output"])
    if is_folder(given["output"]):
        make_folder(path)
        path /= f"{stem}.{CALENDAR}"
    write_file(path, text.encode(), force=given["force"])
    say(f"wrote {path}")


def answerable_plan(
    workspace: Workspace, open_plan: Callable[[Workspace], OpenPlan[Any]]
) -> OpenPlan[Any] | None:
    """Open a plan; None where it or a recipe of it has errors, which the workspace then holds."""
    from eggfold.errors import ProblemsError, errors_of  # noqa: PLC0415
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
    errors = errors_of(workspace.problems[before[0] :])
    return None if errors or workspace.failures[before[1] :] else opened


def split_plans(files: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the plans among files named one by one, and the others."""
    plans = tuple(f for f in files if f != "-" and _is_plan(f))
    return plans, tuple(f for f in files if f not in plans)


def _is_plan(file: str) -> bool:
    """Tell whether a file is a plan; only one that speaks of bowls or trips is read as YAML."""
    from eggfold.errors import EggfoldError  # noqa: PLC0415
    from eggfold.load.gate import read_source  # noqa: PLC0415

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
    from eggfold.plan.campaign import build_season  # noqa: PLC0415
    from eggfold.plan.rolling import build_rolling  # noqa: PLC0415

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
    from eggfold.plan.remedies import Rescue  # noqa: PLC0415

    try:
        at = now and (parse_moment(now) if len(now) > len("14:20") else parse_time(now))
    except AmountError as error:
        raise amount_error("--now", error) from error
    return Rescue(
        whole_option("done", done, 10_000, least=0),
        at or None,
        None if eggs_left is None else whole_option("eggs-left", eggs_left, 100_000, least=0),
    )
