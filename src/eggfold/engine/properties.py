"""Thermal properties of a food from its composition."""

from __future__ import annotations

from eggfold.reference.parts import Parts
from eggfold.reference.properties import (
    COLD_WATER_SPECIFIC_HEAT,
    CONDUCTIVITY,
    DENSITY,
    SPECIFIC_HEAT,
    PropertyTable,
)

PURE_WATER = Parts(protein=0, fat=0, carbohydrate=0, fibre=0, ash=0, water=1)


def _part_values(table: PropertyTable, temperature_c: float) -> list[float]:
    if not table.low_c <= temperature_c <= table.high_c:
        raise ValueError(
            f"The {table.what} of food is known from {table.low_c:g} to {table.high_c:g} degC, "
            f"not at {temperature_c:g} degC."
        )
    return [
        constant + temperature_c * (slope + temperature_c * curvature)
        for constant, slope, curvature in table.rows
    ]


def _total(parts: Parts) -> float:
    total = sum(parts)
    if not total > 0:
        raise ValueError("A composition needs at least one part above 0.")
    return total


def _volumes(parts: Parts, temperature_c: float) -> list[float]:
    densities = _part_values(DENSITY, temperature_c)
    return [share / density for share, density in zip(parts, densities, strict=True)]


def density_kg_m3(parts: Parts, temperature_c: float, *, air_share: float = 0.0) -> float:
    """Give the density of a food.

    ρ = (1 − air_share) Σ parts / Σ (parts / ρ(temperature_c)) [1]_.

    Parameters
    ----------
    parts : Parts
        Shares by mass, each 0 or more; any common scale, such as 1 or 100 in all, [-]
    temperature_c : float
        Temperature of the food, −40 to 150, [degC]
    air_share : float, optional
        Air by volume, 0 or more and below 1, [-]

    Returns
    -------
    float
        Density, [kg/m³]

    Raises
    ------
    ValueError
        If all parts are 0 or the temperature lies outside the range.

    Notes
    -----
    The volumes of the parts are taken to add up. Air takes room and weighs nothing; shrinkage in
    solution is left out, and frozen water is not covered. The correlation puts water 0.25 % too low at 20 degC.

    Examples
    --------
    Protein at 20 degC, as CoolProp has it from the same tables:

    >>> round(density_kg_m3(Parts(1, 0, 0, 0, 0, 0), 20.0), 3)
    1319.532

    References
    ----------
    .. [1] Choi, Y. and Okos, M. R., "Effects of temperature and composition on the thermal
       properties of foods", 1986, density table; reprinted in ASHRAE Handbook—Refrigeration,
       chapter "Thermal properties of foods", Table 1.
    """
    return (1 - air_share) * _total(parts) / sum(_volumes(parts, temperature_c))


def conductivity_w_mk(parts: Parts, temperature_c: float, *, air_share: float = 0.0) -> float:
    """Give the thermal conductivity of a food whose parts lie side by side, with bubbles of air.

    k = Σ (v k(temperature_c)) / Σ v with v = parts / ρ(temperature_c) [1]_, times
    (1 − air_share) / (1 + air_share / 2) [2]_.

    Parameters
    ----------
    parts : Parts
        Shares by mass, each 0 or more; any common scale, such as 1 or 100 in all, [-]
    temperature_c : float
        Temperature of the food, −40 to 150, [degC]
    air_share : float, optional
        Air by volume, 0 or more and below 1, [-]

    Returns
    -------
    float
        Thermal conductivity, [W/(m K)]

    Raises
    ------
    ValueError
        If all parts are 0 or the temperature lies outside the range.

    Notes
    -----
    The parallel model is the upper bound for a mixture; parts in layers across the heat flow
    conduct less, a raw egg about a fifth less. The air is in round bubbles apart from one another,
    which conduct nothing.

    Examples
    --------
    Fat at 20 degC, as CoolProp has it from the same tables:

    >>> round(conductivity_w_mk(Parts(0, 1, 0, 0, 0, 0), 20.0), 5)
    0.17512

    References
    ----------
    .. [1] Choi, Y. and Okos, M. R., "Effects of temperature and composition on the thermal
       properties of foods", 1986, conductivity table; reprinted in ASHRAE
       Handbook—Refrigeration, chapter "Thermal properties of foods", Table 1.
    .. [2] Maxwell, J. C., "A treatise on electricity and magnetism", 3rd edition, 1891, section 314
       (from memory).
    """
    _total(parts)
    volumes = _volumes(parts, temperature_c)
    conductivities = _part_values(CONDUCTIVITY, temperature_c)
    conducted = sum(v * k for v, k in zip(volumes, conductivities, strict=True))
    return conducted / sum(volumes) * (1 - air_share) / (1 + air_share / 2)


def specific_heat_j_kgk(parts: Parts, temperature_c: float) -> float:
    """Give the specific heat of a food that is not frozen.

    c = Σ (parts c(temperature_c)) / Σ parts [1]_.

    Parameters
    ----------
    parts : Parts
        Shares by mass, each 0 or more; any common scale, such as 1 or 100 in all, [-]
    temperature_c : float
        Temperature of the food, −40 to 150, [degC]

    Returns
    -------
    float
        Specific heat, [J/(kg K)]

    Raises
    ------
    ValueError
        If all parts are 0 or the temperature lies outside the range.

    Notes
    -----
    Heat taken up by melting, swelling starch or setting protein is left out. Water's constant is
    4176.2, as in the original paper. Below 0 degC water has a row of its own, for water that has
    not frozen; the two rows differ by 94.5 J/(kg K) where they meet.

    Examples
    --------
    Ash at 20 degC, as CoolProp has it from the same tables:

    >>> round(specific_heat_j_kgk(Parts(0, 0, 0, 0, 1, 0), 20.0), 3)
    1128.919

    References
    ----------
    .. [1] Choi, Y. and Okos, M. R., "Effects of temperature and composition on the thermal
       properties of foods", 1986, specific heat table; reprinted in ASHRAE
       Handbook—Refrigeration, chapter "Thermal properties of foods", Tables 1 and 2.
    """
    total = _total(parts)
    heats = _part_values(SPECIFIC_HEAT, temperature_c)
    if temperature_c < 0:
        constant, slope, curvature = COLD_WATER_SPECIFIC_HEAT
        heats[-1] = constant + temperature_c * (slope + temperature_c * curvature)
    return sum(share * heat for share, heat in zip(parts, heats, strict=True)) / total


def diffusivity_m2_s(parts: Parts, temperature_c: float, *, air_share: float = 0.0) -> float:
    """Give the thermal diffusivity of a food.

    α = k / (ρ c), each from parts and air_share at temperature_c [1]_.

    Parameters
    ----------
    parts : Parts
        Shares by mass, each 0 or more; any common scale, such as 1 or 100 in all, [-]
    temperature_c : float
        Temperature of the food, −40 to 150, [degC]
    air_share : float, optional
        Air by volume, 0 or more and below 1, [-]

    Returns
    -------
    float
        Thermal diffusivity, [m²/s]

    Raises
    ------
    ValueError
        If all parts are 0 or the temperature lies outside the range.

    Notes
    -----
    Worked out from the other three, so that the four always agree; the paper also has a direct
    fit, which is not used. Air takes from the conductivity a little more than from the density.

    Examples
    --------
    Raw whole egg at 25 degC; moist foods are measured at 1.2 to 1.7 × 10⁻⁷:

    >>> egg = Parts(protein=12.56, fat=9.51, carbohydrate=0.72, fibre=0.0, ash=1.06, water=76.15)
    >>> f"{diffusivity_m2_s(egg, 25.0):.3e}"
    '1.391e-07'

    References
    ----------
    .. [1] Choi, Y. and Okos, M. R., "Effects of temperature and composition on the thermal
       properties of foods", 1986.
    """
    density = density_kg_m3(parts, temperature_c, air_share=air_share)
    conductivity = conductivity_w_mk(parts, temperature_c, air_share=air_share)
    return conductivity / (density * specific_heat_j_kgk(parts, temperature_c))
