"""From a bowl of paste to finished baits."""

from __future__ import annotations

import math
from collections.abc import Iterable

from eggfold.engine.properties import density_kg_m3
from eggfold.reference.parts import Parts

DENSITY_AT_C = 20.0
"""Temperature at which paste density is stated [degC]: a kitchen."""


def mixed_parts(portions: Iterable[tuple[float, Parts]]) -> Parts:
    """Return the composition of several portions stirred together.

    ``x_i = sum(mass * x_i) / sum(mass)``

    Parameters
    ----------
    portions : iterable of (float, Parts)
        Mass [g] and composition of each.

    Returns
    -------
    Parts
        Shares by mass with sum 1.
    """
    totals = [0.0] * 6
    for mass_g, parts in portions:
        scale = mass_g / sum(parts)
        for i, part in enumerate(parts):
            totals[i] += scale * part
    return Parts(*totals).normalised()


def paste_density_g_ml(parts: Parts, air_share: float) -> float:
    """Return the density of fresh paste at 20 degC.

    ``density = choi_okos(parts, 20 degC) * (1 - air_share)``

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
    """
    return density_kg_m3(parts, DENSITY_AT_C) / 1000 * (1 - air_share)


def ball_volume_ml(diameter_mm: float) -> float:
    """Return the volume of a ball.

    ``V = pi * diameter_mm**3 / 6``

    Parameters
    ----------
    diameter_mm : float
        Diameter [mm].

    Returns
    -------
    float
        Volume [ml].
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

    Examples
    --------
    >>> round(cored_volume_ml(16.0, 12.0), 4)
    1.2399
    """
    return ball_volume_ml(diameter_mm) - ball_volume_ml(core_mm)


def measured_density_g_ml(hundred_g: float, diameter_mm: float) -> float:
    """Return the paste density that a hundred weighed baits show.

    ``density = hundred_g / 100 / (pi * diameter_mm**3 / 6)``

    Parameters
    ----------
    hundred_g : float
        Mass of a hundred freshly rolled baits [g].
    diameter_mm : float
        Their diameter [mm].

    Returns
    -------
    float
        Density [g/ml].
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
        Paste to roll, after what stays in the bowl [g].
    density_g_ml : float
        Paste density [g/ml].
    diameter_mm : float
        Diameter as rolled [mm].
    core_mm : float, optional
        Diameter of the cork ball inside [mm], below diameter_mm.

    Returns
    -------
    float
        Baits [-], not rounded.
    """
    return paste_g / (density_g_ml * cored_volume_ml(diameter_mm, core_mm))


def finished_g(paste_g: float, bowl_loss_share: float, drying_loss_share: float) -> float:
    """Return the mass of dried baits.

    ``finished = paste_g * (1 - bowl_loss_share) * (1 - drying_loss_share)``

    Parameters
    ----------
    paste_g : float
        Fresh paste [g].
    bowl_loss_share : float
        Paste left in bowl and gun [-].
    drying_loss_share : float
        Weight lost in drying [-].

    Returns
    -------
    float
        Finished mass [g].
    """
    return paste_g * (1 - bowl_loss_share) * (1 - drying_loss_share)
