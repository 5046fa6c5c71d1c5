"""A skin of paste around a core that takes no heat."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from eggfold.engine.sphere import MOST_STEPS, Terms, sphere_roots


@dataclass(frozen=True, slots=True)
class Shell:
    """A skin of paste around a core, in moving water.

    Parameters
    ----------
    diameter_m : float
        Outer diameter, above core_m, [m]
    core_m : float
        Diameter of the core, 0 or more; at 0 the shell is a solid ball, [m]
    conductivity_w_mk : float
        Thermal conductivity of the paste, above 0, [W/(m K)]
    diffusivity_m2_s : float
        Thermal diffusivity of the paste, above 0, [m²/s]
    film_w_m2k : float
        Film coefficient between water and ball, above 0, [W/(m² K)]
    """

    diameter_m: float
    core_m: float
    conductivity_w_mk: float
    diffusivity_m2_s: float
    film_w_m2k: float

    def __post_init__(self) -> None:
        values = (self.diameter_m, self.conductivity_w_mk, self.diffusivity_m2_s, self.film_w_m2k)
        if not all(0 < value < math.inf for value in values):
            raise ValueError("A shell's diameter and its properties must be above 0.")
        if not 0 <= self.core_m < self.diameter_m:
            raise ValueError("A core must be smaller than the ball around it.")

    @property
    def radius_m(self) -> float:
        """Half the outer diameter."""
        return self.diameter_m / 2

    @property
    def biot(self) -> float:
        """The Biot number on the outer radius."""
        return self.film_w_m2k * self.radius_m / self.conductivity_w_mk

    @property
    def depth_share(self) -> float:
        """The heat has to go through the skin."""
        return 1 - self.core_m / self.diameter_m

    def terms(self, count: int) -> Terms:
        """Return the first terms of the inner face's series."""
        return _terms(self.biot, self.core_m / self.diameter_m, count)


def _root(biot: float, core_share: float, number: int, low: float) -> float:
    # The phase rises from below number π at the root of the solid ball to above it where the skin
    # alone, as a slab, would have it; Newton's method is held between the two.
    excess = biot - 1
    high = number * math.pi / (1 - core_share)
    z = low
    for _ in range(MOST_STEPS):
        wound = z * core_share
        phase = z * (1 - core_share) + math.atan(wound) + math.atan2(z, excess)
        miss = phase - number * math.pi
        low, high = (z, high) if miss < 0 else (low, z)
        slope = (1 - core_share) + core_share / (1 + wound * wound)
        slope += excess / (excess * excess + z * z)
        nearer = z - miss / slope if slope > 0 else math.nan
        if not low <= nearer <= high:
            nearer = (low + high) / 2
        if abs(nearer - z) <= 1e-14 * z:
            return nearer
        z = nearer
    return z


@lru_cache(maxsize=4096)
def shell_roots(biot: float, core_share: float, count: int) -> tuple[float, ...]:
    """Find the first roots of the equation of a shell that is insulated inside.

    z (1 − core_share) + arctan(z core_share) + arctan2(z, biot − 1) = n π, the n-th root lying
    between that of the solid ball and n π / (1 − core_share). It follows from [1]_ with
    r θ = sin(z (r − core_share)) + z core_share cos(z (r − core_share)), r on the outer radius.

    Parameters
    ----------
    biot : float
        Biot number on the outer radius, 0.001 to 1 000 000, [-]
    core_share : float
        Core's diameter over the outer diameter, 0 or more and below 1, [-]
    count : int
        How many roots, 1 or more, [-]

    Returns
    -------
    tuple of float
        The roots in rising order, [rad]

    Raises
    ------
    ValueError
        If the Biot number or the core's share lies outside its range or the count is below 1.

    Notes
    -----
    The roots of a whole ball are those of a core of no size.

    Examples
    --------
    Biot number 5 without a core, as in the table of [1]_, and with a core of half the diameter:

    >>> [round(root, 4) for root in shell_roots(5.0, 0.0, 2)]
    [2.5704, 5.354]
    >>> round(shell_roots(5.0, 0.5, 1)[0], 4)
    3.0188

    References
    ----------
    .. [1] Incropera, F. P. and DeWitt, D. P., "Fundamentals of heat and mass transfer",
       5th edition, 2002 (edition from memory), section 5.6 and Table 5.1.
    """
    if not 0 <= core_share < 1:
        raise ValueError(f"A core's share must lie between 0 and 1, not be {core_share:g}.")
    solid = sphere_roots(biot, count)
    return tuple(_root(biot, core_share, n, low) for n, low in enumerate(solid, start=1))


@lru_cache(maxsize=4096)
def _terms(biot: float, core_share: float, count: int) -> Terms:
    return tuple(
        (_coefficient(root, biot, core_share), root * root)
        for root in shell_roots(biot, core_share, count)
    )


def _coefficient(root: float, biot: float, core_share: float) -> float:
    # The profile is A sin(z (r - c) + φ) / r with tan φ = z c and A² = 1 + z² c²; at r = c it is z.
    # Without flux at the core the integral of r² θ is biot θ(1) / z²; that of the square is exact.
    wound = root * core_share
    length = math.hypot(1.0, wound)
    phase = root * (1 - core_share) + math.atan(wound)
    doubled = math.sin(2 * phase) - 2 * wound / (length * length)
    spread = (1 - core_share) - doubled / (2 * root)
    return 2 * biot * math.sin(phase) / (root * length * spread)
