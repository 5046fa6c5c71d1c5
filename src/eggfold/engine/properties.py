"""Thermal properties of a food from its composition, and of the water it boils and floats in."""

from __future__ import annotations

import math

from eggfold.reference.properties import (
    COLD_WATER_SPECIFIC_HEAT,
    CONDUCTIVITY,
    DENSITY,
    SATURATION,
    SPECIFIC_HEAT,
    STANDARD_AIR,
    WATER_DENSITY,
    Parts,
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


ZERO_CELSIUS_K = 273.15


def pressure_pa(altitude_m: float) -> float:
    """Give the standard air pressure at a height above the sea.

    p = p₀ (1 − L H / T₀)^(g₀ / (R L)) with H = r altitude_m / (r + altitude_m) [1]_.

    Parameters
    ----------
    altitude_m : float
        Height above mean sea level, −430 to 9000, [m]

    Returns
    -------
    float
        Air pressure, [Pa]

    Raises
    ------
    ValueError
        If the height lies outside the range.

    Notes
    -----
    The standard atmosphere has no weather; a deep low or a strong high shifts the pressure by
    3 %, the boiling point by 1 K.

    Examples
    --------
    >>> round(pressure_pa(0.0))
    101325
    >>> round(pressure_pa(1000.0), 1)
    89876.3

    References
    ----------
    .. [1] ISO 2533, "Standard atmosphere", 1975, troposphere.
    """
    air = STANDARD_AIR
    if not air.low_m <= altitude_m <= air.high_m:
        raise ValueError(
            f"The height must lie between {air.low_m:g} and {air.high_m:g} m, "
            f"not be {altitude_m:g} m."
        )
    geopotential_m = air.earth_radius_m * altitude_m / (air.earth_radius_m + altitude_m)
    exponent = air.gravity_m_s2 / (air.gas_constant_j_kgk * air.lapse_k_m)
    temperature_ratio = 1 - air.lapse_k_m * geopotential_m / air.temperature_k
    return air.pressure_pa * math.pow(temperature_ratio, exponent)


def saturation_temperature_c(pressure_pa: float) -> float:
    """Give the temperature at which pure water boils under a pressure.

    T = (n₁₀ + D − √((n₁₀ + D)² − 4 (n₉ + n₁₀ D))) / 2, D = 2 G / (−F − √(F² − 4 E G)), where
    E, F and G are quadratics in β = (pressure_pa / 10⁶)^¼ [1]_.

    Parameters
    ----------
    pressure_pa : float
        Pressure over the water, 611.213 to 22 064 000, [Pa]

    Returns
    -------
    float
        Boiling temperature, [degC]

    Raises
    ------
    ValueError
        If the pressure lies outside the range.

    Notes
    -----
    Pure water on a flat surface. Salt raises the figure by about 0.5 K for 30 g in a litre.

    Examples
    --------
    Standard air pressure, 373.124 K:

    >>> round(saturation_temperature_c(101325.0), 3)
    99.974

    References
    ----------
    .. [1] International Association for the Properties of Water and Steam, "Revised release on
       the IAPWS industrial formulation 1997", R7-97, 2012, equation 31 and Table 34.
    """
    if not SATURATION.low_pa <= pressure_pa <= SATURATION.high_pa:
        raise ValueError(
            f"Water boils at pressures between {SATURATION.low_pa:g} and "
            f"{SATURATION.high_pa:g} Pa, not at {pressure_pa:g} Pa."
        )
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = SATURATION.n
    beta = math.sqrt(math.sqrt(pressure_pa / 1e6))
    e = (beta + n3) * beta + n6
    f = (n1 * beta + n4) * beta + n7
    g = (n2 * beta + n5) * beta + n8
    d = 2 * g / (-f - math.sqrt(f * f - 4 * e * g))
    kelvin = (n10 + d - math.sqrt((n10 + d) ** 2 - 4 * (n9 + n10 * d))) / 2
    return kelvin - ZERO_CELSIUS_K


def boiling_point_c(altitude_m: float) -> float:
    """Give the temperature of water boiling in an open pan at a height above the sea.

    T = T_sat(p(altitude_m)), the pressure after [1]_ and the boiling point after [2]_.

    Parameters
    ----------
    altitude_m : float
        Height above mean sea level, −430 to 9000, [m]

    Returns
    -------
    float
        Boiling temperature, [degC]

    Raises
    ------
    ValueError
        If the height lies outside the range.

    Notes
    -----
    Pure water under standard air pressure; weather moves it by about 1 K.

    Examples
    --------
    >>> [round(boiling_point_c(height), 3) for height in (0.0, 1000.0, 2000.0)]
    [99.974, 96.649, 93.317]

    References
    ----------
    .. [1] ISO 2533, "Standard atmosphere", 1975, troposphere.
    .. [2] International Association for the Properties of Water and Steam, "Revised release on
       the IAPWS industrial formulation 1997", R7-97, 2012, Table 34.
    """
    return saturation_temperature_c(pressure_pa(altitude_m))


def water_density_kg_m3(temperature_c: float) -> float:
    """Give the density of lake water.

    ρ = a₅ (1 − (temperature_c + a₁)² (temperature_c + a₂) / (a₃ (temperature_c + a₄))) [1]_.

    Parameters
    ----------
    temperature_c : float
        Temperature of the water, 0 to 40, [degC]

    Returns
    -------
    float
        Density, [kg/m³]

    Raises
    ------
    ValueError
        If the temperature lies outside the range.

    Notes
    -----
    Pure water without air at 101325 Pa. Dissolved minerals add about 0.8 kg/m³ for each gram in
    a litre, and 10 m of depth add 0.05 kg/m³; sea water is not covered.

    Examples
    --------
    >>> round(water_density_kg_m3(4.0), 3)
    999.975
    >>> round(water_density_kg_m3(20.0), 3)
    998.207

    References
    ----------
    .. [1] Tanaka, M., Girard, G., Davis, R., Peuto, A. and Bignell, N., "Recommended table for
       the density of water between 0 °C and 40 °C based on recent experimental reports", 2001,
       Metrologia 38:301–309.
    """
    table = WATER_DENSITY
    if not table.low_c <= temperature_c <= table.high_c:
        raise ValueError(
            f"The density of lake water is known from {table.low_c:g} to {table.high_c:g} degC, "
            f"not at {temperature_c:g} degC."
        )
    a1, a2, a3, a4, a5 = table.a
    shift = (temperature_c + a1) ** 2 * (temperature_c + a2) / (a3 * (temperature_c + a4))
    return a5 * (1 - shift)
