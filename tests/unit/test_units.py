from __future__ import annotations

import math

import pytest

from eggfold.amounts import UNITS, Dimension, parse_amount
from eggfold.units import amount_in


@pytest.mark.parametrize("text", ["68 degF", "68 °F", "20 degC", "20 °C"])
def test_a_temperature_is_the_same_in_all_its_spellings(text: str) -> None:
    assert amount_in(parse_amount(text, "temperature"), "degC") == pytest.approx(20, abs=1e-9)


@pytest.mark.parametrize(("dimension", "units"), UNITS.items())
def test_each_unit_that_can_be_written_converts_there_and_back(
    dimension: Dimension, units: tuple[str, ...]
) -> None:
    for unit in units:
        amount = parse_amount(f"68 {unit}", dimension)
        there = amount_in(amount, units[0], "us")
        assert math.isfinite(there)
        back = amount._replace(value=there, unit=units[0])
        assert amount_in(back, unit, "us") == pytest.approx(68, rel=1e-12)
