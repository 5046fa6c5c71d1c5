from __future__ import annotations

import math

import pytest

from eggfold.amounts import UNITS, Amount, AmountError, Dimension, parse_amount
from eggfold.nearest import meant
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


@pytest.mark.parametrize(
    ("text", "dimension"),
    [
        *[("5 cl", "volume"), ("5 dl", "volume"), ("5 ul", "volume"), ("1 T", "volume")],
        *[("1 pinch", "volume"), ("3 dkg", "mass"), ("3 hg", "mass"), ("3 mcg", "mass")],
        *[("2 dm", "length"), ("2 km", "length"), ("900 g/l", "density"), ("900 mg/ml", "density")],
        *[("2000 W", "power"), ("900 ms", "time")],
    ],
)
def test_a_unit_of_another_size_is_not_taken_for_a_slip(text: str, dimension: Dimension) -> None:
    with pytest.raises(AmountError) as refused:
        parse_amount(text, dimension)
    assert meant(refused.value.hint) is None


@pytest.mark.parametrize(
    ("text", "unit"),
    [("5 ML", "ml"), ("5 tbs", "tbsp"), ("5 drops", "drop"), ("5 teaspoons", "tsp")],
)
def test_an_everyday_unit_is_read(text: str, unit: str) -> None:
    assert parse_amount(text, "volume") == Amount(5.0, unit)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("5 mll", "ml"),
        ("5 tbps", "tbsp"),
    ],
)
def test_a_slip_has_one_right_answer(text: str, unit: str) -> None:
    with pytest.raises(AmountError) as refused:
        parse_amount(text, "volume")
    assert meant(refused.value.hint) == unit
