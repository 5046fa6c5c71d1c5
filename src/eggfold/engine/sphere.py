"""A solid ball of paste in a fluid, and the series of its centre."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

Terms = tuple[tuple[float, float], ...]
"""Coefficient and decay of each term; the decay belongs to the Fourier number on the radius."""

MOST_STEPS = 80

BIOT_LOW = 1e-3
BIOT_HIGH = 1e6

FEWEST_ROOTS, MOST_ROOTS = 6, 48
LAST_EXPONENT = 16.0
"""The last term kept is below exp(−16), a ten-millionth: far under 0.01 K of a boil."""
FOURIER_START = 0.005
"""Earlier than this the centre has not yet moved by 1e-20 of the way."""


@dataclass(frozen=True, slots=True)
class Sphere:
    """A ball of paste in moving water.

    Parameters
    ----------
    diameter_m : float
        Diameter, above 0, [m]
    conductivity_w_mk : float
        Thermal conductivity of the paste, above 0, [W/(m K)]
    diffusivity_m2_s : float
        Thermal diffusivity of the paste, above 0, [m²/s]
    film_w_m2k : float
        Film coefficient between water and ball, above 0, [W/(m² K)]
    """

    diameter_m: float
    conductivity_w_mk: float
    diffusivity_m2_s: float
    film_w_m2k: float

    def __post_init__(self) -> None:
        values = (self.diameter_m, self.conductivity_w_mk, self.diffusivity_m2_s, self.film_w_m2k)
        if not all(0 < value < math.inf for value in values):
            raise ValueError("A sphere's diameter and its properties must be above 0.")

    @property
    def radius_m(self) -> float:
        """Half the diameter."""
        return self.diameter_m / 2

    @property
    def biot(self) -> float:
        """The Biot number on the radius, not on a third of it."""
        return self.film_w_m2k * self.radius_m / self.conductivity_w_mk

    def sized(self, diameter_m: float) -> Sphere:
        """Return a ball of another size."""
        return replace(self, diameter_m=diameter_m)

    def conducting(self, factor: float) -> Sphere:
        """Return the same ball of a paste that conducts so many times as well."""
        return replace(
            self,
            conductivity_w_mk=self.conductivity_w_mk * factor,
            diffusivity_m2_s=self.diffusivity_m2_s * factor,
        )

    def terms(self, count: int) -> Terms:
        """Return the first terms of the centre's series."""
        return _terms(self.biot, count)


def _root(biot: float, number: int) -> float:
    # In the form z + atan2(z, excess) = number π the equation has no poles. The left side is
    # concave for a positive excess and convex for a negative one, so that Newton's method cannot
    # overshoot when it starts from these ends.
    excess = biot - 1
    z = (number - 1 if excess > 0 else number) * math.pi
    for _ in range(MOST_STEPS):
        distance = z + math.atan2(z, excess) - number * math.pi
        step = distance / (1 + excess / (excess * excess + z * z))
        z -= step
        if abs(step) <= 1e-14 * z:
            break
    return z


@lru_cache(maxsize=4096)
def sphere_roots(biot: float, count: int) -> tuple[float, ...]:
    """Find the first roots of the equation of a sphere with a film.

    1 − z cot z = biot, the n-th root lying between (n − 1) π and n π [1]_.

    Parameters
    ----------
    biot : float
        Biot number on the radius, 0.001 to 1 000 000, [-]
    count : int
        How many roots, 1 or more, [-]

    Returns
    -------
    tuple of float
        The roots in rising order, [rad]

    Raises
    ------
    ValueError
        If the Biot number lies outside the range or the count is below 1.

    Notes
    -----
    Below the range the whole ball is at one temperature and the first root is √(3 biot).

    Examples
    --------
    Biot number 5 in the published table has the root 2.5704:

    >>> [round(root, 4) for root in sphere_roots(5.0, 2)]
    [2.5704, 5.354]

    References
    ----------
    .. [1] Incropera, F. P. and DeWitt, D. P., "Fundamentals of heat and mass transfer",
       5th edition, 2002 (edition from memory), Table 5.1 and Appendix B.3.
    """
    if not BIOT_LOW <= biot <= BIOT_HIGH:
        raise ValueError(
            f"The Biot number must lie between {BIOT_LOW:g} and {BIOT_HIGH:g}, not be {biot:g}."
        )
    if count < 1:
        raise ValueError("At least one root must be asked for.")
    return tuple(_root(biot, number) for number in range(1, count + 1))


def _coefficient(root: float) -> float:
    return 4 * (math.sin(root) - root * math.cos(root)) / (2 * root - math.sin(2 * root))


@lru_cache(maxsize=4096)
def _terms(biot: float, count: int) -> Terms:
    return tuple((_coefficient(root), root * root) for root in sphere_roots(biot, count))


def roots_needed(fourier: float) -> int:
    """Give how many roots the series of a ball needs from a Fourier number on.

    The least n of 6, 12, 24 and 48 with ((n − 1) π)² fourier > 16, for the n-th root lies above
    (n − 1) π [1]_.

    Parameters
    ----------
    fourier : float
        The smallest Fourier number on the radius that is looked at, 0 or more, [-]

    Returns
    -------
    int
        Count of roots; 48 where that is not enough.

    Notes
    -----
    Too few roots give false times for big cold balls. Below the Fourier number 0.0007 even 48 do not
    reach that far; the centre has not noticed anything then, and what is left out of the profile
    falls with the cube of the root's number.

    Examples
    --------
    A 16 mm ball after 70 s, and a 60 mm ball after as long:

    >>> roots_needed(0.135), roots_needed(0.0096)
    (6, 24)

    References
    ----------
    .. [1] Incropera, F. P. and DeWitt, D. P., "Fundamentals of heat and mass transfer",
       5th edition, 2002 (edition from memory), Appendix B.3.
    """
    count = FEWEST_ROOTS
    while count < MOST_ROOTS and ((count - 1) * math.pi) ** 2 * fourier <= LAST_EXPONENT:
        count *= 2
    return count


def centre_fraction(biot: float, fourier: float) -> float:
    """Give the share of the first temperature difference that is left at the centre.

    θ = Σ C exp(−z² fourier), z the roots for biot, C = 4 (sin z − z cos z) / (2 z − sin 2 z) [1]_.

    Parameters
    ----------
    biot : float
        Biot number on the radius, 0.001 to 1 000 000, [-]
    fourier : float
        Fourier number on the radius, 0 or more, [-]

    Returns
    -------
    float
        (water − centre) / (water − start), from 1 down to 0, [-]

    Raises
    ------
    ValueError
        If the Biot number lies outside the range or the Fourier number is below 0.

    Notes
    -----
    A uniform ball that starts at one temperature, in water that keeps its own, with properties
    that do not change. ``roots_needed`` says how many roots are summed.

    Examples
    --------
    The boiled egg of [2]_, Biot number 47.8, has 25/90 left at the Fourier number 0.209:

    >>> round(centre_fraction(47.8, 0.209), 2)
    0.28

    References
    ----------
    .. [1] Incropera, F. P. and DeWitt, D. P., "Fundamentals of heat and mass transfer",
       5th edition, 2002 (edition from memory), section 5.6 and Table 5.1.
    .. [2] Çengel, Y. A. and Ghajar, A. J., "Heat and mass transfer", 4th edition, 2011
       (edition from memory), Example 4-3.
    """
    if not fourier >= 0:
        raise ValueError(f"The Fourier number must be 0 or more, not {fourier:g}.")
    if fourier < FOURIER_START:
        sphere_roots(biot, 1)
        return 1.0
    terms = _terms(biot, roots_needed(fourier))
    return sum(coefficient * math.exp(-decay * fourier) for coefficient, decay in terms)
