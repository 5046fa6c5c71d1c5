"""Calendar months on a label, against published examples."""

from __future__ import annotations

from datetime import date

import pytest

from eggfold.recipe.labels import months_after


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [
        # python-dateutil, relativedelta documentation: the same day of the next month
        ("2003-09-17", 1, "2003-10-17"),
        # python-dateutil, shown on the Python tutor list, 6 Feb 2007: the last day where it is short
        ("2005-01-31", 1, "2005-02-28"),
        # worked out from the calendar: a leap year, the end of a year, a year, five years
        ("2023-08-31", 6, "2024-02-29"),
        ("2026-08-31", 6, "2027-02-28"),
        ("2026-07-31", 6, "2027-01-31"),
        ("2026-05-31", 6, "2026-11-30"),
        ("2024-02-29", 12, "2025-02-28"),
        ("2026-12-31", 60, "2031-12-31"),
    ],
)
def test_months_end_on_the_same_day_or_the_last(day: str, months: int, later: str) -> None:
    assert months_after(date.fromisoformat(day), months) == date.fromisoformat(later)
