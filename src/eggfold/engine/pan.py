"""How much paste a pan takes at once, and the wait before the next load."""

from __future__ import annotations

import math

from eggfold.engine import properties
from eggfold.records import NamedTuple

ROUNDING = 1e-9
"""A load may be fuller by this part of itself."""


class EvenLoads(NamedTuple):
    """How many loads, all of one mass [g]."""

    number: int
    each_g: float


def pan_load_kg(
    pan_l: float, water_c: float, start_c: float, fall_k: float, specific_heat_j_kgk: float
) -> float:
    """Give the mass of paste that cools a pan of boiling water by a set fall.

    m = V ρ c fall_k / (specific_heat_j_kgk (water_c − fall_k − start_c)), V = pan_l / 1000, ρ and
    c those of water at water_c [1]_.

    Parameters
    ----------
    pan_l : float
        Water in the pan, 0 or more, [l]
    water_c : float
        Temperature of the boiling water, 0 to 150, [degC]
    start_c : float
        Temperature of the paste when it goes in, below water_c − fall_k, [degC]
    fall_k : float
        How far the water may cool, 0 or more, [K]
    specific_heat_j_kgk : float
        Specific heat of the paste, above 0, [J/(kg K)]

    Returns
    -------
    float
        Mass of one load, [kg]

    Raises
    ------
    ValueError
        If the paste is not colder than the cooled water.

    Notes
    -----
    All of the load warms up to the cooled water at once and the burner adds nothing meanwhile.
    In truth only the skin of the ball warms so soon, so the pan falls less than this.

    Examples
    --------
    >>> round(pan_load_kg(5.0, 99.974, 20.0, 5.0, 2700.0), 2)
    0.5

    References
    ----------
    .. [1] Choi, Y. and Okos, M. R., "Effects of temperature and composition on the thermal
       properties of foods", 1986, density and specific heat tables.
    """
    rise_k = water_c - fall_k - start_c
    if not rise_k > 0:
        raise ValueError("The paste must be colder than the water after its fall.")
    water = properties.PURE_WATER
    water_kg = pan_l / 1000 * properties.density_kg_m3(water, water_c)
    heat_j = water_kg * properties.specific_heat_j_kgk(water, water_c) * fall_k
    return heat_j / (specific_heat_j_kgk * rise_k)


def even_loads(baits_g: float, most_g: float) -> EvenLoads:
    """Return as few loads as the pan allows, evened out.

    ``number = ceil(baits_g / most_g)``, each of ``baits_g / number``.

    Parameters
    ----------
    baits_g : float
        Baits of one size, with their corks, 0 or more, [g]
    most_g : float
        What the pan takes at once, above 0, [g]

    Returns
    -------
    EvenLoads
        Loads and the mass of each, at most most_g; none for no baits.

    Raises
    ------
    ValueError
        If the pan takes nothing.

    Notes
    -----
    A count; no source. Three loads of 400 g all boil alike; two of 521 and one of 158 would not.

    Examples
    --------
    >>> even_loads(1200.0, 521.0)
    EvenLoads(number=3, each_g=400.0)
    """
    if not most_g > 0:
        raise ValueError(f"A pan must take more than {most_g:g} g.")
    number = math.ceil(baits_g / most_g - ROUNDING)
    return EvenLoads(number, baits_g / number if number else 0.0)


def reboil_wait_s(
    load_kg: float,
    specific_heat_j_kgk: float,
    water_c: float,
    start_c: float,
    power_w: float,
    efficiency: float,
    boil_time_s: float,
    shortest_s: float,
) -> float:
    """Give the wait between two loads until the burner has made up for the first.

    t = max(shortest_s, load_kg specific_heat_j_kgk (water_c − start_c) / (efficiency power_w)
    − boil_time_s) [1]_.

    Parameters
    ----------
    load_kg : float
        Mass of the load that was in, not the most the pan takes, 0 or more, [kg]
    specific_heat_j_kgk : float
        Specific heat of the paste, above 0, [J/(kg K)]
    water_c : float
        Temperature of the boiling water, 0 to 150, [degC]
    start_c : float
        Temperature of the paste when it goes in, below water_c, [degC]
    power_w : float
        Power of the burner, above 0, [W]
    efficiency : float
        Share of the power that reaches the water, above 0 and up to 1, [-]
    boil_time_s : float
        Time each load is in the water, 0 or more, [s]
    shortest_s : float
        Wait that is kept in any case, 0 or more, [s]

    Returns
    -------
    float
        Wait between taking one load out and putting the next one in, [s]

    Raises
    ------
    ValueError
        If the power or the efficiency is not above 0.

    Notes
    -----
    The load leaves at the temperature of the water, the worst case. Steam and the pan's own
    losses are in the efficiency.

    Examples
    --------
    >>> reboil_wait_s(0.5, 2700.0, 100.0, 20.0, 2000.0, 0.4, 70.0, 30.0)
    65.0

    References
    ----------
    .. [1] Incropera, F. P. and DeWitt, D. P., "Fundamentals of heat and mass transfer",
       5th edition, 2002 (edition from memory), section 1.3.
    """
    if not (power_w > 0 and 0 < efficiency <= 1):
        raise ValueError("The burner's power and its efficiency must be above 0.")
    heat_j = load_kg * specific_heat_j_kgk * (water_c - start_c)
    return max(shortest_s, heat_j / (efficiency * power_w) - boil_time_s)
