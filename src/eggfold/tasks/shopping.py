"""``shopping``: one list of what recipes and plans need."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from eggfold.errors import EggfoldError
from eggfold.formats.json import Data, data_of, document
from eggfold.load.gate import read_source
from eggfold.load.load_recipe import Companions, each_once, with_ending
from eggfold.load.workspace import Findings
from eggfold.pages.figures import Units, units_in
from eggfold.pages.page import Page
from eggfold.pages.shopping import shopping_page
from eggfold.recipe.batch import Batch, build_batch
from eggfold.records import NamedTuple
from eggfold.stock.shopping import ShoppingItem, build_shopping, stock_on, total_of
from eggfold.tasks.asked import Given, asked_of
from eggfold.tasks.delivery import deliver, destination_of
from eggfold.tasks.run import answers, begin, finish, need_strength, open_files

if TYPE_CHECKING:
    from eggfold.stock.swaps import SwapHint


class ShoppingList(NamedTuple):
    """What to have, and the batches it is for."""

    items: tuple[ShoppingItem, ...]
    batches: Sequence[Batch]
    units: Units
    why: bool = False
    missing: tuple[str, ...] = ()
    """Recipes whose needs are not on it."""
    swaps: tuple[SwapHint, ...] = ()
    """Powders that are short, and what is alike."""

    @property
    def stem(self) -> str:
        """The name of a list."""
        return "shopping"

    def pages(self) -> tuple[Page, ...]:
        """Return the list."""
        page = shopping_page(
            self.items, self.batches, self.units, self.missing, self.swaps, why=self.why
        )
        return (page,)

    def data(self) -> Data:
        """Return the object of ``shopping``."""
        total = total_of(self.items)
        return document(
            "shopping",
            {
                "currency": total.currency,
                "items": [{**data_of(item), "lasts_eggs": item.lasts_eggs} for item in self.items],
                "cost": total.cost,
                "unpriced": total.unpriced if total.currency else [],
                "missing": self.missing,
                "swaps": self.swaps,
                "companions": each_once(batch.companions for batch in self.batches),
            },
        )


def run_shopping(given: Given) -> int:
    """Write the list; return the exit code."""
    to = destination_of(given)
    files = tuple(map(with_ending, given["recipes"]))
    plans = [file for file in files if _is_plan(file)]
    recipes = tuple(file for file in files if file not in plans)
    companions, batches, findings = Companions(), list[Batch](), Findings()
    if recipes:
        asked = asked_of(given)
        workspace = open_files(recipes, given, stocked=True)
        companions = workspace.companions
        batches, findings = answers(workspace, need_strength(workspace, asked), build_batch)
    if plans:
        from eggfold.tasks.plans import plan_batches  # noqa: PLC0415 - few lists are of plans

        chosen = begin(given, stocked=True)
        for plan in plans:
            of_plan, beside, found = plan_batches(plan, chosen, given["date"])
            batches, findings = [*batches, *of_plan], findings.plus(found)
            companions = beside if of_plan else companions
    stock = stock_on(companions.shelf, given["date"])
    items = build_shopping(batches, stock)
    swaps: tuple[SwapHint, ...] = ()
    if stock and any(batch.mix and batch.mix.blend for batch in batches):
        from eggfold.stock.swaps import swap_hints  # noqa: PLC0415 - few mix their own

        swaps = swap_hints(batches, stock, companions.powders)
    missing = tuple(dict.fromkeys(findings.unanswered))
    if batches or to.form == "json":
        units, why = units_in(given["units"]), given["why"]
        listed = ShoppingList(items, batches, units, why, missing, swaps)
        findings = findings.failing(deliver(to, listed))
    return finish(findings)


def _is_plan(file: str) -> bool:
    """Tell whether a file is a plan; only one that speaks of bowls or trips is read as YAML."""
    try:
        text = "" if file == "-" else read_source(file).text
    except EggfoldError:
        return False
    if "bowls" not in text and "trips" not in text:
        return False
    from eggfold.load.load_plan import plan_kind  # noqa: PLC0415 - few lists are of plans

    return plan_kind(file) is not None
