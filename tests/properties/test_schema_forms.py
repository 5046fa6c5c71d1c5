"""What the program reads, an editor that has the schema lets stand."""

from __future__ import annotations

from typing import Annotated, Any

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from eggfold.amounts import SPELLED_OUT, UNITS
from eggfold.load.bench import BenchFile, Pace
from eggfold.load.eggs import Eggs, TrialEggs
from eggfold.load.fields import (
    BoilTime,
    Date,
    Density,
    Diameter,
    Dose,
    Moment,
    TimeOfDay,
    a_share,
    a_whole,
)
from eggfold.load.plan import HoursADay
from eggfold.load.recipe import BagMass
from eggfold.load.shelf import Price, StockAmount

NUMBERS = st.sampled_from(["2", "0.5", "0,5", "1,25", "½", "1½", "1 ½", "1/2", "1 1/2", "12"])
SPELLINGS = st.sampled_from(
    [*(unit for units in UNITS.values() for unit in units), *SPELLED_OUT, "none", "per hour"]
)
ENDINGS = st.sampled_from(["", "s", "."])
CASES = st.sampled_from([str, str.upper, str.capitalize])
GAPS = st.sampled_from(["", " ", "  "])
AMOUNTS = st.builds(
    lambda number, gap, unit, end, case: f"{number}{gap}{case(unit + end)}",
    NUMBERS,
    GAPS,
    SPELLINGS,
    ENDINGS,
    CASES,
)
PER = st.sampled_from(
    [
        "/egg",
        " / egg",
        " an egg",
        " each egg",
        " per 2 eggs",
        " for 6 eggs",
        "/kg mix",
        " per kg of dry mix",
        " per kilo mix",
        " per 500 g mix",
        " per lb mix",
        " of mix",
    ]
)
SHARE = Annotated[float, a_share(0, 100, bare=True)]


def is_read(field: Any, text: str) -> bool:
    try:
        TypeAdapter(field).validate_python(text)
    except ValidationError:
        return False
    return True


def marks(field: Any, text: str) -> bool:
    schema = TypeAdapter(field).json_schema()
    return not jsonschema.Draft202012Validator(schema).is_valid(text)


FIELDS = st.sampled_from([BagMass, StockAmount, Diameter, BoilTime, Density, SHARE])


@given(field=FIELDS, text=AMOUNTS)
def test_an_amount_that_is_read_is_not_marked(field: Any, text: str) -> None:
    assert not (is_read(field, text) and marks(field, text))


@given(AMOUNTS, PER)
def test_a_dose_that_is_read_is_not_marked(amount: str, per: str) -> None:
    assert not (is_read(Dose, amount + per) and marks(Dose, amount + per))


@pytest.mark.parametrize(
    ("field", "text"),
    [
        (BagMass, "1 lb 4 oz"),
        (BoilTime, "None"),
        (BoilTime, "1 min 30 s"),
        (Dose, "3 percent of the mix"),
        (Date, "2026/3/1"),
        (Date, "2026.03.01"),
        (TimeOfDay, "9.30"),
        (TimeOfDay, "9 a.m."),
        (Moment, "2026-03-14, 9:00"),
        (Moment, "2026-03-14T09:00"),
        (HoursADay, "09:00-17:00"),
        (HoursADay, "from 9am to 5pm"),
        (HoursADay, "8 hours"),
        (TrialEggs, "2"),
        (TrialEggs, "two large EU eggs"),
        (TrialEggs, "12x eu-large"),
        (TrialEggs, "XL eu"),
        (StockAmount, "30 eggs"),
        (StockAmount, "12"),
        (Price, "24 EUR"),
        (Price, "€24"),
        (Price, "2,5"),
        (Pace, "1.5 kg/h"),
        (Annotated[int, a_whole(1, 100, "egg")], "10 Eggs"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_an_everyday_form_is_read_and_not_marked(field: Any, text: str) -> None:
    assert is_read(field, text)
    assert not marks(field, text)


@pytest.mark.parametrize(
    ("model", "key", "text"),
    [(Eggs, "grade", "extra-large"), (Eggs, "standard", "UK"), (BenchFile, "people", "2")],
)
def test_a_word_may_be_written_in_any_case(model: Any, key: str, text: str) -> None:
    schema = model.model_json_schema()["properties"][key]
    assert jsonschema.Draft202012Validator(schema).is_valid(text)


@pytest.mark.parametrize(
    ("field", "text"),
    [(BagMass, "130"), (BagMass, "130 ml"), (Dose, "5 ml per kg"), (Date, "27.03.2027")],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_check_refuses_is_marked(field: Any, text: str) -> None:
    assert not is_read(field, text)
    assert marks(field, text)
