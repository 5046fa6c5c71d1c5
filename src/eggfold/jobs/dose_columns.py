"""The columns a user asks of the dose sheet, as in ``1,2,4,6,12`` or ``1h,6f,1kg``."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from eggfold.amounts import AmountError
from eggfold.files.eggs import MOST_EGGS
from eggfold.jobs.doses import DoseColumn

if TYPE_CHECKING:
    from eggfold.files.recipe import Strength

MOST_COLUMNS = 24
MOST_KG = 10_000

_COLUMN = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,6})?) ?(kg)? ?([hf]?)")
_EXAMPLE = "1,2,4,6,12 or 1h,6f,1kg"


def parse_columns(text: str) -> tuple[DoseColumn, ...]:
    """Read a list of columns; AmountError says which part is none.

    A bare number is eggs: one egg takes the hookbait dose, more take the freebie dose. ``h`` or
    ``f`` behind it chooses the dose, ``kg`` makes it dry mix, at the freebie dose.
    """
    parts = [part.strip() for part in text.split(",", MOST_COLUMNS)]
    if len(parts) > MOST_COLUMNS:
        raise AmountError("columns", f"more than {MOST_COLUMNS} columns", "a shorter list")
    columns = tuple(_column(part) for part in parts)
    twice = next((p for i, p in enumerate(parts) if columns[i] in columns[:i]), None)
    if twice is not None:
        raise AmountError("columns", f"'{twice}' stands twice", "each column once")
    return columns


def _column(text: str) -> DoseColumn:
    match = _COLUMN.fullmatch(text)
    if match is None:
        raise AmountError("columns", f"'{text[:40]}' is no column", _EXAMPLE)
    number, kg, letter = float(match[1]), match[2], match[3]
    if kg and 0 < number <= MOST_KG:
        return DoseColumn(_strength(letter, "freebie"), None, number)
    if not kg and number == int(number) and 1 <= number <= MOST_EGGS:
        return DoseColumn(
            _strength(letter, "hookbait" if number == 1 else "freebie"), int(number), None
        )
    wanted = f"up to {MOST_KG} kg" if kg else f"whole eggs from 1 to {MOST_EGGS}"
    raise AmountError("columns", f"'{text[:40]}' is no column", wanted)


def _strength(letter: str, otherwise: Strength) -> Strength:
    if letter:
        return "hookbait" if letter == "h" else "freebie"
    return otherwise
