"""Rates of takes that come in spells: their spread, their intervals, and what would tell two apart."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from eggfold.engine.gamma import gamma_quantile
from eggfold.records import NamedTuple
from eggfold.reference.trials import (
    CONFIDENCE,
    LEAST_EXPECTED,
    POWER_Z,
    PRIOR_DISPERSION,
    PRIOR_OUTINGS,
)

SAME = 1e-12
"""Rates this near, relatively, are equal but for rounding."""


class Interval(NamedTuple):
    """The rates that agree with what was seen, per hour of exposure."""

    low: float
    high: float


def dispersion(outings: Mapping[str, Sequence[tuple[int, float]]]) -> float:
    """Give how many times their mean the takes of an outing vary.

    max(1, (4 × 2 + Σ (y − r e)² / max(r e, 1/2)) / (4 + outings − mixes)), y the takes and e the
    rod-hours of an outing, r = (T + 1/2) / E of its mix [1]_.

    Parameters
    ----------
    outings : mapping of str to sequence of tuple
        For each mix the takes, 0 or more, and the rod-hours, above 0, of every outing.

    Returns
    -------
    float
        Variance over mean, 1 or more, [-]

    Raises
    ------
    ValueError
        If takes are below 0 or rod-hours are not above 0.

    Notes
    -----
    1 where takes come one by one; more where they come in spells and days differ. The 2 that is
    thought before any outing, with the weight of 4, is a house default: published catches by the
    outing vary many times their mean.

    Examples
    --------
    None yet; then four outings of 1 and 3 takes in 10 rod-hours each, r = 8.5/40, so 2.125 expected:
    (8 + 2 × (1.125² + 0.875²) / 2.125) / (4 + 4 − 1) = 1.416

    >>> dispersion({})
    2.0
    >>> round(dispersion({"Reed": [(1, 10.0), (3, 10.0), (1, 10.0), (3, 10.0)]}), 3)
    1.416

    References
    ----------
    .. [1] McCullagh, P. and Nelder, J. A., "Generalized linear models", 2nd edition, 1989, equation
       6.4 (from memory), with a prior.
    """
    spread, free = PRIOR_DISPERSION * PRIOR_OUTINGS, PRIOR_OUTINGS
    for seen in filter(None, outings.values()):
        for takes, exposure_h in seen:
            _check(takes, exposure_h)
        rate = (sum(takes for takes, _ in seen) + 0.5) / math.fsum(h for _, h in seen)
        spread += math.fsum((y - rate * h) ** 2 / max(rate * h, LEAST_EXPECTED) for y, h in seen)
        free += len(seen) - 1
    return max(1.0, spread / free)


def rate_interval(
    takes: int, exposure_h: float, dispersion: float, *, confidence: float = CONFIDENCE
) -> Interval:
    """Give the interval of a rate whose events come in spells.

    low = φ/exposure_h × the α/2 quantile of a gamma of shape takes/φ, 0 without a take,
    high = φ/exposure_h × the 1 − α/2 quantile at shape takes/φ + 1, φ = dispersion,
    α = 1 − confidence. At φ = 1 that is Garwood's exact interval [1]_.

    Parameters
    ----------
    takes : int
        Events seen, 0 or more
    exposure_h : float
        Rods times hours, above 0, [h]
    dispersion : float
        Variance of the events over their mean, 1 or more, [-]
    confidence : float
        Share of such intervals that hold the true rate, above 0 and below 1, [-]

    Returns
    -------
    Interval
        Low and high rate, [1/h]

    Raises
    ------
    ValueError
        If the takes are below 0 or the exposure is not above 0, or the confidence does not lie
        between 0 and 1.

    Notes
    -----
    Takes in spells are as good as fewer takes one by one: both takes and hours count 1/φ.

    Examples
    --------
    25 events, printed as 16.18 to 36.90 [2]_; 15 in 400, printed as 0.0209884653319583 to
    0.0618505471787146 by DescTools and exactci [3]_; twice the spread is as half the events in half
    the hours:

    >>> [round(rate, 2) for rate in rate_interval(25, 1.0, 1.0)]
    [16.18, 36.9]
    >>> [round(rate, 12) for rate in rate_interval(15, 400.0, 1.0)]
    [0.020988465332, 0.061850547179]
    >>> rate_interval(30, 8.0, 2.0) == rate_interval(15, 4.0, 1.0)
    True

    References
    ----------
    .. [1] Garwood, F., "Fiducial limits for the Poisson distribution", Biometrika 28, 1936.
    .. [2] GraphPad FAQ, "The confidence interval of a count".
    .. [3] The R packages DescTools and exactci, as stored in the tests of statsmodels 0.15.
    """
    _check(takes, exposure_h)
    tail, seen = (1 - confidence) / 2, takes / dispersion
    low = gamma_quantile(seen, tail) if takes else 0.0
    high = gamma_quantile(seen + 1, 1 - tail)
    return Interval(low * dispersion / exposure_h, high * dispersion / exposure_h)


def more_exposure_h(
    takes: int,
    exposure_h: float,
    other_takes: int,
    other_exposure_h: float,
    *,
    dispersion: float = 1.0,
) -> float | None:
    """Find how much more exposure would tell two rates apart, were the seen ones true.

    The h that solves φ/(4 (exposure_h + h)) + φ/(4 (other_exposure_h + h)) = D,
    D = ((√r₁ − √r₂) / 2.802)², r = takes / exposure_h, φ = dispersion: the square root of a rate has
    the variance φ/(4 exposure), and 2.802 = 1.960 + 0.842 gives 80 % power at 5 % two-sided [1]_.

    Parameters
    ----------
    takes : int
        Events of the first, 0 or more
    exposure_h : float
        Rods times hours of the first, above 0, [h]
    other_takes : int
        Events of the second, 0 or more
    other_exposure_h : float
        Rods times hours of the second, above 0, [h]
    dispersion : float
        Variance of the events over their mean, 1 or more, [-]

    Returns
    -------
    float or None
        More for each of the two, 0 where there is enough already, None where the rates are
        equal, [h]

    Raises
    ------
    ValueError
        If takes are below 0 or an exposure is not above 0.

    Notes
    -----
    The variance is that of many takes: a handful makes it a rough guide. The seen rates are not
    the true ones; those seen far apart mostly lie nearer.

    Examples
    --------
    Rates of 1 and 4 in an hour: 1/(2 h) = (1/2.802)², so 3.926 h each.

    >>> round(more_exposure_h(1, 1.0, 4, 1.0) + 1, 3)
    3.926
    >>> round(more_exposure_h(1, 1.0, 4, 1.0, dispersion=2.0) + 1, 3)
    7.851
    >>> more_exposure_h(2, 10.0, 4, 20.0) is None
    True

    References
    ----------
    .. [1] Gu, K., Ng, H. K. T., Tang, M. L. and Schucany, W. R., "Testing the ratio of two Poisson
       rates", Biometrical Journal 50, 2008, the test by square roots.
    """
    _check(takes, exposure_h)
    _check(other_takes, other_exposure_h)
    rate, other = takes / exposure_h, other_takes / other_exposure_h
    if math.isclose(rate, other, rel_tol=SAME):
        return None
    d = ((math.sqrt(rate) - math.sqrt(other)) / POWER_Z) ** 2 / dispersion
    middle_h = (exposure_h + other_exposure_h) / 2
    apart_h = exposure_h - middle_h
    needed_h = (1 + math.hypot(1, 4 * d * apart_h)) / (4 * d)
    return max(0.0, needed_h - middle_h)


def _check(takes: int, exposure_h: float) -> None:
    if not (takes >= 0 and 0 < exposure_h < math.inf):
        raise ValueError(f"No rate of {takes} takes in {exposure_h:g} rod-hours.")
