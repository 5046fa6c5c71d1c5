"""What a batch's material costs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.jobs.stock import exact
from eggfold.pages.figures import KIND_WORDS, amount_text, price_text, size_text
from eggfold.pages.page import Facts, Lines

if TYPE_CHECKING:
    from eggfold.jobs.batch import Batch
    from eggfold.jobs.cost import BatchCost


PRICED_BY = {"g": (1000, "a kilo"), "ml": (1000, "a litre"), "piece": (1, "each")}


def cost_lines(cost: BatchCost) -> Lines:
    """Return how the cost came about, thing by thing."""
    items = []
    for part in cost.parts:
        times, words = PRICED_BY[part.unit]
        each = price_text(part.unit_price * times, cost.currency)
        whole = price_text(part.unit_price * exact(part.amount), cost.currency)
        items.append(
            f"{part.name}: {amount_text(part.amount, part.unit)} at {each} {words}: {whole}"
        )
    return Lines("HOW THE COST CAME ABOUT", tuple(items))


def cost_facts(batch: Batch, cost: BatchCost) -> Facts:
    """Return the cost of a batch: its material, a kilo dried, one bait of each size."""
    rows = [
        ("Used in this bowl", price_text(cost.material, cost.currency)),
        ("Each kilo, dried", price_text(cost.per_kg, cost.currency)),
    ]
    for line, each in zip(batch.baits, cost.per_bait, strict=True):
        label = f"One {size_text(line.diameter_mm)} {KIND_WORDS.get(line.kind, line.kind)}"
        rows.append((label, price_text(each, cost.currency)))
    if not cost.unpriced:
        return Facts("COST  of the material used, at the price of the packs", tuple(rows))
    rows.append(("Not in it", f"{', '.join(cost.unpriced)}: no price known"))
    return Facts("COST  at least, of the material whose price is known", tuple(rows))
