"""What a batch's material costs."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from eggfold.pages.display import shown_pair, shows_metric
from eggfold.pages.figures import KIND_WORDS, price_text, size_text
from eggfold.pages.page import Facts, Lines
from eggfold.pages.sums import added, got, put

if TYPE_CHECKING:
    from eggfold.recipe.batch import Batch
    from eggfold.stock.cost import BatchCost


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
