"""The decaying series that every boiled ball follows, and its solution for the time."""

from __future__ import annotations

import math
from typing import Protocol

from eggfold.engine.sphere import MOST_STEPS, Terms

FOURIER_FEW = 0.05
ROOTS_FEW = 8
FOURIER_START = 0.005
ROOTS_MANY = 26
"""The first term left out is below exp(−27) down to FOURIER_FEW and below exp(−33) down to
FOURIER_START; earlier than that the slowest point has not yet moved by 1e-20 of the way."""


class Ball(Protocol):
    """A ball of paste, solid or around a core, as its series sees it."""

    @property
    def radius_m(self) -> float:
        """Outer radius [m]."""

    @property
    def diffusivity_m2_s(self) -> float:
        """Thermal diffusivity of the paste [m²/s]."""

    @property
    def biot(self) -> float:
        """Biot number on the outer radius [-]."""

    @property
    def depth_share(self) -> float:
        """How deep the heat has to go, as a share of the radius: 1 for a solid ball."""

    def terms(self, count: int) -> Terms:
        """Return the first terms of the series of the slowest point."""


def fraction_and_slope(ball: Ball, fourier: float) -> tuple[float, float]:
    """Sum the series of a ball's slowest point.

    θ = Σ C exp(−z² fourier), its slope −Σ C z² exp(−z² fourier), with C and z² from ball [1]_.

    Parameters
    ----------
    ball : Ball
        The ball.
    fourier : float
        Fourier number on the radius, 0 or more, [-]

    Returns
    -------
    tuple of float
        The share of the first temperature difference that is left, and how it changes with the
        Fourier number, [-]

    Notes
    -----
    How many terms are needed depends on the depth that the heat has to go: eight, and 26 below a
    Fourier number of 0.05 on that depth. One more would change no boil by 0.1 s.

    Examples
    --------
    Biot number 1 has the root 1.5708 and the coefficient 1.2732 in the table of [1]_, so 1.2732 exp(−2.4674):

    >>> from eggfold.engine.sphere import Sphere
    >>> round(fraction_and_slope(Sphere(2.0, 1.0, 1.0, 1.0), 1.0)[0], 4)
    0.108

    References
    ----------
    .. [1] Incropera, F. P. and DeWitt, D. P., "Fundamentals of heat and mass transfer",
       5th edition, 2002 (edition from memory), section 5.6.
    """
    by_depth = fourier / ball.depth_share**2
    if by_depth < FOURIER_START:
        return 1.0, 0.0
    fraction = slope = 0.0
    for coefficient, decay in ball.terms(ROOTS_FEW if by_depth >= FOURIER_FEW else ROOTS_MANY):
        term = coefficient * math.exp(-decay * fourier)
        fraction += term
        slope -= decay * term
    return fraction, slope


def fourier_at(ball: Ball, fraction: float) -> float:
    """Find the Fourier number at which a share of the first difference is left.

    θ(fourier) = fraction, θ the series of ball [1]_.

    Parameters
    ----------
    ball : Ball
        The ball.
    fraction : float
        Share that is to be left at the slowest point, above 0 and below 1, [-]

    Returns
    -------
    float
        Fourier number on the radius, [-]

    Notes
    -----
    Starts from the one-term answer, which is never too early; the logarithm of the series is
    concave, so Newton's method comes back from there without overshooting, rounding aside.

    Examples
    --------
    The boiled egg of [2]_ has 25/90 left at 0.209, by a table reading of the first root:

    >>> from eggfold.engine.sphere import Sphere
    >>> egg = Sphere(diameter_m=0.05, conductivity_w_mk=0.627, diffusivity_m2_s=0.151e-6, film_w_m2k=1200.0)
    >>> round(fourier_at(egg, 25 / 90), 3)
    0.208

    References
    ----------
    .. [1] Incropera, F. P. and DeWitt, D. P., "Fundamentals of heat and mass transfer",
       5th edition, 2002 (edition from memory), section 5.6.
    .. [2] Çengel, Y. A. and Ghajar, A. J., "Heat and mass transfer", 4th edition, 2011
       (edition from memory), Example 4-3.
    """
    (coefficient, decay), *_ = ball.terms(ROOTS_FEW)
    wanted = math.log(fraction)
    low, high = 0.0, max(0.0, math.log(coefficient / fraction) / decay)
    fourier = high
    for _ in range(MOST_STEPS):
        reached, slope = fraction_and_slope(ball, fourier)
        miss = math.log(reached) - wanted
        low, high = (fourier, high) if miss > 0 else (low, fourier)
        nearer = fourier - miss * reached / slope if slope < 0 else math.nan
        if not low <= nearer <= high:
            nearer = (low + high) / 2
        if abs(nearer - fourier) <= 1e-9 * fourier:
            return nearer
        fourier = nearer
    return fourier
