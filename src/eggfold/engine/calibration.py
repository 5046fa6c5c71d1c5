"""What a user's own measurements say about a figure that began as an assumption."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate
from typing import NamedTuple

OUTLIER_SDS = 3.0
"""An observation further than this from what the others say is named; house default."""

MOST_LOOKS = 100
"""Observations that are set aside one by one; house limit, far beyond the slips of many seasons."""

CHANCE_SPREAD = 2.0
"""Birge ratio up to which observations may disagree by chance; house default: two that the model
fits exceed it once in 22 times, more of them more seldom."""


class Seen(NamedTuple):
    """One observation of a figure, and the standard deviation of that observation."""

    value: float
    sd: float


class Learned(NamedTuple):
    """A figure after its observations: mean, and the doubt about the mean as a standard deviation."""

    mean: float
    sd: float


def learned(prior: Learned, seen: Sequence[Seen]) -> Learned:
    """Return the normal posterior of a figure after independent observations.

    ``precision = 1/prior.sd**2 + sum(1/sd_i**2)``,
    ``mean = (prior.mean/prior.sd**2 + sum(value_i/sd_i**2)) / precision``,
    ``sd = 1/sqrt(precision)`` [1]_.

    Parameters
    ----------
    prior : Learned
        Mean and standard deviation before any observation; the sd may be 0.
    seen : sequence of Seen
        Observations, each with a standard deviation above 0.

    Returns
    -------
    Learned
        The prior itself where nothing was observed, or where it leaves no doubt.

    Notes
    -----
    Observations are independent of each other and normal about the true figure.

    Examples
    --------
    >>> learned(Learned(2.0, 0.2), [Seen(2.2, 0.2)])
    Learned(mean=2.1, sd=0.14142135623730953)

    References
    ----------
    .. [1] Gelman, A. et al., "Bayesian data analysis", 3rd edition, 2013, section 2.5 (from memory).
    """
    if not seen or not prior.sd:
        return prior
    precision = 1 / prior.sd**2 + sum(1 / s.sd**2 for s in seen)
    total = prior.mean / prior.sd**2 + sum(s.value / s.sd**2 for s in seen)
    return Learned(total / precision, 1 / math.sqrt(precision))


def birge_ratio(prior: Learned, seen: Sequence[Seen]) -> float:
    """Return by how much observations spread wider than their standard deviations allow.

    ``sqrt(chi2 / n)``, with ``chi2 = ((prior.mean - mean) / prior.sd)**2 + sum(((value_i - mean) /
    sd_i)**2)`` about the learned mean; the prior and ``n`` observations leave ``n`` degrees of
    freedom [1]_.

    Parameters
    ----------
    prior : Learned
        Mean and standard deviation before any observation; the sd may be 0.
    seen : sequence of Seen
        Observations, each with a standard deviation above 0.

    Returns
    -------
    float
        The ratio [-]: about 1 where they agree; 1 where nothing was observed, or where the prior leaves
        no doubt.

    Notes
    -----
    The doubt about the mean times this ratio is what the data allow, as in CODATA practice. The prior
    counts as one observation.

    Examples
    --------
    >>> round(birge_ratio(Learned(2.0, 0.1), [Seen(14.0, 0.1)]), 1)
    84.9

    References
    ----------
    .. [1] Birge, R. T., "The calculation of errors by the method of least squares", Physical Review
       40, 1932, p. 207 (from memory).
    """
    if not seen or not prior.sd:
        return 1.0
    mean = learned(prior, seen).mean
    chi2 = sum(((one.value - mean) / one.sd) ** 2 for one in (Seen(*prior), *seen))
    return math.sqrt(chi2 / len(seen))


def outliers(prior: Learned, seen: Sequence[Seen]) -> list[int]:
    """Return which observations lie far from what the prior and the others say.

    ``abs(value_i - mean) > 3 * sqrt(sd**2 + sd_i**2)`` with mean and sd learned from the others; the
    furthest is set aside first and the rest are looked at again, so that one slip does not make the
    good ones look wrong. After a hundred, all that are still far are taken together.

    Parameters
    ----------
    prior : Learned
        Mean and standard deviation before any observation.
    seen : sequence of Seen
        Observations.

    Returns
    -------
    list of int
        Their positions; they still count in ``learned``.

    Notes
    -----
    Two slips of the same size may hide each other.
    A house method; no source. Three standard deviations are exceeded by chance once in 370 times.

    Examples
    --------
    >>> outliers(Learned(2.0, 0.2), [Seen(2.1, 0.1), Seen(2.05, 0.1), Seen(4.0, 0.1)])
    [2]
    """
    kept = list(range(len(seen)))
    found: list[int] = []
    while kept:
        far = _distances(prior, [seen[i] for i in kept])
        furthest = max(range(len(far)), key=far.__getitem__)
        if far[furthest] <= OUTLIER_SDS:
            break
        if len(found) >= MOST_LOOKS:
            found += [i for i, distance in zip(kept, far, strict=True) if distance > OUTLIER_SDS]
            break
        found.append(kept.pop(furthest))
    return sorted(found)


def _distances(prior: Learned, seen: Sequence[Seen]) -> list[float]:
    """Return how far each observation lies from what the prior and the others say, in sds.

    The others are those before and those behind, each summed up once; to take one out of a common
    sum would lose digits where it outweighs them.
    """
    if not prior.sd:
        return [abs(s.value - prior.mean) / s.sd for s in seen]
    weights = [1 / s.sd**2 for s in seen]
    totals = [s.value * weight for s, weight in zip(seen, weights, strict=True)]
    first = 1 / prior.sd**2
    precisions = _without_each(weights, first)
    sums = _without_each(totals, prior.mean * first)
    return [
        abs(s.value - total / precision) / math.hypot(1 / math.sqrt(precision), s.sd)
        for s, precision, total in zip(seen, precisions, sums, strict=True)
    ]


def _without_each(values: Sequence[float], first: float) -> list[float]:
    """Return the sums of all values but one, and of what comes first."""
    before = accumulate(values[:-1], initial=first)
    behind = [*accumulate(reversed(values[1:]), initial=0.0)]
    return [a + b for a, b in zip(before, reversed(behind), strict=True)]


def weighed_sd(bowl_sd: float, resolution_g: float, wet_mass_g: float) -> float:
    """Return the standard deviation of one weighed absorbency.

    ``sqrt(bowl_sd**2 + (resolution_g / (sqrt(6) * wet_mass_g))**2)`` [1]_.

    Parameters
    ----------
    bowl_sd : float
        Bowl-to-bowl standard deviation of the absorbency [-], 0 or more.
    resolution_g : float
        Resolution of the scale [g], 0 or more.
    wet_mass_g : float
        Wet mass of the weighed bowl [g], above 0.

    Returns
    -------
    float
        Standard deviation [-], in the same unit as the absorbency.

    Notes
    -----
    A rounded reading has variance r²/12; the bag is read twice, before and after, so r²/6. The eggs and liquids are taken
    as known.

    Examples
    --------
    The guide prints 0.29 of a division for one reading [1]_; two in quadrature are 0.41:

    >>> round(weighed_sd(0.0, 1.0, 1.0), 2)
    0.41

    References
    ----------
    .. [1] JCGM 100, "Guide to the expression of uncertainty in measurement", 2008, F.2.2.1 (from
       memory).
    """
    return math.hypot(bowl_sd, resolution_g / (math.sqrt(6) * wet_mass_g))
