"""The six parts a food is made of, as the property tables count them."""

from __future__ import annotations

from eggfold.records import NamedTuple


class Parts(NamedTuple):
    """Shares by mass; carbohydrate without the fibre."""

    protein: float
    fat: float
    carbohydrate: float
    fibre: float
    ash: float
    water: float

    def normalised(self) -> Parts:
        """Return the same parts with sum 1."""
        total = sum(self)
        return Parts(*(part / total for part in self))


PART_NAMES = Parts._fields
