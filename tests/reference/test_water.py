"""Air pressure, boiling point and water density against published figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from iapws import IAPWS95, IAPWS97

from eggfold.engine.properties import (
    boiling_point_c,
    pressure_pa,
    saturation_temperature_c,
    water_density_kg_m3,
)

if TYPE_CHECKING:
    from collections.abc import Callable

# ISO 2533 pressure [Pa] as computed by the package ambiance 1.3.1, and the boiling point [degC]
# of IAPWS-IF97 at that pressure; last printed digit.
BY_HEIGHT = [
    (0.0, 101325.00, 99.9743),
    (500.0, 95461.29, 98.3126),
    (1000.0, 89876.28, 96.6493),
    (1500.0, 84559.67, 94.9842),
    (2000.0, 79501.41, 93.3172),
    (2500.0, 74691.74, 91.6482),
    (3000.0, 70121.14, 89.9770),
    (4000.0, 61660.42, 86.6277),
]


@pytest.mark.parametrize(("altitude_m", "pressure", "boiling"), BY_HEIGHT)
def test_pressure_and_boiling_point_by_height(
    altitude_m: float, pressure: float, boiling: float
) -> None:
    assert pressure_pa(altitude_m) == pytest.approx(pressure, abs=0.006)
    assert boiling_point_c(altitude_m) == pytest.approx(boiling, abs=0.00006)


# ISO 2533:1975 in its usual short form, which takes the geopotential height; its six digits hold
# to 1e-5.
@pytest.mark.parametrize("altitude_m", [-430.0, 300.0, 3000.0, 9000.0])
def test_pressure_agrees_with_the_short_form(altitude_m: float) -> None:
    geopotential_m = 6356766 * altitude_m / (6356766 + altitude_m)
    short_form = 101325 * (1 - 2.25577e-5 * geopotential_m) ** 5.25588
    assert pressure_pa(altitude_m) == pytest.approx(short_form, rel=1e-5)


@pytest.mark.parametrize("pressure", [1e3, 3e4, 61660.42, 89876.28, 101325.0, 106500.0, 1e6])
def test_saturation_agrees_with_iapws(pressure: float) -> None:
    expected = IAPWS97(P=pressure / 1e6, x=0).T - 273.15
    assert saturation_temperature_c(pressure) == pytest.approx(expected, abs=1e-6)


# IAPWS R7-97, Table 36; from memory.
@pytest.mark.parametrize(
    ("pressure", "kelvin"), [(0.1e6, 372.755919), (1e6, 453.035632), (10e6, 584.149488)]
)
def test_saturation_check_values(pressure: float, kelvin: float) -> None:
    assert saturation_temperature_c(pressure) + 273.15 == pytest.approx(kelvin, abs=6e-7)


# IAPWS-95; the tolerance is what the two formulations differ by.
@pytest.mark.parametrize(
    "temperature_c", [0.01, 4.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0]
)
def test_water_density_agrees_with_iapws(temperature_c: float) -> None:
    expected = IAPWS95(T=temperature_c + 273.15, P=0.101325).rho
    assert water_density_kg_m3(temperature_c) == pytest.approx(expected, abs=0.0015)


# CRC Handbook of Chemistry and Physics, 53rd ed., p. F-4 [g/ml]; an older table that lies 2 to 4
# parts in a million below the present one.
@pytest.mark.parametrize(
    ("temperature_c", "printed"),
    [(4.0, 0.999973), (5.0, 0.999965), (10.0, 0.999700), (15.0, 0.999099)],
)
def test_water_density_agrees_with_crc(temperature_c: float, printed: float) -> None:
    assert water_density_kg_m3(temperature_c) / 1000 == pytest.approx(printed, abs=4e-6)


@pytest.mark.parametrize(
    ("function", "value", "sentence"),
    [
        (pressure_pa, -431.0, "between -430 and 9000 m"),
        (boiling_point_c, 9001.0, "between -430 and 9000 m"),
        (boiling_point_c, float("nan"), "between -430 and 9000 m"),
        (saturation_temperature_c, 600.0, "not at 600 Pa"),
        (saturation_temperature_c, 2.3e7, "not at 2.3e\\+07 Pa"),
        (water_density_kg_m3, -0.1, "from 0 to 40 degC"),
        (water_density_kg_m3, 40.1, "from 0 to 40 degC"),
    ],
)
def test_outside_the_range_is_refused(
    function: Callable[[float], float], value: float, sentence: str
) -> None:
    with pytest.raises(ValueError, match=sentence):
        function(value)
