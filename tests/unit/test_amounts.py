"""What is said of an amount or a dose that is written in another way."""

from __future__ import annotations

import pytest

from eggfold.amounts import AmountError, Dimension, parse_amount, parse_dose, parse_number
from eggfold.nearest import meant


@pytest.mark.parametrize(
    ("text", "dimension", "hint"),
    [
        ("3500 W", "power", "3.5 kW"),
        ("3500W", "power", "3.5 kW"),
        ("5 cl", "volume", "50 ml"),
        ("2.5 dl", "volume", "250 ml"),
        ("1 hg", "mass", "100 g"),
        ("1.2 km", "length", "1200 m"),
    ],
)
def test_a_measure_that_is_no_unit_here_is_turned_into_one(
    text: str, dimension: Dimension, hint: str
) -> None:
    with pytest.raises(AmountError) as caught:
        parse_amount(text, dimension)
    assert caught.value.hint == hint
    assert meant(hint) is None  # nothing that could be spliced in for the unit alone
    parse_amount(hint, dimension)


@pytest.mark.parametrize(
    ("text", "dimension"),
    [("5 mcg", "mass"), ("5 ug", "mass"), ("2 tl", "volume"), ("5 ul", "volume"), ("3 st", "time")],
)
def test_another_measure_is_no_slip_of_a_unit(text: str, dimension: Dimension) -> None:
    with pytest.raises(AmountError) as caught:
        parse_amount(text, dimension)
    assert meant(caught.value.hint) is None


@pytest.mark.parametrize(
    ("text", "dimension", "unit"),
    [
        ("16 mmm", "length", "mm"),
        ("16 MM", "length", "mm"),
        ("5 drops", "volume", "drop"),
        ("2 cups", "volume", "cup"),
        ("2 lbs", "mass", "lb"),
        ("2 tbs", "volume", "tbsp"),
        ("20 degc", "temperature", "degC"),
    ],
)
def test_a_slip_in_a_unit_is_answered_with_the_unit(
    text: str, dimension: Dimension, unit: str
) -> None:
    with pytest.raises(AmountError) as caught:
        parse_amount(text, dimension)
    assert meant(caught.value.hint) == unit


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("0.5 ml/egg", "0.5 ml per egg"),
        ("0.5ml / egg", "0.5 ml per egg"),
        ("5 ml an egg", "5 ml per egg"),
        ("5 g for 6 eggs", "5 g per 6 eggs"),
        ("5 ml/kg", "5 ml per kg mix, where mix is all dry powder"),
        ("5 ml/kg mix", "5 ml per kg mix, where mix is all dry powder"),
        ("1.5 %", "1.5 % of mix, where mix is all dry powder"),
        ("5 ml", "5 ml per egg, or 5 ml per kg mix"),
    ],
)
def test_a_dose_written_in_another_way_is_answered_with_its_right_writing(
    text: str, hint: str
) -> None:
    with pytest.raises(AmountError) as caught:
        parse_dose(text)
    assert caught.value.hint == hint
    parse_dose(hint.partition(",")[0])


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("1.300,5 g", "1300.5"),
        ("1,300.5 g", "1300.5"),
        ("1.300.000 g", "1300000"),
        ("1,300,000 g", "1300000"),
        ("1 300 g", "1300"),
        ("1'300.5 g", "1300.5"),
    ],
)
def test_thousands_that_are_parted_are_answered_with_the_number(text: str, number: str) -> None:
    with pytest.raises(AmountError) as caught:
        parse_amount(text, "mass")
    assert caught.value.hint == f"nothing between thousands: {number}"


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("one", "in digits: 1"),
        ("Six", "in digits: 6"),
        ("8.5h", "the number alone: 8.5"),
        ("2 eggs", "the number alone: 2"),
        ("30min", "in hours: 0.5"),
        ("1h30", "in hours: 1.5"),
        ("2 kg", None),
    ],
)
def test_a_number_with_a_word_is_answered_with_the_number(text: str, hint: str | None) -> None:
    with pytest.raises(AmountError) as caught:
        parse_number(text)
    assert caught.value.hint == hint
