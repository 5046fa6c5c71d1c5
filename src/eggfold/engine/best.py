"""Which of several rates is the highest, as a probability."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import accumulate
from operator import mul
from typing import NamedTuple

from eggfold.engine.gamma import gamma_below, gamma_density
from eggfold.reference.trials import JEFFREYS_SHAPE

NODES = 12
"""Of the Gauss–Legendre rule in a panel: exact to polynomials of degree 23."""
WIDEST = 1.0
"""The widest panel, for each unit of the logarithm of the rate."""
LOG_LEFT_OUT = 36.0
"""The probability left out at either end is about e^−36, 2e-16."""
ROOT_FOUND = 1e-15
"""A step of Newton's method this small no longer moves a root."""


class _Posterior(NamedTuple):
    """What takes and exposure say of the logarithm u of a rate: e^u is gamma with these two."""

    shape: float
    exposure_h: float

    @property
    def width(self) -> float:
        """How fast the density changes."""
        return min(WIDEST, 2 / math.sqrt(self.shape))

    @property
    def ends(self) -> tuple[float, float]:
        """Where less than the left-out probability lies beyond."""
        a = LOG_LEFT_OUT / self.shape
        reach = a + math.sqrt(2 * a)
        centre = math.log(self.shape) - math.log(self.exposure_h)
        return centre - reach, centre + math.log1p(reach)


def probabilities_best(takes: Sequence[int], exposures_h: Sequence[float]) -> tuple[float, ...]:
    """Give for each of several rates the probability that it is the highest.

    ∫ f_i(r) ∏ F_j(r) dr over j other than i, f and F density and distribution of a gamma with
    shape takes + 1/2 and rate exposures_h: the posterior of a Poisson rate under Jeffreys's
    prior [1]_.

    Parameters
    ----------
    takes : sequence of int
        Events of each, 0 or more
    exposures_h : sequence of float
        Rods times hours of each, above 0, [h]

    Returns
    -------
    tuple of float
        Probabilities that add up to 1

    Raises
    ------
    ValueError
        If there are not as many exposures as takes.

    Notes
    -----
    By Gauss–Legendre quadrature over the logarithm of the rate, in panels as narrow as the
    narrowest posterior there. The rates are taken as independent, and nothing is known of any
    before its first take.

    Examples
    --------
    Two alike, and against none in as long a takes; the closed form is the incomplete beta function
    I(1/2; 1/2, 3/2) = 1/2 + 1/π:

    >>> [round(p, 12) for p in probabilities_best([3, 3], [50.0, 50.0])]
    [0.5, 0.5]
    >>> round(probabilities_best([1, 0], [50.0, 50.0])[0] - 1 / math.pi, 12)
    0.5

    References
    ----------
    .. [1] Jeffreys, H., "An invariant form for the prior probability in estimation problems",
       Proceedings of the Royal Society A 186, 1946.
    """
    mixes = [_Posterior(x + JEFFREYS_SHAPE, h) for x, h in zip(takes, exposures_h, strict=True)]
    best = [0.0] * len(mixes)
    if not mixes:
        return ()
    for u, weight in _nodes(mixes):
        rates = [m.exposure_h * math.exp(u) for m in mixes]
        below = [gamma_below(m.shape, x) for m, x in zip(mixes, rates, strict=True)]
        before = accumulate(below[:-1], mul, initial=1.0)
        after = [*accumulate(below[:0:-1], mul, initial=1.0)][::-1]
        for i, (m, x, b, a) in enumerate(zip(mixes, rates, before, after, strict=True)):
            best[i] += weight * b * a * gamma_density(m.shape, x)
    return tuple(best)


def _nodes(mixes: Sequence[_Posterior]) -> Iterator[tuple[float, float]]:
    """Yield where to look and how much it weighs."""
    rule = _legendre_rule(NODES)
    for low, high in _panels(mixes):
        half = (high - low) / 2
        for x, weight in rule:
            yield low + half * (1 + x), half * weight


def _panels(mixes: Sequence[_Posterior]) -> Iterator[tuple[float, float]]:
    """Yield panels from where the highest rate can begin to lie up to where none lies beyond."""
    low = max(_all_below(mixes), *(m.ends[0] for m in mixes))
    end = max(m.ends[1] for m in mixes)
    while low < end:
        high = min(end, low + min(m.width for m in mixes if m.ends[1] > low))
        yield low, high
        low = high


def _all_below(mixes: Sequence[_Posterior]) -> float:
    """Return the u below which all rates lie with less than the left-out probability.

    By P(s, x) ≤ x^s / Γ(s + 1) for each.
    """
    logs = (m.shape * math.log(m.exposure_h) - math.lgamma(m.shape + 1) for m in mixes)
    return (-LOG_LEFT_OUT - math.fsum(logs)) / math.fsum(m.shape for m in mixes)


def _legendre_rule(n: int) -> list[tuple[float, float]]:
    """Return nodes and weights on −1 to 1: roots of the Legendre polynomial, 2/((1 − x²) P'²)."""
    rule = []
    for k in range(n):
        x = math.cos(math.pi * (k + 0.75) / (n + 0.5))
        value, slope = _legendre(n, x)
        while abs(value / slope) > ROOT_FOUND:
            x -= value / slope
            value, slope = _legendre(n, x)
        rule.append((x, 2 / ((1 - x * x) * slope * slope)))
    return rule


def _legendre(n: int, x: float) -> tuple[float, float]:
    """Return the Legendre polynomial of degree n and its slope, for n above 1."""
    before, value = 1.0, x
    for degree in range(2, n + 1):
        before, value = value, ((2 * degree - 1) * x * value - (degree - 1) * before) / degree
    return value, n * (x * value - before) / (x * x - 1)
