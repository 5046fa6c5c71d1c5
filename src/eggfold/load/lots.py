"""Finished bait on the shelf: lots, each of one recipe, strength and day."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import Annotated, Literal, get_args

from pydantic import Field

from eggfold.amounts import AmountError
from eggfold.errors import Problem
from eggfold.load.fields import Diameter, Name, Reads, StrictModel, a_word
from eggfold.load.gate import Source
from eggfold.load.reading import Placed, read_list
from eggfold.load.recipe import Strength, StrengthWord
from eggfold.load.shelf import Day, OpenShelf, Shelf, Stock, parse_stock
from eggfold.load.yaml_tree import read_nodes
from eggfold.nearest import fold
from eggfold.records import NamedTuple
from eggfold.units import amount_in

LotState = Literal["drying", "frozen", "thawed", "dried", "fresh"]
ROUGH = "about "
"""What stands before an amount that was judged by eye."""


class LotLeft(NamedTuple):
    """How much of a lot is left: by weight or in baits, and whether that is a guess."""

    stock: Stock
    rough: bool = False

    def __str__(self) -> str:
        return f"{ROUGH if self.rough else ''}{self.stock}"


def parse_left(text: str) -> LotLeft:
    """Read ``3.2 kg``, ``about 3 kg``, ``240`` baits or ``none``."""
    text = " ".join(text.split())
    bare = text.removeprefix(ROUGH)
    stock = parse_stock("0" if fold(bare) == "none" else bare)
    if stock.kind == "ml":
        raise AmountError(
            "wrong-dimension", f"{stock} is not a weight of bait", "3 kg, or a number of baits"
        )
    return LotLeft(stock, bare != text)


class Lot(StrictModel):
    """Finished bait of one recipe, strength and day."""

    recipe: Name
    """The recipe's name."""
    strength: StrengthWord
    """Freebie or hookbait."""
    left: Annotated[
        LotLeft,
        Reads(parse_left, type=["string", "integer"], examples=["3.2 kg", "about 3 kg", 240]),
    ]
    """How much is left: by weight, about that much, or a number of baits."""
    sizes: Annotated[tuple[Diameter, ...], Field(strict=False)] | None = None
    """Its sizes; without them it serves for every size of its recipe."""
    made: Day | None = None
    """The day it was rolled."""
    state: Annotated[LotState, a_word(get_args(LotState), "unknown-state")] = "frozen"
    """drying, frozen, thawed, dried or fresh."""
    since: Day | None = None
    """The day since which it is in that state; the day it was rolled if it is left out."""
    counted: Day | None = None
    """The day on which it was counted: no earlier trip takes of it."""
    weighed: Annotated[Literal["yes", "no"], a_word(("yes", "no"), "unknown-state")] = "yes"
    """no where the weight is only what was expected."""

    @property
    def is_weighed(self) -> bool:
        """Whether somebody weighed or counted it."""
        return self.weighed == "yes"

    @property
    def left_g(self) -> float | None:
        """What is left [g], None where it is counted in baits."""
        return float(self.left.stock.exact()) if self.left.stock.kind == "g" else None

    @property
    def left_baits(self) -> int | None:
        """How many baits are left, None where they are weighed."""
        return int(self.left.stock.number) if self.left.stock.kind == "piece" else None

    @property
    def kind(self) -> tuple[str, Strength]:
        """The recipe, by its folded name, and the strength."""
        return fold(self.recipe), self.strength

    @property
    def begun(self) -> date | None:
        """The day from which its state is counted."""
        return self.since or self.made

    @property
    def diameters_mm(self) -> frozenset[float] | None:
        """Its sizes, None where it serves for all."""
        return None if self.sizes is None else frozenset(amount_in(d, "mm") for d in self.sizes)


class ShelfFile(Shelf):
    """What is in the house, and the packs it is sold in."""

    baits: Annotated[tuple[Lot, ...], Field(strict=False)] = ()
    """Finished bait, lot by lot."""


def read_lots(placed: Placed) -> tuple[list[Lot], list[Problem]]:
    """Return the lots of a shelf that can be read, and the problems of the others."""
    if "baits" not in placed.root.entries:
        return [], []
    spare = {"recipe": "-", "strength": "freebie", "left": "0"}
    found, problems = read_list(Lot, placed, "baits", spare)
    return [lot for lot, _ in found], problems


def lot_problems(shelf: OpenShelf | None) -> list[Problem]:
    """Return the problems of the lots on a shelf; one without any is not looked at again."""
    return read_lots(shelf.placed)[1] if shelf and "baits" in shelf.source.text else []


def lots_of(shelf: OpenShelf | None) -> tuple[Lot, ...]:
    """Return the lots on a shelf that can be read."""
    return _lots_in(shelf.source) if shelf else ()


@lru_cache(maxsize=2)
def _lots_in(source: Source) -> tuple[Lot, ...]:
    return tuple(read_lots(Placed(source, read_nodes(source, kept=True)[0]))[0])
