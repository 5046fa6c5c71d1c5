"""What stands over a list of what to buy: its cost where that is known, and nothing where it is not."""

from __future__ import annotations

from decimal import Decimal

import pytest

from eggfold.pages.shopping import buy_heading, unpriced_remarks
from eggfold.stock.shopping import Total


@pytest.mark.parametrize(
    ("currency", "cost", "unpriced", "heading"),
    [
        ("EUR", "12.50", (), "BUY  whole packs for 12.50 EUR in all"),
        ("EUR", "12.50", ("Salt",), "BUY  whole packs for at least 12.50 EUR in all"),
        ("EUR", "0.00", (), "BUY  whole packs for 0.00 EUR in all"),
        ("EUR", "0.00", ("Salt",), "BUY"),
        ("EUR", None, (), "BUY"),
        (None, "0.00", (), "BUY"),  # a shelf without prices, from which nothing lacks
        (None, None, ("Salt",), "BUY"),
    ],
)
def test_a_heading_tells_a_cost_that_is_known(
    currency: str | None, cost: str | None, unpriced: tuple[str, ...], heading: str
) -> None:
    total = Total(currency, None if cost is None else Decimal(cost), unpriced)
    assert buy_heading(total, " in all") == heading


@pytest.mark.parametrize(
    ("currency", "cost", "unpriced", "remarks"),
    [
        (
            "EUR",
            "12.50",
            ("Salt", "Honey", "Salt"),
            ["No price known, not in the sum: Salt, Honey."],
        ),
        ("EUR", "0.00", ("Salt",), ["No price known: Salt."]),
        ("EUR", "12.50", (), []),
        ("EUR", None, ("Salt",), []),
        (None, "0.00", ("Salt",), []),
    ],
)
def test_what_has_no_price_is_named_beside_a_cost(
    currency: str | None, cost: str | None, unpriced: tuple[str, ...], remarks: list[str]
) -> None:
    total = Total(currency, None if cost is None else Decimal(cost), unpriced)
    assert list(unpriced_remarks(total)) == remarks
