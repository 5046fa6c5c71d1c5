from __future__ import annotations

import pytest

from eggfold.amounts import AmountError
from eggfold.load.fields import parse_date, parse_moment, parse_time


def test_a_day_without_a_time_is_told_how_to_go_on() -> None:
    with pytest.raises(AmountError, match="'2026-05-02' has no time of day") as raised:
        parse_moment("2026-05-02")
    assert raised.value.hint == "2026-05-02 09:00"


@pytest.mark.parametrize("text", ["9:00", "some\nday", "x" * 1000])
def test_what_is_no_day_is_not_offered_as_one(text: str) -> None:
    with pytest.raises(AmountError) as raised:
        parse_moment(text)
    assert raised.value.code == "not-a-date"
    assert raised.value.hint == "year first, as in 2026-03-14 09:00"


@pytest.mark.parametrize("text", ["1899-12-31", "3000-01-01", "9999-12-30"])
def test_a_year_is_one_that_a_plan_can_have(text: str) -> None:
    with pytest.raises(AmountError, match=f"{text} is too far away") as raised:
        parse_moment(f"{text} 09:00")
    assert raised.value.hint == "a year from 1900 to 2999"


@pytest.mark.parametrize("text", ["1900-01-01", "2999-12-31"])
def test_the_first_and_the_last_day_can_be_written(text: str) -> None:
    assert parse_moment(f"{text} 9:00") == f"{text} 09:00"


@pytest.mark.parametrize(
    ("text", "time"),
    [
        ("1 am", "01:00"),
        ("12 am", "00:00"),
        ("12.30 pm", "12:30"),
        ("11 p.m.", "23:00"),
        ("9h05", "09:05"),
        ("0:00", "00:00"),
        ("23:59", "23:59"),
    ],
)
def test_a_time_of_day_is_read_as_clocks_say_it(text: str, time: str) -> None:
    assert parse_time(text) == time


@pytest.mark.parametrize("text", ["24:00", "23:60", "13 pm", "0 am"])
def test_a_time_that_no_clock_says_is_none(text: str) -> None:
    with pytest.raises(AmountError, match=f"there is no {text}"):
        parse_time(text)


@pytest.mark.parametrize(
    ("day", "is_one"),
    [
        ("2024-02-29", True),
        ("2026-02-29", False),
        ("2100-02-29", False),  # no leap year; 2000 was one
        ("2000-02-29", True),
        ("2026-04-30", True),
        ("2026-04-31", False),
        ("2026-12-31", True),
        ("2026-13-01", False),
    ],
)
def test_a_day_is_one_of_the_calendar(day: str, *, is_one: bool) -> None:
    if is_one:
        assert parse_date(day) == day
    else:
        with pytest.raises(AmountError):
            parse_date(day)
