"""A plan opened: its model, every problem in it, and the recipes it names."""

from __future__ import annotations

from pathlib import Path
from shlex import quote
from typing import Any, Generic, NamedTuple, TypeVar

from eggfold.errors import (
    FileAccessError,
    Problem,
    ProblemsError,
    UsageProblemError,
    errors_of,
    in_quotes,
    tidy,
)
from eggfold.load.fields import is_on_clock, moment_of, zone_of
from eggfold.load.folder import SUFFIXES, expand, kind_by_keys, kind_by_name
from eggfold.load.load_recipe import Companions, OpenRecipe, open_placed
from eggfold.load.names import recipe_names
from eggfold.load.plan import Campaign, Quantity, RollingPlan, SessionKeys, Trip
from eggfold.load.reading import NodePath, Placed, read_model
from eggfold.load.recipe import Strength
from eggfold.load.workspace import (
    OTHER_KINDS,
    PLAN_COMMANDS,
    Chosen,
    Findings,
    open_workspace,
)
from eggfold.nearest import did_you_mean, fold

P = TypeVar("P", bound=SessionKeys)

SPARE: dict[str, dict[str, Any]] = {
    "rolling plan": {"start": "2000-01-01 09:00", "hours": "8 h", "bowls": ()},
    "campaign": {"hours": "8 h", "trips": ()},
}
MODELS: dict[str, type[SessionKeys]] = {"rolling plan": RollingPlan, "campaign": Campaign}
TRIP_KEYS: tuple[tuple[str, Strength], ...] = (("freebies", "freebie"), ("hookbaits", "hookbait"))


class PlanQuantity(NamedTuple):
    """A quantity somewhere in a plan."""

    path: NodePath
    strength: Strength
    quantity: Quantity


class OpenPlan(NamedTuple, Generic[P]):
    """A plan that was read, and the recipes it names by the text that names them."""

    file: str
    plan: P
    placed: Placed
    problems: list[Problem]
    recipes: dict[str, OpenRecipe]
    companions: Companions
    findings: Findings
    """What there is to tell of the recipes."""


def open_rolling(file: str, chosen: Chosen) -> OpenPlan[RollingPlan]:
    """Open a rolling plan and its recipes, with the companions of these."""
    return _open(file, RollingPlan, "rolling plan", chosen, None)


def open_campaign(file: str, chosen: Chosen, today: str) -> OpenPlan[Campaign]:
    """Open a campaign and its recipes, with the companions of these."""
    return _open(file, Campaign, "campaign", chosen, today)


def _open(file: str, model: type[P], kind: str, chosen: Chosen, today: str | None) -> OpenPlan[P]:
    placed, problems = open_placed(file)
    own = kind_by_name(file) or kind_by_keys(placed.root.entries)
    if own != kind:
        raise UsageProblemError(_other_kind(file, kind, own))
    plan, files, problems = _read(file, model, kind, placed, problems, today)
    problems = tidy(problems)
    if not files or errors_of(problems):
        return OpenPlan(file, plan, placed, problems, {}, Companions(), Findings())
    workspace = open_workspace(dict.fromkeys(files.values()), chosen)
    found, findings = workspace.recipes(required=False)
    opened = {one.file: one for one in found}
    recipes = {name: opened[path] for name, path in files.items() if path in opened}
    return OpenPlan(file, plan, placed, problems, recipes, workspace.companions, findings)


def _read(
    file: str,
    model: type[P],
    kind: str,
    placed: Placed,
    problems: list[Problem],
    today: str | None,
) -> tuple[P, dict[str, str], list[Problem]]:
    """Return a plan, the files of the recipes that it names, and every problem of it by itself."""
    reading = read_model(model, placed, SPARE[kind])
    plan, problems = reading.model, problems + reading.problems
    if not problems:
        problems = plan_problems(placed, plan, today)
    files, unknown = _recipe_files(file, placed, asked_of(plan))
    return plan, files, problems + unknown


def _other_kind(file: str, kind: str, found: str) -> str:
    if found in PLAN_COMMANDS:
        return f"{file} is {OTHER_KINDS[found]}: eggfold {PLAN_COMMANDS[found]} {quote(file)}"
    key = "bowls" if kind == "rolling plan" else "trips"
    return f"{file} is not {OTHER_KINDS[kind]}: it has no {key}"


def plan_kind(file: str) -> str | None:
    """Return which plan a file is, None for anything else and for what cannot be read."""
    if kind_by_name(file) or Path(file).is_dir():
        return None
    try:
        kind = kind_by_keys(open_placed(file)[0].root.entries)
    except (ProblemsError, FileAccessError):
        return None
    return kind if kind in MODELS else None


def plan_file_problems(
    file: str, kind: str, placed: Placed, problems: list[Problem], today: str | None
) -> list[Problem]:
    """Return every problem of a plan by itself, with the recipes it names but not inside them."""
    *_, found = _read(file, MODELS[kind], kind, placed, problems, today)
    return tidy(map(_milder, found))


def _milder(problem: Problem) -> Problem:
    """Return a problem as the file's own: other files do not make it wrong."""
    return problem._replace(severity="warning") if problem.code == "shared-name" else problem


def asked_of(plan: SessionKeys) -> list[PlanQuantity]:
    """Return every quantity of a plan with its place and strength."""
    if isinstance(plan, RollingPlan):
        return [PlanQuantity(("bowls", i), b.strength, b) for i, b in enumerate(plan.bowls)]
    assert isinstance(plan, Campaign)  # noqa: S101 - the two kinds of plan
    return [
        PlanQuantity(("trips", i, key, j), strength, quantity)
        for i, trip in enumerate(plan.trips)
        for key, strength in TRIP_KEYS
        for j, quantity in enumerate(getattr(trip, key))
    ]


def plan_problems(placed: Placed, plan: SessionKeys, today: str | None) -> list[Problem]:
    """Return what is wrong between the keys of a plan."""
    if isinstance(plan, RollingPlan):
        return _rolling_problems(placed, plan)
    assert isinstance(plan, Campaign)  # noqa: S101 - the two kinds of plan
    return _campaign_problems(placed, plan, today)


def _rolling_problems(placed: Placed, plan: RollingPlan) -> list[Problem]:
    problems = []
    day, time = plan.start.split(" ")
    if not is_on_clock(moment_of(day, time, zone_of(plan.zone))):
        text = f"the clocks of {plan.zone} leave {time} out on {day}"
        problems.append(placed.problem(("start",), "no-such-time", text, "an hour later"))
    if not plan.bowls:
        text, hint = "there is nothing to roll", "- {recipe: …, bait: 10 kg}"
        problems.append(placed.problem(("bowls",), "no-amount", text, hint, key=True))
    return problems


def _campaign_problems(placed: Placed, plan: Campaign, today: str | None) -> list[Problem]:
    problems = []
    if not plan.trips:
        text, hint = "there is no trip", "- {leave: 2026-04-03, freebies: {recipe: …, bait: 10 kg}}"
        problems.append(placed.problem(("trips",), "no-amount", text, hint, key=True))
    order = sorted(range(len(plan.trips)), key=lambda i: (plan.trips[i].leave, i))
    if order and today and all(trip.last_day < today for trip in plan.trips):
        path: NodePath = ("trips", order[-1], "leave")
        text = (
            f"every trip is over: the last began on {plan.trips[order[-1]].leave}, today is {today}"
        )
        hint = "new trips, or the right year"
        problems.append(placed.problem(path, "past-trip", text, hint, severity="warning"))
    other: Trip | None = None
    for i in order:
        trip = plan.trips[i]
        path = ("trips", i, "leave")
        if other and (other.last_day > trip.leave or other.leave == trip.leave):
            text = f"you are away from {other.leave} to {other.last_day} already"
            hint = f"leave on {other.last_day} or later"
            problems.append(placed.problem(path, "trips-overlap", text, hint))
        if other is None or trip.last_day >= other.last_day:
            other = trip
    return problems


def _recipe_files(
    file: str, placed: Placed, asked: list[PlanQuantity]
) -> tuple[dict[str, str], list[Problem]]:
    """Return the file of each recipe that is named, and a problem for each that is not one."""
    folder = Path() if file == "-" else Path(file).parent
    files: dict[str, str] = {}
    known: dict[str, str] | None = None
    problems = []
    for one in asked:
        name = one.quantity.recipe
        if name in files:
            continue
        if found := _file_in(folder, name):
            files[name] = found
            continue
        known = recipe_names(expand([str(folder)])) if known is None else known
        meant = [path for path, own in known.items() if fold(own) == fold(name)]
        if len(meant) == 1:
            files[name] = meant[0]
            continue
        path = (*one.path, "recipe")
        if meant:
            text = f"{in_quotes(name)} is the name of {' and '.join(meant)}"
            hint = f"the file: {Path(meant[0]).name}"
            problems.append(placed.problem(path, "shared-name", text, hint))
        else:
            text = f"there is no recipe {in_quotes(name)}"
            near = did_you_mean(name, [*known.values(), *(Path(file).name for file in known)])
            hint = near or f"the name or the file of a recipe in {folder}"
            problems.append(placed.problem(path, "unknown-recipe", text, hint))
    return files, problems


def _file_in(folder: Path, name: str) -> str | None:
    for suffix in ("", *SUFFIXES):
        try:
            if (path := folder / f"{name}{suffix}").is_file():
                return str(path)
        except (OSError, ValueError):
            return None
    return None
