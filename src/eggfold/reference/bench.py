"""The built-in bench: what a dose can be measured with when no bench file says otherwise."""

from __future__ import annotations

from typing import Literal, NamedTuple


class Tool(NamedTuple):
    """A tool, what one filling holds and what it can tell apart, both in its unit."""

    name: str
    kind: Literal["scale", "syringe", "spoon", "dropper"]
    unit: Literal["g", "ml"]
    capacity: float
    division: float


SPOON_DIVISION = 0.2
"""A level spoon is right within 10 %: its division as a share of it; house default."""
DROP_ML = 0.05
"""20 drops of water to the millilitre, each within 10 %: USP 32 general chapter 1101."""

SCALES = (
    Tool("pocket scale", "scale", "g", 200.0, 0.1),
    Tool("scale", "scale", "g", 2000.0, 1.0),
)
SYRINGES = tuple(
    Tool(f"{capacity:g} ml syringe", "syringe", "ml", capacity, division)
    for capacity, division in ((1.0, 0.01), (2.5, 0.1), (5.0, 0.2), (10.0, 0.5), (20.0, 1.0))
)
SPOONS = tuple(
    Tool(name, "spoon", "ml", size, size * SPOON_DIVISION)
    for name, size in (("1/4 tsp", 1.25), ("1/2 tsp", 2.5), ("1 tsp", 5.0), ("1 tbsp", 15.0))
)
DROPPER = Tool("dropper", "dropper", "ml", DROP_ML, DROP_ML * 0.2)

BUILT_IN = (*SYRINGES, *SCALES, *SPOONS, DROPPER)

MOST_FILLINGS = 5
GOOD_ENOUGH_PERCENT = 0.5
"""Errors below this are all as good as exact: the fewer fillings win; house default."""
WARN_PERCENT = 5.0
"""Error of a reading that earns a warning; common practice."""

IN_WORDS = "scales 0.1 g to 200 g and 1 g to 2 kg; syringes 1, 2.5, 5, 10, 20 ml"
