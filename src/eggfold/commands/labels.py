"""``eggfold labels``: freezer-bag labels."""

from __future__ import annotations

import re
from itertools import chain
from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.dates import read_day
from eggfold.commands.display import display_options
from eggfold.commands.options import (
    amount_option,
    asked_of,
    delivery_options,
    sized_recipes,
    whole_option,
    why_option,
)

if TYPE_CHECKING:
    from eggfold.commands.delivery import Part
    from eggfold.pages.page import Page
    from eggfold.recipe.labels import Keeping, Label

WITH_SUMS = ("text", "markdown")
"""Formats that may hold a page which is no label."""


@click.command()
@sized_recipes
@click.option("--bag", metavar="AMOUNT", help="One label for each bag of this much dried bait.")
@click.option("--months", metavar="N", help="How long the bait keeps frozen (6 if not given).")
@click.option(
    "--frozen",
    callback=read_day,
    metavar="DATE",
    help="The day it was frozen, as in 2026-02-02; a blank if it is not given.",
)
@click.option(
    "--grid",
    metavar="COLUMNSxROWS",
    default="2x4",
    show_default=True,
    help="How many labels a sheet has.",
)
@delivery_options
@why_option
@display_options
def labels(recipes: tuple[str, ...], additives: str | None, *, why: bool, **given: Any) -> int:
    """Make freezer-bag labels for a batch; --date is the day it was made.

    \b
    eggfold labels recipes/osierfen-caraway.yaml --as freebie --eggs 12 --bag 500g
    eggfold labels recipes --date 2026-01-31 --frozen 2026-02-02 --grid 3x8
    eggfold labels recipes --as freebie --eggs 12 --grid 2x5 --output labels.pdf
    """
    from eggfold.commands.delivery import deliver, destination_of  # noqa: PLC0415
    from eggfold.commands.run import answers, finish, need_strength, open_workspace  # noqa: PLC0415
    from eggfold.recipe.labels import build_labels  # noqa: PLC0415

    grid = _grid(given["grid"])
    keeping = _keeping(given)
    bag = given["bag"]
    bag_g = amount_option("bag", bag, "mass", "g", 1, 100_000) if bag else None
    asked, to = asked_of(given), destination_of(given)
    if why and to.form not in WITH_SUMS:
        raise click.UsageError(
            "--why puts the sums of the weights behind the labels, in text or markdown; the others hold "
            "labels alone"
        )
    to = to._replace(setting=to.setting._replace(grid=None if why else grid))
    workspace = open_workspace(recipes, additives, given, stocked=True)
    asked = need_strength(workspace, asked)
    batches = answers(
        workspace, asked.strength, lambda opened: build_labels(opened, asked, keeping, bag_g)
    )
    made = [one for one in batches if one]
    if made or to.form == "json":
        parts = [_part(_stem(one[0]), one, grid, why=why) for one in made]
        whole = _part("labels", tuple(chain.from_iterable(made)), grid, why=why)
        workspace.failures += deliver(to, whole, parts)
    return finish(workspace)


def _part(stem: str, made: tuple[Label, ...], grid: tuple[int, int], *, why: bool) -> Part:
    from eggfold.commands.delivery import Part  # noqa: PLC0415
    from eggfold.formats.json import document  # noqa: PLC0415
    from eggfold.pages.labels import label_page  # noqa: PLC0415

    def pages() -> tuple[Page, ...]:
        if not why:
            return tuple(map(label_page, made))
        from eggfold.pages.labels import label_sums  # noqa: PLC0415 - few ask for the sums

        return *map(label_page, made), *label_sums(made)

    columns, rows = grid
    data = {"grid": {"columns": columns, "rows": rows}, "labels": made}
    return Part(stem, pages, lambda: document("labels", data))


def _stem(label: Label) -> str:
    from eggfold.commands.delivery import file_stem  # noqa: PLC0415

    return f"{file_stem(label.file)}-{label.strength}-labels"


def _keeping(given: dict[str, Any]) -> Keeping:
    from datetime import date  # noqa: PLC0415

    from eggfold.recipe.labels import Keeping  # noqa: PLC0415
    from eggfold.reference.labels import FROZEN_MONTHS, MOST_MONTHS  # noqa: PLC0415

    made = date.fromisoformat(given["date"])
    frozen = date.fromisoformat(given["frozen"]) if given["frozen"] else None
    if frozen and frozen < made:
        raise click.UsageError(
            f"--frozen {frozen} is before the bait was made, {made}; say when with --date"
        )
    months = given["months"]
    if months is None:
        return Keeping(made, frozen, FROZEN_MONTHS)
    return Keeping(made, frozen, whole_option("months", months, MOST_MONTHS))


def _grid(text: str) -> tuple[int, int]:
    from eggfold.reference.labels import MOST_COLUMNS, MOST_ROWS  # noqa: PLC0415

    match = re.fullmatch(r"([0-9]{1,3}) ?[x×] ?([0-9]{1,3})", text.strip().lower())
    columns, rows = (int(match[1]), int(match[2])) if match else (0, 0)
    if 1 <= columns <= MOST_COLUMNS and 1 <= rows <= MOST_ROWS:
        return columns, rows
    raise click.UsageError(
        f"--grid: '{text[:40]}' is no sheet of labels; write COLUMNSxROWS, as 3x8: "
        f"up to {MOST_COLUMNS} columns and {MOST_ROWS} rows fit on a sheet"
    )
