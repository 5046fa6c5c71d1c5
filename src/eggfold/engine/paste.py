"""Paste: what it is made of, how dense it is, and the baits that it gives."""

from __future__ import annotations

import math
from collections.abc import Iterable

from eggfold.engine.properties import density_kg_m3
from eggfold.reference.properties import Parts

DENSITY_AT_C = 20.0
"""Temperature at which paste density is stated [degC]: a kitchen."""


def mixed_parts(portions: Iterable[tuple[float, Parts]]) -> Parts:
    """Return the composition of several portions stirred together.

    ``x_i = sum(mass * x_i) / sum(mass)``

    Parameters
    ----------
    portions : iterable of (float, Parts)
        Mass [g], 0 or more, and composition of each; not all of no mass.

    Returns
    -------
    Parts
        Shares by mass with sum 1.

    Notes
    -----
    A mass balance; no source. Nothing is lost, and the scale of each composition does not matter.

    Examples
    --------
    White and yolk of a large egg, 33 and 17 g, as USDA SR28 has them (01124, 01125); its whole egg (01123) is
    printed with 76.15 % of water:

    >>> white = Parts(10.90, 0.17, 0.73, 0.0, 0.63, 87.57)
    >>> yolk = Parts(15.86, 26.54, 3.59, 0.0, 1.71, 52.31)
    >>> round(100 * mixed_parts([(33.0, white), (17.0, yolk)]).water, 1)
    75.6
    """
    totals = [0.0] * 6
    for mass_g, parts in portions:
        scale = mass_g / sum(parts)
        for i, part in enumerate(parts):
            totals[i] += scale * part
    return Parts(*totals).normalised()


def paste_density_g_ml(parts: Parts, air_share: float) -> float:
    """Return the density of fresh paste at 20 degC.

    ``density = choi_okos(parts, 20 degC) * (1 - air_share)`` in g/ml [1]_.

    Parameters
    ----------
    parts : Parts
        Composition by mass.
    air_share : float
        Air by volume [-], 0 to 1.

    Returns
    -------
    float
        Density [g/ml].

    Notes
    -----
    Air takes room and weighs nothing. Choi and Okos put water 0.25 % too low at 20 degC; what air a paste
    holds is a house default unless a hundred baits were weighed.

    Examples
    --------
    Raw whole egg without air; a US cup of it is printed as 243 g (USDA SR28, 01123), 1.027 g/ml:

    >>> egg = Parts(protein=12.56, fat=9.51, carbohydrate=0.72, fibre=0.0, ash=1.06, water=76.15)
    >>> round(paste_density_g_ml(egg, 0.0), 3)
    1.028

    References
    ----------
    .. [1] Choi, Y. and Okos, M. R., "Effects of temperature and composition on the thermal
       properties of foods", 1986, density table; reprinted in ASHRAE Handbook—Refrigeration,
       chapter "Thermal properties of foods", Table 1.
    """
    return density_kg_m3(parts, DENSITY_AT_C, air_share=air_share) / 1000


def ball_volume_ml(diameter_mm: float) -> float:
    """Return the volume of a ball.

    ``V = pi * diameter_mm**3 / 6``

    Parameters
    ----------
    diameter_mm : float
        Diameter [mm], 0 or more.

    Returns
    -------
    float
        Volume [ml].

    Notes
    -----
    Geometry of a ball; no source.

    Examples
    --------
    >>> round(ball_volume_ml(10.0), 4)
    0.5236
    """
    return math.pi * (diameter_mm / 10) ** 3 / 6


def cored_volume_ml(diameter_mm: float, core_mm: float) -> float:
    """Return the paste around a core.

    ``V = pi * (diameter_mm**3 - core_mm**3) / 6``

    Parameters
    ----------
    diameter_mm : float
        Outer diameter [mm], at least core_mm.
    core_mm : float
        Diameter of the core [mm], 0 or more.

    Returns
    -------
    float
        Volume of the skin [ml].

    Notes
    -----
    Geometry of two balls; no source.

    Examples
    --------
    >>> round(cored_volume_ml(16.0, 12.0), 4)
    1.2399
    """
    return ball_volume_ml(diameter_mm) - ball_volume_ml(core_mm)


def sausage_mm(diameter_mm: float) -> float:
    """Return the diameter of the sausage that a rolling table cuts into baits of its own size.

    ``s = diameter_mm * sqrt(2/3)``, where one bait takes a length of one diameter, the table's pitch.

    Parameters
    ----------
    diameter_mm : float
        Diameter of the bait as rolled [mm], 0 or more.

    Returns
    -------
    float
        Diameter of the sausage [mm].

    Notes
    -----
    A cylinder of the volume of a ball; no source. A table whose grooves are wider apart than its baits
    takes a thinner sausage.

    Examples
    --------
    >>> round(sausage_mm(18.0), 2)
    14.7
    """
    return diameter_mm * math.sqrt(2 / 3)


def measured_density_g_ml(hundred_g: float, diameter_mm: float) -> float:
    """Return the paste density that a hundred weighed baits show.

    ``density = hundred_g / 100 / (pi * diameter_mm**3 / 6)``

    Parameters
    ----------
    hundred_g : float
        Mass of a hundred freshly rolled baits [g], above 0.
    diameter_mm : float
        Their diameter [mm], above 0.

    Returns
    -------
    float
        Density [g/ml].

    Notes
    -----
    Mass over volume; no source. A tenth of a millimetre on 16 mm is 1.9 % of the density.

    Examples
    --------
    >>> round(measured_density_g_ml(250.0, 16.0), 4)
    1.1657
    """
    return hundred_g / 100 / ball_volume_ml(diameter_mm)


def bait_count(
    paste_g: float, density_g_ml: float, diameter_mm: float, *, core_mm: float = 0.0
) -> float:
    """Return how many baits a mass of paste gives.

    ``N = paste_g / (density_g_ml * pi * (diameter_mm**3 - core_mm**3) / 6)``

    Parameters
    ----------
    paste_g : float
        Paste to roll, after what stays in the bowl [g], 0 or more.
    density_g_ml : float
        Paste density [g/ml], above 0.
    diameter_mm : float
        Diameter as rolled [mm], above 0.
    core_mm : float, optional
        Diameter of the cork ball inside [mm], below diameter_mm.

    Returns
    -------
    float
        Baits [-], not rounded.

    Notes
    -----
    Mass over the mass of one; no source. Baits are taken as whole balls of one size: 0.3 mm on 16 mm moves
    the count by 6 %.

    Examples
    --------
    >>> round(bait_count(1000.0, 1.15, 18.0))
    285
    >>> round(bait_count(100.0, 1.16, 16.0, core_mm=12.0))
    70
    """
    return paste_g / (density_g_ml * cored_volume_ml(diameter_mm, core_mm))
