"""What food is made of and how its parts conduct, hold and carry heat."""

from __future__ import annotations

from eggfold.records import NamedTuple


class Parts(NamedTuple):
    """Shares by mass; carbohydrate without the fibre."""

    protein: float
    fat: float
    carbohydrate: float
    fibre: float
    ash: float
    water: float

    def normalised(self) -> Parts:
        """Return the same parts with sum 1."""
        total = sum(self)
        return Parts(*(part / total for part in self))


PART_NAMES = Parts._fields


class Quadratic(NamedTuple):
    """A property as constant + slope t + curvature t², t in degC."""

    constant: float
    slope: float
    curvature: float = 0.0


class PartRows(NamedTuple):
    """One quadratic for each part, in the order of ``Parts``."""

    protein: Quadratic
    fat: Quadratic
    carbohydrate: Quadratic
    fibre: Quadratic
    ash: Quadratic
    water: Quadratic


class PropertyTable(NamedTuple):
    """One property of all six parts, with its unit, valid range and source."""

    what: str
    unit: str
    low_c: float
    high_c: float
    source: str
    rows: PartRows


CHOI_OKOS_SOURCE = (
    "Choi & Okos 1986, Effects of temperature and composition on the thermal properties of foods, "
    "in Food Engineering and Process Applications vol. 1"
)

DENSITY = PropertyTable(
    "density",
    "kg/m³",
    -40.0,
    150.0,
    CHOI_OKOS_SOURCE,
    PartRows(
        protein=Quadratic(1329.9, -0.51840),
        fat=Quadratic(925.59, -0.41757),
        carbohydrate=Quadratic(1599.1, -0.31046),
        fibre=Quadratic(1311.5, -0.36589),
        ash=Quadratic(2423.8, -0.28063),
        water=Quadratic(997.18, 3.1439e-3, -3.7574e-3),
    ),
)

CONDUCTIVITY = PropertyTable(
    "thermal conductivity",
    "W/(m K)",
    -40.0,
    150.0,
    CHOI_OKOS_SOURCE,
    PartRows(
        protein=Quadratic(0.17881, 1.1958e-3, -2.7178e-6),
        fat=Quadratic(0.18071, -2.7604e-4, -1.7749e-7),
        carbohydrate=Quadratic(0.20141, 1.3874e-3, -4.3312e-6),
        fibre=Quadratic(0.18331, 1.2497e-3, -3.1683e-6),
        ash=Quadratic(0.32962, 1.4011e-3, -2.9069e-6),
        water=Quadratic(0.57109, 1.7625e-3, -6.7036e-6),
    ),
)

SPECIFIC_HEAT = PropertyTable(
    "specific heat",
    "J/(kg K)",
    -40.0,
    150.0,
    CHOI_OKOS_SOURCE,
    PartRows(
        protein=Quadratic(2008.2, 1.2089, -1.3129e-3),
        fat=Quadratic(1984.2, 1.4733, -4.8008e-3),
        carbohydrate=Quadratic(1548.8, 1.9625, -5.9399e-3),
        fibre=Quadratic(1845.9, 1.8306, -4.6509e-3),
        ash=Quadratic(1092.6, 1.8896, -3.6817e-3),
        water=Quadratic(4176.2, -9.0864e-2, 5.4731e-3),
    ),
)
"""Water's row is the one for 0 degC and above, with the constant of the original paper.

Several later tables print 4128.9, which is 1.3 % below the IAPWS value at 20 degC.
"""

COLD_WATER_SPECIFIC_HEAT = Quadratic(4081.7, -5.3062, 0.99516)
"""Unfrozen water from −40 to 0 degC [J/(kg K)]; same source."""


class StandardAir(NamedTuple):
    """The troposphere of the standard atmosphere."""

    pressure_pa: float
    temperature_k: float
    lapse_k_m: float
    gas_constant_j_kgk: float
    gravity_m_s2: float
    earth_radius_m: float
    low_m: float
    high_m: float
    source: str


STANDARD_AIR = StandardAir(
    pressure_pa=101325.0,
    temperature_k=288.15,
    lapse_k_m=0.0065,
    gas_constant_j_kgk=287.05287,
    gravity_m_s2=9.80665,
    earth_radius_m=6356766.0,
    low_m=-430.0,
    high_m=9000.0,
    source="ISO 2533:1975, Standard atmosphere",
)
"""The height range is that of dry land; the layer itself reaches up to 11 km."""


class SaturationLine(NamedTuple):
    """Coefficients n1 to n10 of the saturation line of water."""

    n: tuple[float, ...]
    low_pa: float
    high_pa: float
    source: str


SATURATION = SaturationLine(
    n=(
        1167.0521452767,
        -724213.16703206,
        -17.073846940092,
        12020.824702470,
        -3232555.0322333,
        14.915108613530,
        -4823.2657361591,
        405113.40542057,
        -0.23855557567849,
        650.17534844798,
    ),
    low_pa=611.213,
    high_pa=22.064e6,
    source="IAPWS R7-97(2012), Table 34",
)


class WaterDensity(NamedTuple):
    """Coefficients a1 to a5 of the density of water without air at 101325 Pa."""

    a: tuple[float, float, float, float, float]
    low_c: float
    high_c: float
    source: str


WATER_DENSITY = WaterDensity(
    a=(-3.983035, 301.797, 522528.9, 69.34881, 999.974950),
    low_c=0.0,
    high_c=40.0,
    source=(
        "Tanaka, Girard, Davis, Peuto & Bignell 2001, Recommended table for the density of water "
        "between 0 °C and 40 °C, Metrologia 38:301–309"
    ),
)
