"""What is said of an amount or a dose that is written in another way."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from eggfold.amounts import (
    AmountError,
    Dimension,
    mass_in_words,
    parse_amount,
    parse_dose,
    parse_number,
    parse_soak,
)
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
        ("5 gr", "mass", "g"),
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
        ("10 drops", "10 drop per egg, or 10 drop per kg mix"),
        ("½ tsp each", "0.5 tsp per egg, or 0.5 tsp per kg mix"),
        ("0 ml per egg", "none"),
        ("-", "none"),
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
        ("2 kg", "a number without a unit"),
    ],
)
def test_a_number_with_a_word_is_answered_with_the_number(text: str, hint: str | None) -> None:
    with pytest.raises(AmountError) as caught:
        parse_number(text, hours="in hours" in (hint or ""))
    assert caught.value.hint == hint


@pytest.mark.parametrize(
    ("text", "dimension", "meaning"),
    [
        ("130 grams", "mass", "130 g"),
        ("6 kilo", "mass", "6 kg"),
        ("3 Kg", "mass", "3 kg"),
        ("2 lbs", "mass", "2 lb"),
        ("10 drops", "volume", "10 drop"),
        ("2 cups", "volume", "2 cup"),
        ("½ tsp", "volume", "0.5 tsp"),
        ("1/2 tsp", "volume", "0.5 tsp"),
        ("1 1/2 tbsp", "volume", "1.5 tbsp"),
        ("1½ tbsp", "volume", "1.5 tbsp"),
        ("2 fl oz", "volume", "2 floz"),
        ("45 minutes", "time", "45 min"),
        ("2 hrs", "time", "2 h"),
        ("20 degc", "temperature", "20 degC"),
        ("20 C", "temperature", "20 degC"),
        ("16 MM", "length", "16 mm"),
        ("0,7 ml", "volume", "0.7 ml"),
        ("0,125 g", "mass", "0.125 g"),
        ("12,5\tg", "mass", "12.5 g"),
        ("130 g.", "mass", "130 g"),
        ("1 lb 4 oz", "mass", "20 oz"),
        ("1lb, 4oz", "mass", "20 oz"),
        ("2 kilos 50 grams", "mass", "2050 g"),
        ("1 min 30 s", "time", "90 s"),
        ("2 h 30 min", "time", "150 min"),
        ("5 ft 6 in", "length", "66 in"),
        ("3 percent", "share", "3 %"),
    ],
)
def test_an_everyday_form_with_one_meaning_is_read(
    text: str, dimension: Dimension, meaning: str
) -> None:
    assert str(parse_amount(text, dimension)) == meaning


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("0.5 ml/egg", "0.5 ml per egg"),
        ("0.5ml / egg", "0.5 ml per egg"),
        ("5 ml an egg", "5 ml per egg"),
        ("½ tsp per egg", "0.5 tsp per egg"),
        ("1,5 ml per 2 eggs", "1.5 ml per 2 eggs"),
        ("5 ml/kg mix", "5 ml per kg mix"),
        ("5 ml per kg of dry mix", "5 ml per kg mix"),
        ("2,5 % of mix", "2.5 % of mix"),
        ("3 percent of the mix", "3 % of mix"),
        ("5 g for 6 eggs", "5 g per 6 eggs"),
        ("5 ml/2 eggs", "5 ml per 2 eggs"),
        ("5 ml per 500 g mix", "5 ml per 0.5 kg mix"),
        ("5 ml per 250 grams of dry mix", "5 ml per 0.25 kg mix"),
        ("None", "none"),
    ],
)
def test_an_everyday_dose_with_one_meaning_is_read(text: str, meaning: str) -> None:
    assert str(parse_dose(text)) == meaning


@pytest.mark.parametrize(
    "text",
    [
        "1,500 g",
        "12,500 g",
        "5 T",
        "5 gr",
        "1 3 g",
        "1/2/3 g",
        "1/0 g",
        "4 oz 1 lb",
        "1 lb 20 oz",
        "1 kg 5 oz",
        "1:30 g",
    ],
)
def test_a_form_with_two_meanings_or_none_is_refused(text: str) -> None:
    with pytest.raises(AmountError):
        parse_amount(text, "mass", "volume")


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("30 ml per kg bait", "30 ml per kg bait"),
        ("30ml/kg of bait", "30 ml per kg bait"),
        ("½ oz per 2 lb baits", "0.5 oz per 2 lb bait"),
    ],
)
def test_a_dose_of_finished_bait_is_read(text: str, meaning: str) -> None:
    assert str(parse_soak(text)) == meaning


def test_a_dose_of_finished_bait_in_the_bowl_is_answered_with_its_key() -> None:
    with pytest.raises(AmountError) as caught:
        parse_dose("30 ml per kg bait")
    assert caught.value.hint == (
        "soak: 30 ml per kg bait, for finished bait, under soak in the recipe or in additives.yaml"
    )


@pytest.mark.parametrize("text", ["30 ml per egg", "30 ml per kg", "0 ml per kg bait", "3 %", ""])
def test_what_is_no_dose_of_finished_bait_is_refused(text: str) -> None:
    with pytest.raises(AmountError):
        parse_soak(text)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("a pinch", "weigh ten of them once and write a tenth: 0.3 g per egg"),
        ("2 pinches per kg mix", "weigh ten of them once and write a tenth: 0.3 g per kg mix"),
        ("1 knife tip per egg", "weigh ten of them once and write a tenth: 0.3 g per egg"),
        ("a few drops per 2 eggs", "count them: 3 drops per 2 eggs"),
    ],
)
def test_a_dose_by_feel_is_answered_with_what_to_write(text: str, hint: str) -> None:
    with pytest.raises(AmountError) as caught:
        parse_dose(text)
    assert (caught.value.code, caught.value.hint) == ("by-feel", hint)
    parse_dose(hint.partition(": ")[2])


@pytest.mark.parametrize("text", ["5ml/kg", "5 ml / kg", "5 ml each kg"])
def test_a_dose_for_a_kilo_asks_of_what(text: str) -> None:
    with pytest.raises(AmountError) as caught:
        parse_dose(text)
    assert caught.value.hint is not None
    assert "dry mix" in caught.value.hint
    assert "finished bait" in caught.value.hint


NUMBERS = st.sampled_from(
    ["1,5", "1,500", "1.300,5", "½", "3/4", "12", "0,25", "1 1/2", ".5", "1e3"]
)
UNITS = st.sampled_from(
    [
        "g",
        "gr",
        "grams",
        "T",
        "mmm",
        "kgg",
        "cl",
        "dl",
        "ml",
        "mll",
        "drops",
        "l",
        "tl",
        "pinch",
    ]
)
PER = st.sampled_from(
    ["", " per egg", "/egg", "/kg", " per kg", " for 6 eggs", " per kilo mix", " each"]
)


@given(NUMBERS, UNITS, PER)
def test_a_hint_with_one_answer_is_no_error_itself(number: str, unit: str, per: str) -> None:
    text = f"{number} {unit}{per}"
    try:
        parse_dose(text) if per else parse_amount(text, "mass", "volume")
    except AmountError as error:
        hint = error.hint or ""
    else:
        return
    if one := meant(hint):
        answer = f"{number} {one}{per}" if per else f"{number} {one}"
    elif found := re.fullmatch(r"nothing between thousands: ([0-9.]+)", hint):
        answer = f"{found[1]} {unit}{per}"
    elif (
        re.fullmatch(r"[0-9.]+ [a-z]+(?: per .*)?", hint) and " or " not in hint and "," not in hint
    ):
        answer = hint.partition(" if ")[0]
    else:
        return
    try:
        if per:
            parse_dose(answer)
        else:
            parse_amount(answer, "mass", "volume")
    except AmountError as error:  # another thing may be wrong beside it, never the same one
        assert error.code != "unknown-unit" or not meant(hint)
        assert error.message != f"'{answer}' is not an amount"


def hint_of(text: str, *, hours: bool = False) -> str | None:
    with pytest.raises(AmountError) as caught:
        parse_number(text, hours=hours)
    return caught.value.hint


@pytest.mark.parametrize(
    ("text", "hint"),
    [("1 h 30 min", "1.5"), ("45 min", "0.75"), ("2h15", "2.25"), ("1 h 3 m", "1.05")],
)
def test_a_time_where_hours_are_counted_is_turned_into_hours(text: str, hint: str) -> None:
    assert hint_of(text, hours=True) == f"in hours: {hint}"
    assert "in hours" not in (hint_of(text) or "")


def test_a_question_mark_is_answered_with_what_to_write_for_it() -> None:
    for text, begins in (("?", "your own figure for the ?"), ("a lot", "a number and a unit")):
        with pytest.raises(AmountError) as caught:
            parse_amount(text, "mass")
        assert caught.value.hint
        assert caught.value.hint.startswith(f"{begins}, as in ")


@pytest.mark.parametrize("text", ["2 handfuls", "1 pinch"])
def test_what_goes_by_feel_is_to_be_weighed_once(text: str) -> None:
    with pytest.raises(AmountError) as caught:
        parse_amount(text, "mass")
    assert caught.value.hint == "weigh it once, and write it in g"


@pytest.mark.parametrize(
    ("g", "words"), [(999, "999 g"), (1000, "1 kg"), (12.34, "12.3 g"), (14239, "14.2 kg")]
)
def test_a_mass_in_a_sentence_is_in_kilos_from_a_kilo_on(g: float, words: str) -> None:
    assert mass_in_words(g) == words
