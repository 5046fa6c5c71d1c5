"""``batch``: a card for each recipe, and one list of what they need."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from eggfold.formats.json import Data, data_of, document
from eggfold.formats.registry import TWO_SIDED
from eggfold.pages.card import card_page
from eggfold.pages.figures import Units, units_in
from eggfold.pages.page import Page
from eggfold.recipe.batch import Batch, build_batch
from eggfold.recipe.moves import build_moves
from eggfold.records import NamedTuple
from eggfold.stock.holdings import NeedKey, needs_of
from eggfold.stock.shopping import (
    BatchCost,
    ShoppingItem,
    build_cost,
    build_shopping,
    items_by_need,
    listed,
    stock_on,
    total_of,
)
from eggfold.tasks.asked import Given, asked_of
from eggfold.tasks.delivery import Part, deliver, destination_of, file_stem
from eggfold.tasks.run import answers, finish, need_strength, open_files
from eggfold.tasks.shopping import ShoppingList

if TYPE_CHECKING:
    from eggfold.stock.holdings import ShelfToday

Purchase = Mapping[NeedKey, ShoppingItem]


class Card(NamedTuple):
    """One batch, what is bought for all of them, and whether it stands alone."""

    batch: Batch
    bought: Purchase
    stock: ShelfToday | None
    day: str
    alone: bool
    units: Units
    why: bool
    full: bool

    @property
    def stem(self) -> str:
        """The recipe's file and the strength: the same from day to day."""
        return f"{file_stem(self.batch.file)}-{self.batch.strength}"

    @property
    def cost(self) -> BatchCost | None:
        """What the batch's material costs."""
        return build_cost(self.batch, self.bought)

    def pages(self) -> tuple[Page, ...]:
        """Return the card, with its own shopping list where it stands alone."""
        items = listed(self.bought) if self.alone else None
        page = card_page(
            self.batch, self.units, items, self.cost, why=self.why, full=self.full, day=self.day
        )
        return (page,)

    def data(self) -> Data:
        """Return the batch with what it alone needs."""
        return _document([self], build_shopping([self.batch], self.stock))


class Cards(NamedTuple):
    """All cards and their list, as one document."""

    stem: str
    cards: list[Card]
    parts: list[Part]
    bought: Purchase

    def pages(self) -> tuple[Page, ...]:
        """Return the cards, and the list where there are several."""
        return tuple(page for part in self.parts for page in part.pages())

    def data(self) -> Data:
        """Return the batches with what they need in all."""
        return _document(self.cards, listed(self.bought))


def run_batch(given: Given) -> int:
    """Write the cards; return the exit code."""
    asked, to = asked_of(given), destination_of(given)
    workspace = open_files(given["recipes"] or (".",), given, stocked=True)
    asked = need_strength(workspace, asked)
    batches, findings = answers(workspace, asked, build_batch)
    if batches or to.form == "json":
        stock = stock_on(workspace.companions.shelf, given["date"])
        bought = items_by_need(needs_of((one, None) for one in batches), stock)
        missing = tuple(dict.fromkeys(findings.unanswered))
        alone = len(batches) == 1
        units, why = units_in(given["units"]), given["why"]
        full = given["full"] or to.form in TWO_SIDED
        cards = [Card(b, bought, stock, given["date"], alone, units, why, full) for b in batches]
        parts: list[Part] = [*cards]
        if len(batches) > 1:
            parts.append(ShoppingList(listed(bought), batches, units, missing=missing))
        findings = findings.failing(deliver(to, Cards("batch", cards, parts, bought), parts))
    return finish(findings)


def _document(cards: list[Card], items: tuple[ShoppingItem, ...]) -> Data:
    batches = [
        {
            **data_of(card.batch),
            "moves": data_of(build_moves(card.batch)),
            "cost": data_of(card.cost),
        }
        for card in cards
    ]
    total = total_of(items)
    shopping = [{**data_of(item), "lasts_eggs": item.lasts_eggs} for item in items]
    data = {"batches": batches, "shopping": shopping}
    return document("batch", {**data, "currency": total.currency, "cost": total.cost})
