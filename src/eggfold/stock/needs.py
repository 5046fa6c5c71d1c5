"""What a batch needs: the one list that buying, drawing from the shelf, and costs read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Literal

from eggfold.nearest import fold
from eggfold.records import NamedTuple
from eggfold.reference.eggs import LIQUID_EGG_G_ML

if TYPE_CHECKING:
    from datetime import date

    from eggfold.recipe.batch import Batch

Unit = Literal["g", "ml", "piece"]
NeedKind = Literal["eggs", "mix", "additive", "cork"]
NeedKey = tuple[NeedKind, str]
ORDER: tuple[NeedKind, ...] = ("eggs", "mix", "additive", "cork")


class Need(NamedTuple):
    """What one batch needs of one thing, by mass and volume, or in pieces."""

    kind: NeedKind
    name: str
    g: float = 0.0
    ml: float | None = None
    pieces: int = 0
    by_volume: bool = False

    @property
    def key(self) -> NeedKey:
        """What makes two needs one: the kind, and the name without case and space."""
        return self.kind, fold(self.name)

    @property
    def counted(self) -> bool:
        """Whether it is counted in pieces."""
        return self.kind == "cork" or (self.kind == "eggs" and not self.g)

    def amount(self, unit: Unit) -> float:
        """Return the need in a unit."""
        return {"piece": self.pieces, "ml": self.ml or 0.0, "g": self.g}[unit]


def batch_needs(
    batch: Batch, *, expected: bool = False, taken_g: float | None = None
) -> Iterator[Need]:
    """Yield what a batch needs: eggs, base mix, additives and cork balls.

    Mix and cork are at their high end, or as ``expected``; ``taken_g`` is base mix that was weighed.
    """
    powder = batch.powder
    yield from _egg_needs(batch)
    base_g = powder.base_mix_g if expected else powder.base_mix_high_g
    yield Need("mix", powder.base_mix, base_g if taken_g is None else taken_g)
    for line in (*batch.doses, *(soaked.dose for soaked in batch.soak)):
        g, ml = line.amount
        yield Need("additive", line.additive.name, g, ml, by_volume=line.by_volume)
    for bait in batch.baits:
        if bait.core_mm is not None:
            balls = bait.count if expected else bait.high
            yield Need("cork", f"cork balls {bait.core_mm:g} mm", pieces=balls)


def _egg_needs(batch: Batch) -> Iterator[Need]:
    egg = batch.egg
    if egg.liquid:
        yield Need("eggs", egg.label, batch.shelled_g, batch.shelled_g / LIQUID_EGG_G_ML)
    elif egg.boxes:
        yield from (Need("eggs", box.egg.label, pieces=box.number) for box in egg.boxes)
    else:
        yield Need("eggs", egg.label, pieces=batch.eggs)


class NeedOfBatch(NamedTuple):
    """A need, of which batch it is, that batch's eggs, and its day where that is known."""

    need: Need
    batch: int
    eggs: float
    day: date | None


def needs_of(batches: Iterable[tuple[Batch, date | None]]) -> dict[NeedKey, list[NeedOfBatch]]:
    """Return what batches need on their days; names are one when case and space are folded."""
    found: dict[NeedKey, list[NeedOfBatch]] = {}
    for number, (batch, day) in enumerate(batches):
        for need in batch_needs(batch):
            found.setdefault(need.key, []).append(NeedOfBatch(need, number, batch.worth, day))
    return dict(sorted(found.items(), key=lambda pair: ORDER.index(pair[0][0])))
