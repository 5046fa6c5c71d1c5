"""Pack covers against a list of every cover, so that all four criteria are seen to decide.

Prices are few, so that covers of the same price, the same total and as many packs are common.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import eggfold.engine.packs
from eggfold.engine.packs import Pack, cover

Sold = dict[int, int | None]

MANY = 500

needs = st.integers(1, 24)
sizes = st.lists(st.integers(1, 12), min_size=1, max_size=4, unique=True)
unpriced: st.SearchStrategy[Sold] = sizes.map(dict.fromkeys)
by_the_unit: st.SearchStrategy[Sold] = sizes.map(lambda listed: {size: size for size in listed})
few_prices: st.SearchStrategy[Sold] = sizes.flatmap(
    lambda listed: st.fixed_dictionaries({size: st.integers(0, 4) for size in listed})
)
many_prices: st.SearchStrategy[Sold] = sizes.flatmap(
    lambda listed: st.fixed_dictionaries({size: st.integers(0, 40) for size in listed})
)
all_sold = unpriced | by_the_unit | few_prices | many_prices


def every_cover(need: int, listed: list[int]) -> Iterator[tuple[int, ...]]:
    """Yield all counts that cover the need and cannot do without their last pack."""
    size, *others = listed
    top = max(0, -(-need // size))
    if not others:
        yield (top,)
        return
    for count in range(top + 1):
        for rest in every_cover(need - count * size, others):
            yield (count, *rest)


def listed_best(need: int, sold: Sold) -> tuple[int, ...]:
    """Return the counts that come first by price, total, number of packs and larger packs."""
    by_size = sorted(sold, reverse=True)

    def order(counts: tuple[int, ...]) -> tuple[int, int, int, list[int]]:
        pairs = list(zip(counts, by_size, strict=True))
        cost = sum(n * (sold[size] or 0) for n, size in pairs)
        return cost, sum(n * size for n, size in pairs), sum(counts), [-n for n in counts]

    first: tuple[int, ...] = min(every_cover(need, by_size), key=order)
    counts = dict(zip(by_size, first, strict=True))
    return tuple(counts[size] for size in sold)


def packs_of(sold: Sold) -> list[Pack]:
    return [Pack(Fraction(size), price) for size, price in sold.items()]


def cover_by_tables(need: int, sold: Sold, finest: int, longest: int) -> tuple[int, ...]:
    with (
        patch.object(eggfold.engine.packs, "MOST_STEPS", 0),
        patch.object(eggfold.engine.packs, "FINEST_STEP", finest),
        patch.object(eggfold.engine.packs, "LONGEST_TABLE", longest),
    ):
        return cover(Fraction(need), packs_of(sold))


@settings(max_examples=MANY)
@given(needs, all_sold)
def test_the_search_finds_the_first_of_every_cover(need: int, sold: Sold) -> None:
    assert cover(Fraction(need), packs_of(sold)) == listed_best(need, sold)


@settings(max_examples=MANY)
@given(needs, all_sold, st.sampled_from([1, 2, 4, 10_000]), st.sampled_from([3, 2**21]))
def test_so_do_the_tables_however_packs_share_them(
    need: int, sold: Sold, finest: int, longest: int
) -> None:
    """The limits of the tables were found by timing and decide only how long an answer takes."""
    assert cover_by_tables(need, sold, finest, longest) == listed_best(need, sold)


# By hand, at a price by the unit: what is cheapest fits exactly, so number and size of packs decide.
@pytest.mark.parametrize(
    ("need", "sold", "counts"),
    [
        (4, {1: 1, 2: 2, 3: 3}, (1, 0, 1)),  # 3 + 1 and 2 + 2 are two packs each
        (6, {2: 2, 3: 3, 4: 4}, (1, 0, 1)),  # 4 + 2 and 3 + 3
        (15, {1: 1, 3: 3, 7: 7, 9: 9}, (0, 2, 0, 1)),  # 9 + 3 + 3 and 7 + 7 + 1
        (6, {3: 3, 2: 2}, (2, 0)),  # two packs rather than three
        (5, {5: 7, 6: 7}, (1, 0)),  # at one price the one with less left over
        (8, {3: 30, 4: 41}, (0, 2)),  # one dear pack fewer than the cheap one has units, times two
    ],
)
def test_ties_by_hand(need: int, sold: Sold, counts: tuple[int, ...]) -> None:
    assert cover(Fraction(need), packs_of(sold)) == counts
    for finest in (1, 10_000):  # a table for each kind, and one for all
        assert cover_by_tables(need, sold, finest, 3) == counts


def test_of_two_alike_the_first_is_bought() -> None:
    assert cover(Fraction(3), [Pack(Fraction(2), 5), Pack(Fraction(2), 5)]) == (2, 0)


def test_nothing_is_bought_where_nothing_is_needed_or_sold() -> None:
    assert cover(Fraction(0), []) == ()
    assert cover(Fraction(-5), [Pack(Fraction(2), 5)]) == (0,)
    with pytest.raises(ValueError, match="1"):
        cover(Fraction(1), [])
