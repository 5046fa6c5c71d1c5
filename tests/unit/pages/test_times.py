"""Times near midnight: the day and the time of a moment are told of one and the same minute."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from eggfold.pages.figures import day_text, full_day_text, moment_text, time_on_text, time_text

LATE = datetime(2027, 3, 27, 23, 59, 45, tzinfo=UTC)
NEW_YEAR = datetime(2027, 12, 31, 23, 59, 30, tzinfo=UTC)
NOT_YET = datetime(2027, 3, 27, 23, 59, 29, tzinfo=UTC)


@pytest.mark.parametrize("moment", [LATE, NEW_YEAR, NOT_YET])
def test_day_and_time_are_those_of_the_moment(moment: datetime) -> None:
    assert f"{day_text(moment)} {time_text(moment)}" == moment_text(moment)


def test_half_a_minute_to_midnight_is_the_next_day() -> None:
    assert moment_text(LATE) == "Sun 28 Mar 00:00"
    assert full_day_text(NEW_YEAR) == "Sat 1 Jan 2028"
    assert full_day_text(NEW_YEAR.date()) == "Fri 31 Dec 2027"


def test_a_time_on_another_day_names_it() -> None:
    day = date(2027, 1, 24)
    assert time_on_text(datetime(2027, 1, 24, 17, 5, tzinfo=UTC), day) == "17:05"
    assert time_on_text(datetime(2027, 1, 25, 3, 42, tzinfo=UTC), day) == "Mon 25 Jan 03:42"
