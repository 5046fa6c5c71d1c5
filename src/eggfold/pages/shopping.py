"""The shopping list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.pages.display import units_lines
from eggfold.pages.figures import amount_text
from eggfold.pages.page import Column, Page, Table

if TYPE_CHECKING:
    from eggfold.jobs.shopping import ShoppingItem


def shopping_table(items: tuple[ShoppingItem, ...], heading: str) -> Table:
    """Return what to have in the house before the first egg is broken."""
    columns = (Column("Have ready"), Column("need", "right"))
    rows = tuple((item.name, amount_text(item.need, item.unit)) for item in items)
    return Table(heading, columns, rows)


def shopping_page(items: tuple[ShoppingItem, ...], batches: int) -> Page:
    """Return the merged list of several batches."""
    aside = "one batch" if batches == 1 else f"{batches} batches"
    return Page("Shopping list", aside, (*units_lines(), shopping_table(items, "BUY")))
