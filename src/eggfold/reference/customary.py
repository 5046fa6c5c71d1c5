"""Shares of a mix that are customary: they earn a note, never a refusal."""

from __future__ import annotations

import re
from functools import lru_cache

from eggfold.nearest import fold
from eggfold.records import NamedTuple


class Custom(NamedTuple):
    """From how much to how much of a mix is customary [%], by whom, and its other names."""

    name: str
    low: float
    high: float
    origin: str
    also: tuple[str, ...] = ()


PRACTICE = "common practice"
MEMORY = "common practice, from memory"

INGREDIENT_CUSTOMS = (
    Custom("Salt", 0.5, 3, PRACTICE),
    Custom("Egg albumin", 3, 10, MEMORY),
    Custom("Wheat gluten", 2, 7, MEMORY),
    Custom("Krill meal", 5, 15, MEMORY, ("krill", "krillmeal", "krill powder")),
    Custom("Betaine", 0.3, 1, MEMORY, ("betaine hcl", "betaine hydrochloride")),
)
"""Of one ingredient; salt from 5 to 30 g for a kilo of dry mix."""

PART_CUSTOMS = (
    Custom("protein", 30, 38, PRACTICE),
    Custom("fat", 5, 15, PRACTICE),
    Custom("carbohydrate", 30, 50, PRACTICE),
)
"""What a whole mix is made of."""


ALIKE_POINTS = 5.0
"""Two powders are alike whose protein, fat, carbohydrate and water each differ by no more [points of
per cent]; house default."""
NEVER_ALIKE = re.compile(
    r"albumi?e?n|egg white|\braw\b|gluten|gelatin|pre-?gel|casein|yeast|spirulina|garlic|paprika|salt|krill",
    re.IGNORECASE,
)
"""Names of what binds, flavours or attracts, which no analysis says; house default."""


def find_custom(name: str) -> Custom | None:
    """Return the custom of an ingredient by its own name or another of them, or None."""
    return _by_name().get(fold(name))


@lru_cache(maxsize=1)
def _by_name() -> dict[str, Custom]:
    return {fold(n): row for row in INGREDIENT_CUSTOMS for n in (row.name, *row.also)}
