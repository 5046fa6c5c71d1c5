"""What a batch's material costs."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from eggfold.pages.display import shown_pair, shows_metric
from eggfold.pages.figures import KIND_WORDS, price_text, size_text
from eggfold.pages.page import Facts

if TYPE_CHECKING:
    from eggfold.jobs.batch import Batch
    from eggfold.jobs.cost import BatchCost


def used_words(batch: Batch) -> str:
    """Return what the material is used in."""
    number = batch.bowls_number
    return "Used in this bowl" if number == 1 else f"Used in these {number} bowls"


def cost_facts(batch: Batch, cost: BatchCost) -> Facts:
    """Return the cost of a batch: its material, a kilo dried, one bait of each size."""
    heavy = cost.per_kg * Fraction(shown_pair("mass").large_size) / 1000
    rows = [
        (used_words(batch), price_text(cost.material, cost.currency)),
        (f"Each {'kilo' if shows_metric() else 'pound'}, dried", price_text(heavy, cost.currency)),
    ]
    for line, each in zip(batch.baits, cost.per_bait, strict=True):
        label = f"One {size_text(line.diameter_mm)} {KIND_WORDS.get(line.kind, line.kind)}"
        rows.append((label, price_text(each, cost.currency)))
    if not cost.unpriced:
        return Facts("COST  of the material used, at the price of the packs", tuple(rows))
    rows.append(("Not in it", f"{', '.join(cost.unpriced)}: no price known"))
    return Facts("COST  at least, of the material whose price is known", tuple(rows))
