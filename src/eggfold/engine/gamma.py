"""The incomplete gamma function and its quantiles: what counts of rare events are judged by."""

from __future__ import annotations

import math

ENOUGH = 1e-16
"""A term this small against the sum no longer changes it."""
LOG_TINY = -600.0
"""The logarithm of a value whose e^−x is 1."""


def gamma_density(shape: float, x: float) -> float:
    """Give the density of the logarithm of a standard gamma variable.

    x^shape e^(−x) / Γ(shape), which is x times the density of the variable itself [1]_.

    Parameters
    ----------
    shape : float
        Shape of the distribution, above 0, [-]
    x : float
        Where, above 0, [-]

    Returns
    -------
    float
        Density for each unit of ln x, [-]

    Notes
    -----
    Taken through logarithms: good to about 1e-16 times shape × ln(shape).

    Examples
    --------
    >>> round(gamma_density(1.0, 1.0), 6)  # 1/e
    0.367879

    References
    ----------
    .. [1] Abramowitz, M. and Stegun, I. A., "Handbook of mathematical functions", 1964, 26.4.
    """
    return math.exp(shape * math.log(x) - x - math.lgamma(shape))


def gamma_below(shape: float, x: float) -> float:
    """Give the probability that a standard gamma variable lies below a value.

    P(shape, x), the regularised lower incomplete gamma function; for whole shapes also the
    probability that a Poisson count of mean x is shape or more [1]_.

    Parameters
    ----------
    shape : float
        Shape of the distribution, above 0, [-]
    x : float
        Where, 0 or more, [-]

    Returns
    -------
    float
        Probability, 0 to 1, [-]

    Notes
    -----
    The power series left of shape + 1, right of it the continued fraction of the upper tail by
    Lentz's method, whose n-th divisors are above n there. Steps grow with √shape near x = shape.

    Examples
    --------
    The chi-square table's 3.841 for one degree of freedom leaves 5 % above it [1]_:

    >>> round(gamma_below(0.5, 3.841 / 2), 3)
    0.95

    References
    ----------
    .. [1] Abramowitz, M. and Stegun, I. A., "Handbook of mathematical functions", 1964, 6.5.29,
       6.5.31, 26.4.19 to 26.4.21, table 26.8.
    """
    if x <= 0:
        return 0.0
    if x < shape + 1:
        return min(1.0, _series(shape, x) * gamma_density(shape, x))
    return max(0.0, 1 - _fraction(shape, x) * gamma_density(shape, x))


def _series(shape: float, x: float) -> float:
    term = total = 1 / shape
    divisor = shape
    while term > total * ENOUGH:
        divisor += 1
        term *= x / divisor
        total += term
    return total


def _fraction(shape: float, x: float) -> float:
    b = x + 1 - shape
    c = math.inf
    d = value = 1 / b
    n, change = 0, 0.0
    while abs(change - 1) > 4 * ENOUGH:
        n += 1
        a = n * (shape - n)
        b += 2
        d = 1 / (a * d + b)
        c = b + a / c
        change = c * d
        value *= change
    return value


def gamma_quantile(shape: float, below: float) -> float:
    """Find the value that a standard gamma variable stays below with a probability.

    The root of P(shape, x) = below [1]_.

    Parameters
    ----------
    shape : float
        Shape of the distribution, above 0, [-]
    below : float
        Probability, above 0 and below 1, [-]

    Returns
    -------
    float
        The quantile, [-]

    Raises
    ------
    ValueError
        If the shape is not above 0 or the probability does not lie between 0 and 1.

    Notes
    -----
    Newton's method on ln P over ln x, which is concave, started left of the root: there lie Chernoff's
    bound and the root of x^shape / Γ(shape + 1) = below, and every step stays left, so none is taken in
    vain. The second is the quantile itself where x is too small to change e^−x, and 0 where it is
    smaller than any number.

    Examples
    --------
    The chi-square table's 16.791, which 30 degrees of freedom stay below in 2.5 % [1]_:

    >>> round(2 * gamma_quantile(15.0, 0.025), 3)
    16.791

    References
    ----------
    .. [1] Abramowitz, M. and Stegun, I. A., "Handbook of mathematical functions", 1964, table 26.8.
    """
    if not (shape > 0 and 0 < below < 1):
        raise ValueError(f"No quantile at {below:g} of a gamma variable of shape {shape:g}.")
    log = (math.log(below) + math.lgamma(shape + 1)) / shape
    if log < LOG_TINY:
        return math.exp(log)
    bound = -math.log(below) / shape
    x = max(math.exp(log), shape * math.exp(-bound - math.sqrt(2 * bound)))
    while (step := _newton_step(shape, below, x)) > 4 * ENOUGH:
        x *= math.exp(step)
    return x


def _newton_step(shape: float, below: float, x: float) -> float:
    reached = gamma_below(shape, x)
    return reached / gamma_density(shape, x) * math.log(below / reached)
