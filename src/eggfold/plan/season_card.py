"""The season card: what one egg, one bowl, the season and a kilo of dry mix take of each additive."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import Batch, build_batch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from eggfold.files.recipe import Strength
    from eggfold.plan.trip_demand import Kind, Pastes, Portion
    from eggfold.recipe.dose import DoseLine


class SeasonCard(NamedTuple):
    """One recipe at one strength: one egg, one bowl and the whole season."""

    one: Batch
    bowl: Batch
    season: Batch

    def per_kg_dry(self, line: DoseLine) -> tuple[float | None, float]:
        """Return an additive's millilitres, if it has any, and grams for a kilo of dry mix."""
        kilos = self.season.powder.expected_g / 1000
        ml = line.amount.ml
        return (None if ml is None else ml / kilos), line.amount.g / kilos


def build_cards(portions: Sequence[Portion], pastes: Pastes) -> tuple[SeasonCard, ...]:
    """Return a card for each recipe and strength; sizes do not matter to it."""
    eggs: dict[tuple[str, Strength], int] = {}
    first: dict[tuple[str, Strength], Portion] = {}
    for portion in portions:
        key = (portion.kind.file, portion.kind.strength)
        eggs[key] = eggs.get(key, 0) + portion.eggs
        first.setdefault(key, portion)
    cards = []
    for key, portion in first.items():
        _, in_bowl = pastes.full_bowl(portion)
        cards.append(
            SeasonCard(
                *(_batch(pastes, portion.kind, n) for n in (1, min(in_bowl, eggs[key]), eggs[key]))
            )
        )
    return tuple(cards)


def _batch(pastes: Pastes, kind: Kind, eggs: int) -> Batch:
    """Return a batch for its doses; fixed counts of baits do not belong on the card."""
    asked = Asked(kind.strength, BatchSize("eggs", float(eggs)), diameter_mm=16.0)
    return build_batch(pastes.recipe(kind), asked)
