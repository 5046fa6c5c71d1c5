"""Trays and freezer: how much room baits take, and when."""

from __future__ import annotations

import math
from collections.abc import Sequence

from eggfold.reference.session import LOOSE_PACKING, TRAY_AREA_FACTOR


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

    Parameters
    ----------
    laid : sequence of (float, float, float)
        Start, end and area of each load.

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
