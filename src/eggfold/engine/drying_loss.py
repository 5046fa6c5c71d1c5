"""How much weight baits lose while they steam off and dry."""

from __future__ import annotations

import math

from eggfold.records import NamedTuple
from eggfold.reference.defaults import DRYING_LOSS_RANGE, REST_WATER_PER_DRY

FOURIER_EARLY = 0.05
TERMS = 8
"""From FOURIER_EARLY on the ninth term is below exp(−39); before it, what the short form leaves out
is below exp(−19)."""


class DryingLoss(NamedTuple):
    """The share of its paste's weight that a bait loses, and its range [-]."""

    share: float
    low: float
    high: float


def dried_fraction(fourier: float) -> float:
    """Give the share of a ball's free water that has left it through its surface.

    1 − 6/π² Σ exp(−n² π² fourier)/n², and 6 √(fourier/π) − 3 fourier below 0.05 [1]_.

    Parameters
    ----------
    fourier : float
        Fourier number on the radius with the water's diffusivity, 0 or more, [-]

    Returns
    -------
    float
        From 0 up to 1, [-]

    Raises
    ------
    ValueError
        If the Fourier number is below 0.

    Notes
    -----
    The surface has the moisture of rest from the first moment, the ball does not shrink and its
    diffusivity stays. Both forms are the same function.

    Examples
    --------
    Half is gone at 0.0305 [1]_:

    >>> round(dried_fraction(0.0305), 2)
    0.5

    References
    ----------
    .. [1] Crank, J., "The mathematics of diffusion", 2nd edition, 1975, equations 6.20 and 6.21 (from
       memory).
    """
    if not fourier >= 0:
        raise ValueError(f"The Fourier number must be 0 or more, not {fourier:g}.")
    if fourier < FOURIER_EARLY:
        return 6 * math.sqrt(fourier / math.pi) - 3 * fourier
    left = sum(math.exp(-((n * math.pi) ** 2) * fourier) / n**2 for n in range(1, TERMS + 1))
    return 1 - 6 / math.pi**2 * left


def drying_loss(
    diameter_mm: float,
    drying_h: float,
    water_share: float,
    *,
    steam_share: float,
    diffusivity_m2_s: float,
) -> DryingLoss:
    """Return how much of its paste's weight a bait loses between the pan and the end of its drying.

    steam_share + max(0, f − steam_share) × g, f = water_share − 0.10 (1 − water_share), g the dried
    fraction at diffusivity_m2_s drying_h · 3600 / (diameter_mm / 2000)², never over water_share [1]_.

    Parameters
    ----------
    diameter_mm : float
        Diameter as rolled, core included, above 0, [mm]
    drying_h : float
        Time on the tray, 0 or more, [h]
    water_share : float
        Water in the fresh paste by mass, 0 to 1, [-]
    steam_share : float
        What steams off while the bait cools, 0 to 1, [-]
    diffusivity_m2_s : float
        Diffusivity of water in the paste at room temperature, 0 or more, [m²/s]

    Returns
    -------
    DryingLoss
        The share and its range, half as much to half as much again, [-]

    Raises
    ------
    ValueError
        If the time or the diffusivity is below 0.

    Notes
    -----
    A house default until finished weights were noted. 0.10 g of water per gram of dry stays in the
    air of a room, near what pasta keeps [2]_. The diffusivity is ours; those of pasta [3]_ are of 40 to
    120 °C. A bait on cork is taken as a solid ball; the share counts for its paste, cork loses nothing.

    Examples
    --------
    Two days of drying, a paste of 30 % water:

    >>> [round(drying_loss(d, 48.0, 0.303, steam_share=0.03, diffusivity_m2_s=5e-12).share, 2)
    ...  for d in (14.0, 20.0)]
    [0.11, 0.09]

    References
    ----------
    .. [1] Crank, J., "The mathematics of diffusion", 2nd edition, 1975, equations 6.20 and 6.21 (from
       memory).
    .. [2] Exercise data on pasta: 8.0 and 9.0 % of moisture at 58 and 66 % humidity.
    .. [3] Waananen, K. M., thesis, Purdue University, as cited: 8 to 106 × 10⁻¹² m²/s.
    """
    free = water_share - REST_WATER_PER_DRY * (1 - water_share)
    radius_m = diameter_mm / 2000
    dried = dried_fraction(diffusivity_m2_s * drying_h * 3600 / radius_m**2)
    loss = steam_share + max(0.0, free - steam_share) * dried
    low, high = (min(water_share, loss * part) for part in DRYING_LOSS_RANGE)
    return DryingLoss(min(water_share, loss), low, high)
