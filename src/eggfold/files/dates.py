"""A day as a user writes it: year-month-day, kept as that text, which sorts as days do."""

from __future__ import annotations

import re
from typing import Annotated

from eggfold.amounts import AmountError
from eggfold.load.fields import Reads

_DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_OTHER_WAY = re.compile(r"(?:[0-9]{1,2}[./-])?[0-9]{1,2}[./-]([0-9]{4})")
FIRST_YEAR, LAST_YEAR = 1900, 2999
"""Years that a day may lie in: weeks before and years after it are in the calendar too."""
_MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def parse_date(text: str) -> str:
    """Read ``2026-03-01``; AmountError otherwise."""
    text = text.strip()
    match = _DAY.fullmatch(text)
    if match is None:
        turned = _OTHER_WAY.fullmatch(text)
        hint = f"{turned[1]}-MM-DD" if turned else "2026-03-01"
        raise AmountError("not-a-date", f"'{text[:40]}' is not a date", f"year first: {hint}")
    year, month, day = (int(part) for part in match.groups())
    if not (1 <= month <= 12 and 1 <= day <= _days_in(year, month)):
        raise AmountError("not-a-date", f"there is no {text}", "a day that the calendar has")
    if not FIRST_YEAR <= year <= LAST_YEAR:
        hint = f"a year from {FIRST_YEAR} to {LAST_YEAR}"
        raise AmountError("not-a-date", f"{text} is too far away to plan or to remember", hint)
    return text


def _days_in(year: int, month: int) -> int:
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    return 29 if month == 2 and leap else _MONTH_DAYS[month - 1]


Date = Annotated[str, Reads(parse_date, type="string", format="date", examples=["2026-03-01"])]
