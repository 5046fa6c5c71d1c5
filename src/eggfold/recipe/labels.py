"""Freezer-bag labels: what is in the bag, from when it is and how long it keeps."""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from eggfold.errors import NoAnswerError
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import Batch, build_batch, declared_mix
from eggfold.recipe.cautions import Declared, declared
from eggfold.records import NamedTuple
from eggfold.reference.defaults import PASTE_DAYS, PASTE_MONTHS, Origin
from eggfold.reference.paper import FROZEN_MONTHS, LEAST_REST, MOST_LABELS

if TYPE_CHECKING:
    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.lots import Lot


class Keeping(NamedTuple):
    """When the bait was made and frozen, and how long it keeps, by its maker's figure or by custom."""

    made: date
    frozen: date | None = None
    months: int | None = None
    days: int | None = None
    """How long it keeps that is not frozen."""

    @property
    def use_by(self) -> date:
        """The last day: so many months from freezing, or from making where that is not known."""
        if self.days is not None:
            return self.made + timedelta(self.days)
        return months_after(self.frozen or self.made, self.months or FROZEN_MONTHS)

    @property
    def origin(self) -> Origin:
        """Whose figure that is."""
        return "common practice" if self.months is None and self.days is None else "yours"


class Label(NamedTuple):
    """One bag: ``bag`` of ``bags``, and what stands on it beside its batch."""

    batch: Batch
    diameters_mm: tuple[float, ...]
    keeping: Keeping
    weight_g: float
    bag: int
    bags: int
    declared: Declared
    unboiled: bool = False
    """Whether it is paste that is neither rolled nor boiled."""

    @property
    def soak(self) -> tuple[str, ...]:
        """What the bait was soaked in."""
        return () if self.unboiled else tuple(s.dose.additive.name for s in self.batch.soak)


def months_after(day: date, months: int) -> date:
    """Return the same day so many months on, or the last of a month that is too short for it."""
    count = day.year * 12 + day.month - 1 + months
    first = date(count // 12, count % 12 + 1, 1)
    last = (date(first.year + first.month // 12, first.month % 12 + 1, 1) - timedelta(1)).day
    return first.replace(day=min(day.day, last))


def bag_weights_g(finished_g: float, bag_g: float | None) -> tuple[float, ...]:
    """Return full bags and a last one with the rest; one bag where no size is asked for.

    A small rest gets no bag: the others hold a little more, all as much.
    """
    if bag_g is None:
        return (finished_g,)
    bags = max(1, math.ceil(finished_g / bag_g - LEAST_REST - 1e-9))
    if bags > MOST_LABELS:
        raise NoAnswerError(
            f"that is {bags:,} bags; labels go up to {MOST_LABELS:,}: choose a bigger --bag"
        )
    full_g = max(bag_g, finished_g / bags)
    return (*[full_g] * (bags - 1), finished_g - full_g * (bags - 1))


def build_labels(
    opened: OpenRecipe, asked: Asked, keeping: Keeping, bag_g: float | None
) -> tuple[Label, ...]:
    """Return the labels of a batch; raises NoAnswerError where there is no batch."""
    batch = build_batch(opened, asked)
    weights = bag_weights_g(batch.paste.soaked_g or batch.paste.finished_g, bag_g)
    labels = _labels(opened, batch, keeping, weights)
    if not batch.pastes:
        return labels
    pastes = _labels(opened, batch, paste_keeping(keeping), bag_weights_g(batch.paste_g, bag_g))
    return *labels, *(label._replace(diameters_mm=(), unboiled=True) for label in pastes)


def _labels(
    opened: OpenRecipe, batch: Batch, keeping: Keeping, weights_g: tuple[float, ...]
) -> tuple[Label, ...]:
    sizes = tuple(sorted({bait.diameter_mm for bait in batch.baits}))
    known = _declared(opened, batch)
    return tuple(
        Label(batch, sizes, keeping, weight, i, len(weights_g), known)
        for i, weight in enumerate(weights_g, 1)
    )


def lot_labels(
    opened: OpenRecipe, lot: Lot, keeping: Keeping, bag_g: float | None
) -> tuple[Label, ...]:
    """Return the labels of a lot on the shelf; raises NoAnswerError where there is no batch of it."""
    by: Literal["count", "bait"] = "bait" if lot.left_baits is None else "count"
    amount = float(lot.left.stock.exact())
    batch = build_batch(opened, Asked(lot.strength, BatchSize(by, amount)))
    each_g = batch.paste.finished_g / max(1, sum(line.count for line in batch.baits))
    weights = bag_weights_g(amount * (each_g if lot.left_baits else 1.0), bag_g)
    made, frozen = lot.made or lot.since or keeping.made, lot.state == "frozen"
    keeping = keeping._replace(made=made, frozen=lot.since if frozen else None)
    return _labels(opened, batch, keeping, weights)


def paste_keeping(keeping: Keeping) -> Keeping:
    """Return how long paste with raw egg keeps: shorter than bait, frozen or in the fridge."""
    if keeping.frozen:
        return keeping._replace(months=min(keeping.months or PASTE_MONTHS, PASTE_MONTHS))
    return Keeping(keeping.made, days=min(keeping.days or PASTE_DAYS, PASTE_DAYS))


def _declared(opened: OpenRecipe, batch: Batch) -> Declared:
    doses = (*batch.doses, *(line.dose for line in batch.soak))
    used = [line.additive for line in doses]
    return declared(declared_mix(opened, batch.strength), used, opened.companions.powders)
