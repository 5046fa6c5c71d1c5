"""Drying and freezing: what a bait loses, the trays in use, and the room it takes frozen."""

from __future__ import annotations

import math
from collections.abc import Sequence

from eggfold.records import NamedTuple
from eggfold.reference.defaults import DRYING_LOSS_RANGE, REST_WATER_PER_DRY
from eggfold.reference.session import LOOSE_PACKING, TRAY_AREA_FACTOR

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


def tray_area_m2(baits_g: float, density_g_ml: float, diameter_mm: float) -> float:
    """Return the tray that baits need in one layer.

    ``A = baits_g / 1000 * 6 / (density * pi * diameter) * 1.4``, density of density_g_ml in kg/m³ and
    diameter of diameter_mm in m: a ball of mass ρ π d³/6 on a square of side d, and 1.4 such squares.

    Parameters
    ----------
    baits_g : float
        Fresh baits, with their corks [g], 0 or more.
    density_g_ml : float
        Density of a whole bait, its cork included, above 0 [g/ml].
    diameter_mm : float
        Diameter of the baits, above 0 [mm].

    Returns
    -------
    float
        Area [m²].

    Notes
    -----
    Geometry; no source: N = baits / (ρ π d³/6) balls take N d². The 1.4 is a house default that leaves
    room for hands and for balls that touch; baits of one size are taken.

    Examples
    --------
    >>> round(tray_area_m2(1000.0, 1.15, 18.0), 3)
    0.129
    """
    squares_m2_per_kg = 6 / (density_g_ml * 1000 * math.pi * diameter_mm / 1000)
    return baits_g / 1000 * squares_m2_per_kg * TRAY_AREA_FACTOR


def freezer_l(finished_g: float, density_g_ml: float) -> float:
    """Return the room that loose baits take in the freezer.

    ``V = finished_g / 1000 / (density_g_ml * 0.60)``; balls tipped in loosely fill 0.55 [1]_ to 0.64.

    Parameters
    ----------
    finished_g : float
        Dried baits, with their corks [g], 0 or more.
    density_g_ml : float
        Density of a whole bait, its cork included, above 0 [g/ml].

    Returns
    -------
    float
        Volume [l].

    Notes
    -----
    The 0.60 is a house default. The fresh bait's density stands for the dried one's; a bag's corners and the air in it are left out.

    Examples
    --------
    >>> round(freezer_l(1000.0, 1.15), 2)
    1.45

    References
    ----------
    .. [1] Jerkins, M. et al., "Onset of mechanical stability in random packings of frictional
       spheres", Physical Review Letters 101:018301, 2008: 0.550, the loosest.
    """
    return finished_g / 1000 / (density_g_ml * LOOSE_PACKING)


def peak_m2(laid: Sequence[tuple[float, float, float]]) -> float:
    """Return the most tray in use at any moment.

    The largest over t of the areas whose start <= t < end, of all that is laid.

    Parameters
    ----------
    laid : sequence of (float, float, float)
        Start [s], end [s] and area [m²] of each load, in any order; areas 0 or more.

    Returns
    -------
    float
        Area [m²].

    Notes
    -----
    A sum over what lies at once; no source. A tray emptied at the moment another is laid counts once.

    Examples
    --------
    >>> peak_m2([(0.0, 10.0, 0.5), (5.0, 15.0, 0.25), (10.0, 20.0, 0.5)])
    0.75
    """
    changes = sorted((t, a) for start, end, area in laid for t, a in ((end, -area), (start, area)))
    peak = level = 0.0
    for _, change in changes:
        level += change
        peak = max(peak, level)
    return peak
