"""``labels``: freezer-bag labels."""

from __future__ import annotations

import re
from datetime import date
from functools import partial
from itertools import chain

from eggfold.errors import NoAnswerError, OptionError, in_quotes
from eggfold.formats.json import Data, document
from eggfold.load.lots import lot_problems, lots_of
from eggfold.load.workspace import Findings, Workspace
from eggfold.nearest import fold
from eggfold.pages.figures import Units, units_in
from eggfold.pages.labels import label_page, label_sums
from eggfold.pages.page import Page
from eggfold.recipe.labels import Keeping, Label, build_labels, lot_labels
from eggfold.records import NamedTuple
from eggfold.reference.paper import MOST_COLUMNS, MOST_DAYS, MOST_MONTHS, MOST_ROWS
from eggfold.tasks.asked import Given, amount_option, asked_of, whole_option
from eggfold.tasks.delivery import deliver, destination_of, file_stem
from eggfold.tasks.run import answers, finish, gather, need_strength, open_files

WITH_SUMS = ("text", "markdown")
"""Formats that may hold a page which is no label."""


class Labels(NamedTuple):
    """Labels in a grid, those of a recipe or all, and whether their sums follow."""

    stem: str
    made: tuple[Label, ...]
    grid: tuple[int, int]
    units: Units
    why: bool

    def pages(self) -> tuple[Page, ...]:
        """Return a page for each label, then the sums."""
        sums = label_sums(self.made) if self.why else ()
        return *(label_page(label, self.units) for label in self.made), *sums

    def data(self) -> Data:
        """Return the object of ``labels``."""
        columns, rows = self.grid
        grid = {"columns": columns, "rows": rows}
        return document("labels", {"grid": grid, "labels": self.made})


def run_labels(given: Given) -> int:
    """Write the labels; return the exit code."""
    grid, keeping, why = _grid(given["grid"]), _keeping(given), given["why"]
    bag, units = given["bag"], units_in(given["units"])
    bag_g = amount_option("bag", bag, "mass", "g", 1, 100_000, or_unit="kg") if bag else None
    from_shelf = given["from_shelf"]
    asked, to = None if from_shelf else asked_of(given), destination_of(given)
    if why and to.form not in WITH_SUMS:
        raise OptionError(
            "--why puts the sums of the weights behind the labels, in text or markdown; the others hold "
            "labels alone"
        )
    to = to._replace(setting=to.setting._replace(grid=None if why else grid))
    workspace = open_files(given["recipes"] or (".",), given, stocked=True)
    if from_shelf:
        made, findings = _of_lots(workspace, keeping, bag_g)
    else:
        asked = need_strength(workspace, asked)
        build = partial(build_labels, keeping=keeping, bag_g=bag_g)
        made, findings = answers(workspace, asked, build)
        made = [one for one in made if one]
    if made or to.form == "json":
        parts = [Labels(_stem(one[0]), one, grid, units, why) for one in made]
        whole = Labels("labels", tuple(chain.from_iterable(made)), grid, units, why)
        findings = findings.failing(deliver(to, whole, parts))
    return finish(findings)


def _of_lots(
    workspace: Workspace, keeping: Keeping, bag_g: float | None
) -> tuple[list[tuple[Label, ...]], Findings]:
    """Return the labels of each lot of these recipes that is not thawed, and what there is to tell."""
    made = []
    recipes, findings = gather(workspace, lambda o: o)
    problems = [*findings.problems, *lot_problems(workspace.companions.shelf)]
    for opened in recipes:
        name = fold(opened.recipe.name)
        for lot in lots_of(workspace.companions.shelf):
            if fold(lot.recipe) != name or lot.state == "thawed":
                continue
            if wrong := opened.answerable(lot.strength):
                problems += wrong
            else:
                made.append(lot_labels(opened, lot, keeping, bag_g))
    if not made and not problems:
        raise NoAnswerError(
            "no bait of these recipes is on a shelf here: eggfold note rolled fills it"
        )
    return made, findings._replace(problems=problems)


def _stem(label: Label) -> str:
    return f"{file_stem(label.batch.file)}-{label.batch.strength}-labels"


def _keeping(given: Given) -> Keeping:
    made = date.fromisoformat(given["date"])
    frozen = date.fromisoformat(given["frozen"]) if given["frozen"] else None
    if frozen and frozen < made:
        raise OptionError(
            f"--frozen {frozen} is before the bait was made, {made}; say when with --date"
        )
    months, days = given["months"], given["days"]
    if days is not None:
        if months is not None or frozen:
            raise OptionError(
                "--days is for bags that are not frozen, without --months and --frozen"
            )
        return Keeping(made, days=whole_option("days", days, MOST_DAYS))
    return Keeping(
        made, frozen, None if months is None else whole_option("months", months, MOST_MONTHS)
    )


def _grid(text: str) -> tuple[int, int]:
    match = re.fullmatch(r"([0-9]{1,3}) ?[x×] ?([0-9]{1,3})", text.strip().lower())
    columns, rows = (int(match[1]), int(match[2])) if match else (0, 0)
    if 1 <= columns <= MOST_COLUMNS and 1 <= rows <= MOST_ROWS:
        return columns, rows
    raise OptionError(
        f"--grid: {in_quotes(text)} is not a sheet of labels; write COLUMNSxROWS, as 3x8: "
        f"up to {MOST_COLUMNS} columns and {MOST_ROWS} rows fit on a sheet"
    )
