"""How a sum is written: numbers put in with seven digits, results with five, signs as by hand.

Between two equals signs stand numbers and signs alone, so that every sum can be typed as it stands.
"""

from __future__ import annotations

from collections.abc import Iterable

from eggfold.pages.figures import number_text

PUT_DIGITS = 7
GOT_DIGITS = 5

NO_SUM = "not from a sum"


def put(value: float) -> str:
    """Return a number that goes into a sum."""
    return number_text(value, PUT_DIGITS)


def got(value: float) -> str:
    """Return what a sum gives, with as many digits as the numbers put in bear."""
    return number_text(value, GOT_DIGITS)


def fine(value: float, decimals: int = 4) -> str:
    """Return what a difference of near numbers gives, to so many decimals."""
    text = f"{value:.{decimals}f}"
    return text if float(text) else "0"


def added(terms: Iterable[str]) -> str:
    """Return terms with plus signs between."""
    return " + ".join(terms)


def without_sum(what: str, value: str, how: str) -> str:
    """Return the line of a figure that comes from a table, a search or a series."""
    return f"{what}: {value}, {NO_SUM}: {how}"
