"""What baits that were cut open after their boil say about how well a paste conducts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from eggfold.engine.boil import Course, peak_c
from eggfold.engine.sphere import Sphere
from eggfold.records import NamedTuple
from eggfold.reference.boiling import (
    CONDUCTIVITY_DOUBT_SHARE,
    FACTOR_POINTS,
    FACTOR_REACH,
    SET_THROUGH_C,
    SET_THROUGH_SD_K,
)

POINTS_BETWEEN = 4
"""The peak is worked out at every fourth point of the grid and taken as straight between, which is
within 0.05 K: a sixtieth of the doubt about what shows."""


class CutBait(NamedTuple):
    """A bait that was cut open: as worked out before any cut, how it was boiled, whether it was set."""

    ball: Sphere
    course: Course
    time_s: float
    set_through: bool


class Factor(NamedTuple):
    """How many times as well a paste conducts as worked out, and the doubt as a share of that."""

    mean: float
    sd: float


def conductivity_factor(cuts: Sequence[CutBait]) -> Factor:
    """Return by how much a paste conducts better than worked out, after baits were cut open.

    Weight of f ∝ exp(−(ln f)² / (2 · 0.10²)) Π over cuts of Φ((peak(f) − 65) / 3) for a bait that was
    set through, of 1 − Φ for one that was raw; ln f on 41 points from −0.4 to 0.4 [1]_.

    Parameters
    ----------
    cuts : sequence of CutBait
        All of one paste, of any sizes; may be empty.

    Returns
    -------
    Factor
        The exponential of the posterior mean of ln f, 1 where nothing was cut, and the posterior
        standard deviation of ln f, about 0.10 where nothing was cut, [-]

    Raises
    ------
    ValueError
        If a time is below 0, a start is not below the water or a Biot number is out of range.

    Notes
    -----
    Conductivity and diffusivity share the factor: what a paste holds of heat is known better. Cuts
    are taken as independent, and a core without raw, shiny paste as a peak of 65 ± 3 °C, a house
    default. A bait that was sure to be set, or sure to be raw, says next to nothing.

    Examples
    --------
    A 20 mm ball that was raw after 100 s, though worked out to peak at 70 °C:

    >>> bait = Sphere(0.020, 0.3639, 1.2372e-7, 1200.0)
    >>> kitchen = Course(20.0, 99.974, 20.0, 150.0)
    >>> mean, sd = conductivity_factor([CutBait(bait, kitchen, 100.0, False)])
    >>> round(mean, 2), round(sd, 3)
    (0.89, 0.078)

    References
    ----------
    .. [1] Gelman, A. et al., "Bayesian data analysis", 3rd edition, 2013, section 3.7 (from memory).
    """
    step = 2 * FACTOR_REACH / (FACTOR_POINTS - 1)
    logs = [step * i - FACTOR_REACH for i in range(FACTOR_POINTS)]
    scores = [-0.5 * (log / CONDUCTIVITY_DOUBT_SHARE) ** 2 for log in logs]
    for cut in cuts:
        scores = [
            score + _log_chance(cut, peak)
            for score, peak in zip(scores, _peaks(cut, logs), strict=True)
        ]
    weights = [math.exp(score - max(scores)) for score in scores]
    total = sum(weights)
    mean = sum(w * log for w, log in zip(weights, logs, strict=True)) / total
    spread = sum(w * (log - mean) ** 2 for w, log in zip(weights, logs, strict=True)) / total
    return Factor(math.exp(mean), math.sqrt(spread))


def _peaks(cut: CutBait, logs: Sequence[float]) -> list[float]:
    knots = [
        peak_c(cut.ball.conducting(math.exp(log)), cut.course, cut.time_s)
        for log in logs[::POINTS_BETWEEN]
    ]
    peaks = [
        low + (high - low) * part / POINTS_BETWEEN
        for low, high in pairwise(knots)
        for part in range(POINTS_BETWEEN)
    ]
    return [*peaks, knots[-1]]


def _log_chance(cut: CutBait, peak: float) -> float:
    distance = (peak - SET_THROUGH_C) / SET_THROUGH_SD_K
    sign = -1.0 if cut.set_through else 1.0
    return math.log(max(0.5 * math.erfc(sign * distance / math.sqrt(2)), 1e-300))
