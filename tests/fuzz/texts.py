"""One value as a text: it reads as what it means, or is refused with a code that the docs explain."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import TYPE_CHECKING, Any, get_args

from eggfold.amounts import (
    Amount,
    AmountError,
    Dimension,
    DoseText,
    parse_amount,
    parse_dose,
    parse_number,
)
from eggfold.load.fields import parse_date, parse_moment, parse_time
from eggfold.load.shelf import Stock, parse_day, parse_price, parse_stock
from eggfold.recipe.asked import parse_egg
from eggfold.units import amount_in
from running import ROOT

if TYPE_CHECKING:
    from collections.abc import Callable

CODES = frozenset(
    re.findall(r"^## ([a-z0-9-]+)$", (ROOT / "docs" / "errors.md").read_text("utf-8"), re.MULTILINE)
)
DIMENSIONS: tuple[Dimension, ...] = get_args(Dimension)
BASES: dict[Dimension, str] = {
    "mass": "g",
    "volume": "ml",
    "length": "mm",
    "time": "s",
    "temperature": "degC",
    "density": "g/ml",
    "power": "kW",
    "share": "%",
}
WRITTEN_DIGITS = 1e-14
"""An amount is written with 15 digits: what is read of it again is this near, relatively."""


def read_amounts(data: bytes) -> None:
    """Any text is an amount, a dose, a number, a stock, a price and a day, or not one: no more."""
    text = data.decode("utf-8", "replace")
    readers: list[Callable[[str], Any]] = [parse_dose, parse_stock]
    readers.append(lambda t: parse_amount(t, "mass", "volume"))
    readers += [lambda t, d=d: parse_amount(t, d) for d in DIMENSIONS]  # type: ignore[misc]
    for read in readers:
        if (value := _read(read, text)) is not None:
            _assert_reads_back(read, value)
    for same in (parse_date, parse_time, parse_moment):
        if (value := _read(same, text)) is not None:
            assert same(value) == value, text
    if (price := _read(parse_price, text)) is not None:
        assert parse_price(f"{price:f}") == price, text
    if (number := _read(parse_number, text)) is not None:
        assert 0 <= number < math.inf, text
        assert math.isclose(
            number, float(Fraction("".join(text.split()).replace(",", "."))), rel_tol=1e-15
        )
    _read(parse_day, text)
    try:
        egg = parse_egg(text)
    except AmountError:
        return
    assert egg.standard or (egg.each_g and 5 <= egg.each_g <= 250), text


def _read(read: Callable[[str], Any], text: str) -> Any:
    try:
        return read(text)
    except AmountError as error:
        assert error.code in CODES, error.code
        assert error.message, text
        assert "\n" not in (error.hint or ""), text
        return None


def _assert_reads_back(read: Callable[[str], Any], value: Amount | DoseText | Stock) -> None:
    written = str(value)
    again = read(written)
    assert str(again) == written, written
    if isinstance(value, Stock):
        assert again == value, written
    elif isinstance(value, Amount):
        _assert_same(value, again)
    elif value.amount is not None:
        assert again.amount is not None
        assert again.basis == value.basis, written
        assert math.isclose(again.per, value.per, rel_tol=WRITTEN_DIGITS), written
        _assert_same(value.amount, again.amount)


def _assert_same(value: Amount, again: Amount) -> None:
    assert again.unit == value.unit
    assert math.isclose(again.value, value.value, rel_tol=WRITTEN_DIGITS), (value, again)
    base = BASES[value.dimension]
    first, second = (amount_in(one, base, "us") for one in (value, again))
    assert math.isfinite(first)
    assert math.isclose(first, second, rel_tol=1e-11, abs_tol=1e-9), (value, again)
