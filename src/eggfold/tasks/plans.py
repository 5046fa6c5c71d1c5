"""``rolling`` and ``campaign``: a weekend's clock sheet, and a season of trips."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from eggfold.amounts import Amount, AmountError
from eggfold.edit.writing import make_folder, write_file
from eggfold.errors import NoAnswerError, OptionError, ProblemsError, errors_of
from eggfold.formats.ics import write_calendar
from eggfold.formats.json import campaign_document, rolling_document
from eggfold.formats.registry import CALENDAR
from eggfold.load.fields import parse_moment, parse_time
from eggfold.load.load_plan import OpenPlan, asked_of, open_campaign, open_rolling, plan_kind
from eggfold.load.load_recipe import with_ending
from eggfold.load.lots import lot_problems
from eggfold.load.plan import Campaign
from eggfold.load.workspace import Workspace
from eggfold.nearest import fold, one_of
from eggfold.pages.agenda import AgendaEntry, campaign_entries, rolling_entries
from eggfold.pages.campaign import campaign_page
from eggfold.pages.rolling import rolling_page, unfit_sentences
from eggfold.plan.campaign import WhatIf, build_season
from eggfold.plan.in_hand import trip_name
from eggfold.plan.remedies import Rescue
from eggfold.plan.rolling import build_rolling
from eggfold.recipe.batch import Batch
from eggfold.stock.shopping import ShoppingItem, build_shopping, stock_on
from eggfold.tasks.asked import Given, amount_error, amount_option, whole_option
from eggfold.tasks.delivery import (
    Answer,
    Destination,
    deliver,
    destination_of,
    file_stem,
    is_folder,
)
from eggfold.tasks.run import finish, open_workspace
from eggfold.tasks.surroundings import say, show

A = TypeVar("A")


def run_rolling(given: Given) -> int:
    """Write the plan of a weekend; return the exit code."""
    rescue = _rescue(given)
    to, workspace = _begin(given)
    opened = _open(workspace, open_rolling, given["plan"])
    rolling = _answer(workspace, opened, build_rolling, rescue)
    if opened and rolling:
        page = partial(rolling_page, full=_is_full(given, to))
        answer = Answer(file_stem(opened.file), rolling, page, given["why"], rolling_document)
        _write(to, given, workspace, opened, answer, rolling_entries(rolling))
        workspace.failures += map(NoAnswerError, unfit_sentences(rolling))
    return finish(workspace)


def run_campaign(given: Given) -> int:
    """Write the plan of a season; return the exit code."""
    to, workspace = _begin(given)
    opened = opened_campaign(workspace, given["plan"], given["date"])
    asked = _what_if(opened.plan, given) if opened else None
    season = _answer(workspace, opened, build_season, given["date"], asked)
    if opened and season:
        page = partial(campaign_page, full=_is_full(given, to))
        answer = Answer(file_stem(opened.file), season, page, given["why"], campaign_document)
        _write(to, given, workspace, opened, answer, campaign_entries(season))
    return finish(workspace)


def _is_full(given: Given, to: Destination | None) -> bool:
    """Tell whether all tables are wanted: where they are asked for, and beyond a terminal's text."""
    return given["full"] or to is None or to.form != "text"


def plan_batches(workspace: Workspace, file: str, today: str) -> list[Batch]:
    """Return every bowl that a plan wants, as batches; none where it has errors or no answer."""
    if plan_kind(file) == "campaign":
        opened = _open(workspace, open_campaign, file, today)
        answer: Any = _answer(workspace, opened, build_season, today)
    else:
        answer = _answer(workspace, _open(workspace, open_rolling, file), build_rolling)
    if answer is None:
        workspace.unanswered.append(file)
        return []
    return [bowl.batch for bowl in answer.bowls]


def _what_if(plan: Campaign, given: Given) -> WhatIf | None:
    """Return what is asked beside a plan, None where that is nothing."""
    more = []
    for text in given["more"]:
        name, equals, amount = text.rpartition("=")
        if not equals or not name.strip():
            raise OptionError(f"--more: '{text[:60]}' says no amount; write TRIP=4kg")
        grams = amount_option("more", amount, "mass", "g", 1, 1_000_000, or_unit="kg")
        more.append((trip_of(plan, name), Amount(grams, "g")))
    skip = tuple(trip_of(plan, name) for name in given["skip"])
    if not (skip or more or given["without"]):
        return None
    return WhatIf(skip, tuple(more), tuple(given["without"]))


def trip_of(plan: Campaign, named: str) -> int:
    """Return the trip of a plan that a day or a part of a name means; raises OptionError."""
    wanted = fold(named)
    called = [(i, fold(trip.name or ""), trip.leave) for i, trip in enumerate(plan.trips)]
    found = [i for i, name, leave in called if wanted in (name, leave)]
    found = found or [i for i, name, leave in called if wanted in name or leave.endswith(wanted)]
    if len(found) == 1:
        return found[0]
    listed = [f"{trip_name(trip)} ({trip.leave})" for trip in plan.trips]
    if found:
        both = one_of([listed[i] for i in found])
        raise OptionError(f"'{named}' may be {both}: give the day it leaves")
    raise OptionError(f"no trip is called '{named}'; there is {one_of(listed)}")


def opened_campaign(workspace: Workspace, file: str, today: str) -> OpenPlan[Campaign] | None:
    """Return a season's plan; None where it or a recipe of it has errors, which the workspace holds."""
    return _open(workspace, open_campaign, file, today)


def due_items(workspace: Workspace, file: str, today: str) -> list[ShoppingItem] | None:
    """Return what a plan says to buy: of a season what is due, else what is due next; None on errors."""
    if plan_kind(file) == "rolling plan":
        batches = plan_batches(workspace, file, today)
        stock = stock_on(workspace.companions.shelf, today)
        return list(build_shopping(batches, stock)) if batches else None
    season = _answer(workspace, opened_campaign(workspace, file, today), build_season, today)
    if season is None:
        return None
    purchases = season.buying.purchases
    due = [one for one in purchases if one.day <= today] or purchases[:1]
    return [item for one in due for item in one.items]


def _begin(given: Given) -> tuple[Destination | None, Workspace]:
    """Return where the answer goes, None for a calendar, and the workspace."""
    ending = str(given["output"] or "").lower().endswith(f".{CALENDAR}")
    calendar = given["form"] == CALENDAR or (given["form"] is None and ending)
    to = None if calendar else destination_of(given, others=(f".{CALENDAR}",))
    return to, open_workspace((), given, stocked=True)


def _open(
    workspace: Workspace, open_plan: Callable[..., OpenPlan[Any]], file: str, *more: str
) -> OpenPlan[Any] | None:
    """Open a plan; None where it or a recipe of it has errors, which the workspace then holds."""
    before = (len(workspace.problems), len(workspace.failures))
    try:
        opened = open_plan(with_ending(file), workspace, *more)
    except ProblemsError as error:
        workspace.problems += error.problems
        return None
    workspace.problems += [*opened.problems, *lot_problems(workspace.companions.shelf)]
    for asked in asked_of(opened.plan):
        if recipe := opened.recipes.get(asked.quantity.recipe):
            workspace.problems += recipe.answerable(asked.strength)
    errors = errors_of(workspace.problems[before[0] :])
    return None if errors or workspace.failures[before[1] :] else opened


def _answer(
    workspace: Workspace, opened: OpenPlan[Any] | None, build: Callable[..., A], *more: object
) -> A | None:
    """Return what is built of a plan; None where it has no answer, which the workspace then holds."""
    if opened is None:
        return None
    try:
        return build(opened, *more)
    except NoAnswerError as error:
        workspace.failures.append(NoAnswerError(f"{opened.file}: {error}"))
        return None


def _write(
    to: Destination | None,
    given: Given,
    workspace: Workspace,
    opened: OpenPlan[Any],
    answer: Answer[Any],
    entries: Iterable[AgendaEntry],
) -> None:
    if to is None:
        _write_calendar(given, opened, entries)
    else:
        workspace.failures += deliver(to, answer)


def _write_calendar(given: Given, opened: OpenPlan[Any], entries: Iterable[AgendaEntry]) -> None:
    stem = file_stem(opened.file)
    name = opened.plan.name or stem
    text = write_calendar(name, entries, floating=opened.plan.zone is None)
    if given["output"] in (None, "-"):
        show(text)
        return
    path = Path(given["output"])
    if is_folder(given["output"]):
        make_folder(path)
        path /= f"{stem}.{CALENDAR}"
    write_file(path, text.encode(), force=given["force"])
    say(f"wrote {path}")


def _rescue(given: Given) -> Rescue:
    """Return where a session stands, from the options."""
    now, eggs_left, late = given["now"], given["eggs_left"], given["late"]
    if now and late:
        raise OptionError("--late counts from the plan, --now says the time: give one of them")
    try:
        at = now and (parse_moment(now) if len(now) > len("14:20") else parse_time(now))
    except AmountError as error:
        raise amount_error("--now", error) from error
    return Rescue(
        whole_option("done", given["done"], 10_000, least=0),
        at or None,
        None if eggs_left is None else whole_option("eggs-left", eggs_left, 100_000, least=0),
        amount_option("late", late, "time", "min", 0, 24 * 60) * 60 if late else 0.0,
    )
