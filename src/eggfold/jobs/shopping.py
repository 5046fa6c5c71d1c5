"""What all batches need, merged by name."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple

from eggfold.jobs.batch import Batch
from eggfold.nearest import fold

Unit = Literal["g", "ml", "piece"]


class ShoppingItem(NamedTuple):
    """One thing to have: the whole need, and what it is for."""

    name: str
    need: float
    unit: Unit
    eggs: float
    """Eggs that this need serves."""


@dataclass(slots=True)
class _Need:
    name: str
    kind: Literal["eggs", "mix", "additive", "cork"]
    by_volume: bool
    g: float = 0.0
    ml: float = 0.0
    eggs: float = 0.0


class Shopping:
    """Adds up batches as they come; names are one when case and space are folded."""

    def __init__(self) -> None:
        self._needs: dict[tuple[str, str], _Need] = {}

    def add(self, batch: Batch) -> None:
        """Add what a batch needs: eggs, base mix and cork at the high end, additives at their dose."""
        eggs = float(batch.eggs)
        self._need("eggs", batch.egg.label, eggs).g += eggs
        powder = batch.powder
        self._need("mix", powder.base_mix, eggs).g += powder.base_mix_high_g
        for line in batch.doses:
            need = self._need("additive", line.additive.name, eggs)
            need.by_volume = need.by_volume and line.by_volume
            need.g += line.amount.g
            need.ml += line.amount.ml or 0.0
        for bait in batch.baits:
            if bait.core_mm is not None:
                self._need("cork", f"cork balls {bait.core_mm:g} mm", eggs).g += bait.high

    def _need(
        self, kind: Literal["eggs", "mix", "additive", "cork"], name: str, eggs: float
    ) -> _Need:
        need = self._needs.setdefault((kind, fold(name)), _Need(name, kind, by_volume=True))
        need.eggs += eggs
        return need

    def items(self) -> tuple[ShoppingItem, ...]:
        """Return the list: eggs, base mixes, additives, cork balls, each in the order met."""
        order = ("eggs", "mix", "additive", "cork")
        needs = sorted(self._needs.values(), key=lambda n: order.index(n.kind))
        return tuple(_item(need) for need in needs)


def _item(need: _Need) -> ShoppingItem:
    if need.kind in {"eggs", "cork"}:
        return ShoppingItem(need.name, round(need.g), "piece", need.eggs)
    if need.kind == "additive" and need.by_volume:
        return ShoppingItem(need.name, need.ml, "ml", need.eggs)
    return ShoppingItem(need.name, need.g, "g", need.eggs)


def build_shopping(batches: Iterable[Batch]) -> tuple[ShoppingItem, ...]:
    """Return the shopping list of several batches."""
    shopping = Shopping()
    for batch in batches:
        shopping.add(batch)
    return shopping.items()
