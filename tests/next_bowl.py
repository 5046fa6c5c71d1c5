"""What the next bowl shows, worked out from what is known of a figure: a sum of normal distributions."""

from __future__ import annotations

import math
from statistics import NormalDist
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from eggfold.engine.learning import Posterior


def chance_below(known: Posterior, value: float, *, bowls: int = 1) -> float:
    """Return the probability that the next bowls together show less than a value."""
    return sum(
        weight * NormalDist(c.mean, math.hypot(c.variance**0.5, c.scatter / bowls**0.5)).cdf(log)
        for log in [math.log(value)]
        for weight, c in zip(known.weights, known.components, strict=True)
    )
