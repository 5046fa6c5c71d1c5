"""How much one plan can hold: far above any real one, and little enough to be worked out at once."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from eggfold.engine.bowls import split_eggs
from eggfold.errors import NoAnswerError
from eggfold.records import NamedTuple

if TYPE_CHECKING:
    from datetime import date

    from eggfold.recipe.batch import Batch

MOST_BOWLS = 200
"""Bowls of one plan: 17 on each of a plan's 14 days at the most."""
MOST_LOADS = 5000
"""Loads for the pan of one plan: twenty of each of its bowls."""
MOST_PORTIONS = 500
"""What all trips of a season take: five things on each of a hundred trips."""
MOST_BREAKS = 100
"""Breaks of a day: more than one in each quarter of an hour of it."""
MOST_SEASON_DAYS = 3660
"""Days of a season: ten years, five times as long as bait may be said to keep frozen."""


class PlanSize(NamedTuple):
    """Bowls, and loads for the pan."""

    bowls: int = 0
    loads: int = 0

    def plus(self, other: PlanSize) -> PlanSize:
        """Return both together."""
        return PlanSize(self.bowls + other.bowls, self.loads + other.loads)


def size_in_bowls(whole: Batch, eggs: int, bowl_g: float) -> PlanSize:
    """Return how many bowls so many eggs of a batch make, and about how many loads."""
    bowls = sum(g.number for g in split_eggs(eggs, whole.paste.mass_g / whole.eggs, bowl_g))
    part = eggs / whole.eggs / bowls
    lines = (max(1, math.ceil(part * line.loads - 1e-9)) for line in whole.baits)
    return PlanSize(bowls, bowls * sum(lines))


def hold_bowls(size: PlanSize) -> None:
    """Refuse more bowls or loads than a plan holds, before any is made."""
    if size.bowls > MOST_BOWLS:
        raise NoAnswerError(
            f"this asks for more than {MOST_BOWLS} bowls, the most that one plan holds: plan less "
            "bait, give the bench a larger bowl, or split the plan"
        )
    if size.loads > MOST_LOADS:
        raise NoAnswerError(
            f"this asks for more than {MOST_LOADS} loads for the pan, the most that one plan holds: "
            "plan less bait or fewer sizes, give the bench a larger pan, or split the plan"
        )


def hold_portions(portions: int) -> None:
    """Refuse more than the trips of a season can take."""
    if portions > MOST_PORTIONS:
        raise NoAnswerError(
            f"the trips take {portions} things, and one plan holds {MOST_PORTIONS}: split the plan"
        )


def hold_breaks(breaks: int) -> None:
    """Refuse more breaks than a day of a plan holds."""
    if breaks > MOST_BREAKS:
        raise NoAnswerError(f"there are {breaks} breaks in a day, and one plan holds {MOST_BREAKS}")


def hold_season(first: date, last: date) -> None:
    """Refuse a season of more days than a plan holds."""
    if (last - first).days > MOST_SEASON_DAYS:
        raise NoAnswerError(
            f"it is more than ten years from {first} to {last}, the most that one plan holds: "
            "begin with roll_from later, or split the plan"
        )
