"""Pack covers against scipy.optimize.milp (HiGHS), a general-purpose solver, criterion by criterion.

The solver works in floating point: sizes and prices here are whole numbers small enough for it to be
exact once its answer is rounded.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from eggfold.engine.packs import Pack, PackRow, cover, tabled_cover
from eggfold.reference.measures import EXACT_SIZES, MINOR_DIGITS, minor_digits
from eggfold.units import REGISTRY

Criterion = Sequence[float]

packs_sold = st.lists(
    st.tuples(st.integers(1, 60).map(lambda n: n * 50), st.integers(0, 4000)),
    min_size=1,
    max_size=6,
)
needs = st.integers(1, 30_000)


def least(objective: Criterion, limits: Sequence[tuple[Criterion, float, float]]) -> int:
    """Return the least whole value of an objective under limits on other sums."""
    constraints = [LinearConstraint(np.array([row]), low, high) for row, low, high in limits]
    solved = milp(
        c=np.array(objective),
        constraints=constraints,
        integrality=np.ones(len(objective)),
        bounds=Bounds(0, np.inf),
        options={"mip_rel_gap": 0},
    )
    assert solved.success, solved.message
    return round(float(solved.fun))


def reference(need: int, sizes: list[int], prices: list[int] | None) -> tuple[int, int, int]:
    """Return the least cost, of that the least total, of that the fewest packs."""
    top = np.inf
    limits: list[tuple[Criterion, float, float]] = [(sizes, need, top)]
    cost = least(prices, limits) if prices else 0
    if prices:
        limits.append((prices, cost, cost))
    total = least(sizes, limits)
    limits.append((sizes, total, total))
    return cost, total, least([1] * len(sizes), limits)


def found(need: int, sizes: list[int], prices: list[int] | None) -> tuple[int, int, int]:
    listed: Sequence[int | None] = prices or [None] * len(sizes)
    packs = [Pack(Fraction(size), price) for size, price in zip(sizes, listed, strict=True)]
    counts = cover(Fraction(need), packs)
    cost = sum(n * p for n, p in zip(counts, prices, strict=True)) if prices else 0
    return cost, sum(n * s for n, s in zip(counts, sizes, strict=True)), sum(counts)


@given(needs, packs_sold)
def test_priced_packs_agree_with_the_solver(need: int, sold: list[tuple[int, int]]) -> None:
    sizes, prices = [s for s, _ in sold], [p + 1 for _, p in sold]
    assert found(need, sizes, prices) == reference(need, sizes, prices)


@given(needs, packs_sold)
def test_packs_without_prices_agree_with_the_solver(need: int, sold: list[tuple[int, int]]) -> None:
    sizes = [s for s, _ in sold]
    assert found(need, sizes, None) == reference(need, sizes, None)


@given(st.integers(1, 6000), packs_sold)
def test_tables_agree_with_the_solver(need: int, sold: list[tuple[int, int]]) -> None:
    by_size = {size: price + 1 for size, price in sold}
    sizes, prices = list(by_size), list(by_size.values())
    rows = [PackRow(s, p, i) for i, (s, p) in enumerate(by_size.items())]
    counts = tabled_cover(need, rows)
    cost = sum(n * prices[i] for i, n in counts.items())
    total = sum(n * sizes[i] for i, n in counts.items())
    assert (cost, total, sum(counts.values())) == reference(need, sizes, prices)


AWKWARD = [
    (300_001, [1021, 1019, 1013, 1009, 1003, 997], None),
    (123_457, [997, 1003, 2503, 5011], [700, 703, 1700, 3390]),
    (9_999, [7, 11, 4001], [5, 9, 2900]),
    (2_940_053, [499, 1009, 9973, 24989, 5003], None),
]


@pytest.mark.parametrize(("need", "sizes", "prices"), AWKWARD)
def test_large_needs_of_awkward_sizes_agree_with_the_solver(
    need: int, sizes: list[int], prices: list[int] | None
) -> None:
    assert found(need, sizes, prices) == reference(need, sizes, prices)


def test_exact_sizes_are_those_of_the_units_file() -> None:
    """The sizes of kitchen_units.txt are checked against their sources in test_practice.py."""
    for unit, digits in EXACT_SIZES.items():
        if unit == "piece":
            continue
        base = "gram" if REGISTRY.Unit(unit).dimensionality == {"[mass]": 1} else "milliliter"
        assert float(Fraction(digits)) == pytest.approx(
            REGISTRY.Quantity(1, unit).m_as(base), 1e-14
        )


def test_minor_digits_follow_iso_4217() -> None:
    """ISO 4217 list one, minor units (from memory)."""
    assert [minor_digits(c) for c in ("EUR", "GBP", "USD", "JPY", "KWD", "eur")] == [
        2,
        2,
        2,
        0,
        3,
        2,
    ]
    assert set(MINOR_DIGITS.values()) == {0, 3}
