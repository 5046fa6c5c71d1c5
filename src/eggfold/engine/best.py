"""Which of several rates is the highest, as a probability."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import accumulate
from operator import mul

from eggfold.engine.gamma import gamma_below, gamma_density
from eggfold.records import NamedTuple
from eggfold.reference.trials import PRIOR_TAKES

NODES = 12
"""Of the Gauss–Legendre rule in a panel: exact to polynomials of degree 23."""
WIDEST = 1.0
"""The widest panel, for each unit of the logarithm of the rate."""
LOG_LEFT_OUT = 36.0
"""The probability left out at either end is about e^−36, 2e-16."""
ROOT_FOUND = 1e-15
"""A step of Newton's method this small no longer moves a root."""


class GammaRate(NamedTuple):
    """What is known of a rate: it is gamma with this shape over this exposure."""

    shape: float
    exposure_h: float

    @property
    def mean(self) -> float:
        """The rate expected."""
        return self.shape / self.exposure_h

    @property
    def width(self) -> float:
        """How fast the density changes, over the logarithm of the rate."""
        return min(WIDEST, 2 / math.sqrt(self.shape))

    @property
    def ends(self) -> tuple[float, float]:
        """The logarithms beyond which less than the left-out probability lies."""
        a = LOG_LEFT_OUT / self.shape
        reach = a + math.sqrt(2 * a)
        centre = math.log(self.shape) - math.log(self.exposure_h)
        return centre - reach, centre + math.log1p(reach)


def shrunk_rates(
    takes: Sequence[int], exposures_h: Sequence[float], dispersion: float
) -> tuple[GammaRate, ...]:
    """Give what is known of each of several rates, drawn towards the rate of all together.

    Gamma(shape 4 + T/φ, rate 4/r̄ + E/φ) for T takes in E rod-hours, r̄ = (ΣT + 1/2)/ΣE of all,
    φ = dispersion [1]_.

    Parameters
    ----------
    takes : sequence of int
        Events of each, 0 or more
    exposures_h : sequence of float
        Rods times hours of each, above 0, [h]
    dispersion : float
        Variance of the events over their mean, 1 or more, [-]

    Returns
    -------
    tuple of GammaRate
        Shape [-] and exposure [h] of each

    Raises
    ------
    ValueError
        If there are not as many exposures as takes.

    Notes
    -----
    Each begins with four takes at the common rate, a house default: what luck brought counts for
    less, the more so the fewer takes it rests on. The common rate is itself taken as known.

    Examples
    --------
    4 in 10 rod-hours and none in 10: r̄ = 4.5/20, so 8 over 27.8 h and 4 over 27.8 h.

    >>> [round(rate.mean, 3) for rate in shrunk_rates([4, 0], [10.0, 10.0], 1.0)]
    [0.288, 0.144]

    References
    ----------
    .. [1] Gelman, A. et al., "Bayesian data analysis", 3rd edition, 2013, section 2.6 (from memory).
    """
    if not takes:
        return ()
    common = (sum(takes) + 0.5) / math.fsum(exposures_h)
    return tuple(
        GammaRate(PRIOR_TAKES + t / dispersion, PRIOR_TAKES / common + h / dispersion)
        for t, h in zip(takes, exposures_h, strict=True)
    )


def chances_highest(rates: Sequence[GammaRate]) -> tuple[float, ...]:
    """Give for each of several rates the probability that it is the highest.

    ∫ f_i(r) ∏ F_j(r) dr over j other than i, f and F density and distribution of their gammas [1]_.

    Parameters
    ----------
    rates : sequence of GammaRate
        Shapes [-] and exposures [h], above 0.

    Returns
    -------
    tuple of float
        Probabilities that add up to 1

    Notes
    -----
    By Gauss–Legendre quadrature over the logarithm of the rate, in panels as narrow as the narrowest
    density there. The rates are taken as independent.

    Examples
    --------
    Two alike, and shape 3/2 against 1/2; the closed form is the incomplete beta function
    I(1/2; 1/2, 3/2) = 1/2 + 1/π:

    >>> [round(p, 12) for p in chances_highest([GammaRate(3.5, 50.0), GammaRate(3.5, 50.0)])]
    [0.5, 0.5]
    >>> round(chances_highest([GammaRate(1.5, 50.0), GammaRate(0.5, 50.0)])[0] - 1 / math.pi, 12)
    0.5

    References
    ----------
    .. [1] Abramowitz, M. and Stegun, I. A., "Handbook of mathematical functions", 1964, 25.4.29 for
       the rule.
    """
    best = [0.0] * len(rates)
    if not rates:
        return ()
    for u, weight in _nodes(rates):
        scaled = [rate.exposure_h * math.exp(u) for rate in rates]
        below = [gamma_below(rate.shape, x) for rate, x in zip(rates, scaled, strict=True)]
        before = accumulate(below[:-1], mul, initial=1.0)
        after = [*accumulate(below[:0:-1], mul, initial=1.0)][::-1]
        for i, (rate, x, b, a) in enumerate(zip(rates, scaled, before, after, strict=True)):
            best[i] += weight * b * a * gamma_density(rate.shape, x)
    return tuple(best)


def _nodes(rates: Sequence[GammaRate]) -> Iterator[tuple[float, float]]:
    """Yield where to look and how much it weighs."""
    rule = _legendre_rule(NODES)
    for low, high in _panels(rates):
        half = (high - low) / 2
        for x, weight in rule:
            yield low + half * (1 + x), half * weight


def _panels(rates: Sequence[GammaRate]) -> Iterator[tuple[float, float]]:
    """Yield panels from where the highest rate can begin to lie up to where none lies beyond."""
    low = max(_all_below(rates), *(m.ends[0] for m in rates))
    end = max(m.ends[1] for m in rates)
    while low < end:
        high = min(end, low + min(m.width for m in rates if m.ends[1] > low))
        yield low, high
        low = high


def _all_below(rates: Sequence[GammaRate]) -> float:
    """Return the u below which all rates lie with less than the left-out probability.

    By P(s, x) ≤ x^s / Γ(s + 1) for each.
    """
    logs = (m.shape * math.log(m.exposure_h) - math.lgamma(m.shape + 1) for m in rates)
    return (-LOG_LEFT_OUT - math.fsum(logs)) / math.fsum(m.shape for m in rates)


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
