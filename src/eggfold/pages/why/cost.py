"""How the cost of a batch came about."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.pages.cost import used_words
from eggfold.pages.figures import KIND_WORDS, size_text
from eggfold.pages.page import Lines
from eggfold.pages.why.sums import added, got, put

if TYPE_CHECKING:
    from eggfold.jobs.batch import Batch
    from eggfold.jobs.cost import BatchCost

UNITS = {"g": "g", "ml": "ml", "piece": "pieces"}


def cost_lines(batch: Batch, cost: BatchCost) -> Lines:
    """Return how the cost came about: thing by thing, in all, for a kilo and for one bait."""
    items, parts = [], []
    for part in cost.parts:
        whole = float(part.unit_price) * part.amount
        parts.append(put(whole))
        items.append(
            f"{part.name} = {UNITS[part.unit]} × price of one = {put(part.amount)} × "
            f"{put(float(part.unit_price))} = {got(whole)} {cost.currency}"
        )
    material = float(cost.material)
    if len(parts) > 1:
        items.append(f"{used_words(batch)} = {added(parts)} = {got(material)} {cost.currency}")
    items.append(
        f"Each kilo, dried = used / dried in kg = {put(material)} / "
        f"{put(batch.paste.finished_g / 1000)} = {got(float(cost.per_kg))} {cost.currency}"
    )
    rolled = added([*(f"{b.count} × {put(b.each_g)}" for b in batch.baits), put(batch.unrolled_g)])
    for bait, each in zip(batch.baits, cost.per_bait, strict=True):
        items.append(
            f"One {size_text(bait.diameter_mm)} {KIND_WORDS.get(bait.kind, bait.kind)} = used × one bait / all that is rolled = "
            f"{put(material)} × {put(bait.each_g)} / ({rolled}) = {got(float(each))} {cost.currency}"
        )
    return Lines("HOW THE COST CAME ABOUT", tuple(items))
