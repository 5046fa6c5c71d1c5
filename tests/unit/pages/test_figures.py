"""Figures where their digits change: prices around one and below."""

from __future__ import annotations

from fractions import Fraction

import pytest

from eggfold.pages.figures import price_text


@pytest.mark.parametrize(
    ("price", "text"),
    [
        ("0", "0.00"),
        ("0.01234", "0.0123"),
        ("0.02", "0.02"),
        ("0.3", "0.30"),
        ("0.1234", "0.123"),
        ("0.9996", "1.00"),
        ("1", "1.00"),
        ("12.346", "12.35"),
    ],
)
def test_a_price_has_two_decimals_at_least(price: str, text: str) -> None:
    assert price_text(Fraction(price), "EUR") == f"{text} EUR"
