"""``rolling`` and ``campaign``: a weekend's clock sheet, and a season of trips."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from eggfold.amounts import Amount, AmountError
from eggfold.edit.writing import make_folder, write_file
from eggfold.errors import (
    EggfoldError,
    NoAnswerError,
    OptionError,
    ProblemsError,
    errors_of,
    in_quotes,
)
from eggfold.formats.ics import write_calendar
from eggfold.formats.plans_json import campaign_document, rolling_document
from eggfold.formats.registry import CALENDAR
from eggfold.load.eggs import MOST_EGGS
from eggfold.load.fields import parse_moment, parse_time
from eggfold.load.load_plan import OpenPlan, asked_of, open_campaign, open_rolling, plan_kind
from eggfold.load.load_recipe import Companions, with_ending
from eggfold.load.lots import lot_problems
from eggfold.load.plan import Campaign, SessionKeys
from eggfold.load.shelf import OpenShelf
from eggfold.load.workspace import Chosen, Findings
from eggfold.nearest import fold, one_of
from eggfold.pages.agenda import AgendaEntry, campaign_entries, rolling_entries
from eggfold.pages.campaign import campaign_page
from eggfold.pages.figures import units_in
from eggfold.pages.rolling import rolling_page, unfit_sentences
from eggfold.plan.campaign import SeasonPlan, WhatIf, build_season
from eggfold.plan.in_hand import trip_name
from eggfold.plan.remedies import Rescue
from eggfold.plan.rolling import Rolling, build_rolling
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
from eggfold.tasks.run import begin, finish, no_answer
from eggfold.tasks.surroundings import say, show

A = TypeVar("A")
P = TypeVar("P", bound=SessionKeys)


def run_rolling(given: Given) -> int:
    """Write the plan of a weekend; return the exit code."""
    rescue = _rescue(given)
    to, chosen = _begin(given)
    opened, findings = open_good(open_rolling, given["plan"], chosen)
    rolling, findings = _answer(opened, findings, build_rolling, rescue)
    if opened and rolling:
        units = units_in(given["units"])
        page = partial(rolling_page, units=units, full=_is_full(given, to))
        answer = Answer(file_stem(opened.file), rolling, page, given["why"], rolling_document)
        failed = _write(to, given, opened, answer, rolling_entries(rolling, units))
        unfit = map(NoAnswerError, unfit_sentences(rolling, units))
        findings = findings.failing([*failed, *unfit])
    return finish(findings)


def run_campaign(given: Given) -> int:
    """Write the plan of a season; return the exit code."""
    to, chosen = _begin(given)
    opened, findings = open_good(open_campaign, given["plan"], chosen, given["date"])
    asked = _what_if(opened.plan, given) if opened else None
    season, findings = _answer(opened, findings, build_season, given["date"], asked)
    if opened and season:
        units = units_in(given["units"])
        page = partial(campaign_page, units=units, full=_is_full(given, to))
        answer = Answer(file_stem(opened.file), season, page, given["why"], campaign_document)
        failed = _write(to, given, opened, answer, campaign_entries(season, units))
        findings = findings.failing(failed)
    return finish(findings)


def _is_full(given: Given, to: Destination | None) -> bool:
    """Tell whether all tables are wanted: where they are asked for, and beyond a terminal's text."""
    return given["full"] or to is None or to.form != "text"


def plan_batches(file: str, chosen: Chosen, today: str) -> tuple[list[Batch], Companions, Findings]:
    """Return every bowl that a plan wants, as batches, the companions, and what there is to tell.

    There is none where the plan has errors or no answer.
    """
    answer, companions, findings = _planned(file, chosen, today)
    if answer is None:
        return [], companions, findings.plus(Findings(unanswered=(file,)))
    return [bowl.batch for bowl in answer.bowls], companions, findings


def _planned(
    file: str, chosen: Chosen, today: str
) -> tuple[SeasonPlan | Rolling | None, Companions, Findings]:
    """Return the answer to a plan of either kind, the companions, and what there is to tell."""
    opened: OpenPlan[Any] | None
    answer: SeasonPlan | Rolling | None
    if plan_kind(file) == "campaign":
        opened, findings = open_good(open_campaign, file, chosen, today)
        answer, findings = _answer(opened, findings, build_season, today)
    else:
        opened, findings = open_good(open_rolling, file, chosen)
        answer, findings = _answer(opened, findings, build_rolling)
    return answer, opened.companions if opened else Companions(), findings


def _what_if(plan: Campaign, given: Given) -> WhatIf | None:
    """Return what is asked beside a plan, None where that is nothing."""
    more = []
    for text in given["more"]:
        name, equals, amount = text.rpartition("=")
        if not equals or not name.strip():
            raise OptionError(f"--more: {in_quotes(text)} says no amount; write TRIP=4kg")
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


def due_items(
    file: str, chosen: Chosen, today: str
) -> tuple[list[ShoppingItem] | None, OpenShelf | None, Findings]:
    """Return what a plan says to buy, None on errors, the shelf, and what there is to tell.

    Of a season it is what is due, else what is due next.
    """
    answer, companions, findings = _planned(file, chosen, today)
    items = None
    if isinstance(answer, SeasonPlan):
        purchases = answer.buying.purchases
        due = [one for one in purchases if one.day <= today] or purchases[:1]
        items = [item for one in due for item in one.items]
    elif answer is not None:
        stock = stock_on(companions.shelf, today)
        items = [*build_shopping([bowl.batch for bowl in answer.bowls], stock)]
    return items, companions.shelf, findings


def _begin(given: Given) -> tuple[Destination | None, Chosen]:
    """Return where the answer goes, None for a calendar, and which companions are read."""
    ending = str(given["output"] or "").lower().endswith(f".{CALENDAR}")
    calendar = given["form"] == CALENDAR or (given["form"] is None and ending)
    to = None if calendar else destination_of(given, others=(f".{CALENDAR}",))
    return to, begin(given, stocked=True)


def open_good(
    open_plan: Callable[..., OpenPlan[P]], file: str, chosen: Chosen, *more: str
) -> tuple[OpenPlan[P] | None, Findings]:
    """Open a plan, None where it or a recipe of it has errors, and return what there is to tell."""
    try:
        opened = open_plan(with_ending(file), chosen, *more)
    except ProblemsError as error:
        return None, Findings(error.problems)
    problems = [*opened.problems, *lot_problems(opened.companions.shelf)]
    for asked in asked_of(opened.plan):
        if recipe := opened.recipes.get(asked.quantity.recipe):
            problems += recipe.answerable(asked.strength)
    findings = opened.findings.plus(Findings(problems))
    return None if errors_of(findings.problems) or findings.failures else opened, findings


def _answer(
    opened: OpenPlan[Any] | None, findings: Findings, build: Callable[..., A], *more: object
) -> tuple[A | None, Findings]:
    """Return what is built of a plan, None where it has no answer, and what there is to tell."""
    if opened is None:
        return None, findings
    try:
        return build(opened, *more), findings
    except NoAnswerError as error:
        return None, findings.plus(no_answer(opened.file, error))


def _write(
    to: Destination | None,
    given: Given,
    opened: OpenPlan[Any],
    answer: Answer[Any],
    entries: Iterable[AgendaEntry],
) -> list[EggfoldError]:
    """Write an answer, or the calendar, and return what failed."""
    if to is not None:
        return deliver(to, answer)
    _write_calendar(given, opened, entries)
    return []


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
        None if eggs_left is None else whole_option("eggs-left", eggs_left, MOST_EGGS, least=0),
        amount_option("late", late, "time", "min", 0, 24 * 60) * 60 if late else 0.0,
    )
