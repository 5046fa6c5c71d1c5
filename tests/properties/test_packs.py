"""What holds of every pack cover, whatever the need and the packs."""

from __future__ import annotations

from fractions import Fraction
from unittest.mock import patch

from hypothesis import given
from hypothesis import strategies as st

import eggfold.engine.packs
from eggfold.engine.packs import Pack, PackRow, cover, tabled_cover
from eggfold.load.shelf import Stock, parse_stock

POUND = Fraction("453.59237")

grams = st.integers(1, 200).map(lambda n: Fraction(n * 25))
ounces = st.integers(1, 400).map(lambda n: n * POUND / 16)
prices = st.none() | st.integers(0, 5000)
packs_sold = st.lists(st.builds(Pack, grams | ounces, prices), min_size=1, max_size=6)
needs = st.fractions(min_value=0, max_value=40_000, max_denominator=1000)


def usable(packs: list[Pack]) -> list[int]:
    """Return which packs may be bought: those with a price, or all where none has one."""
    priced = [i for i, pack in enumerate(packs) if pack.price is not None]
    return priced or list(range(len(packs)))


def amount(counts: tuple[int, ...], packs: list[Pack]) -> Fraction:
    return sum((n * p.size for n, p in zip(counts, packs, strict=True)), Fraction(0))


def cost(counts: tuple[int, ...], packs: list[Pack]) -> int:
    return sum(n * (p.price or 0) for n, p in zip(counts, packs, strict=True))


@given(needs, packs_sold)
def test_the_need_is_covered_and_no_pack_can_be_dropped(need: Fraction, packs: list[Pack]) -> None:
    counts = cover(need, packs)
    total = amount(counts, packs)
    assert total >= need
    assert all(total - p.size < need for n, p in zip(counts, packs, strict=True) if n)
    assert {i for i, n in enumerate(counts) if n} <= set(usable(packs))


@given(needs, st.fractions(min_value=0, max_value=40_000, max_denominator=1000), packs_sold)
def test_more_in_hand_never_costs_more(need: Fraction, more: Fraction, packs: list[Pack]) -> None:
    assert cost(cover(need - more, packs), packs) <= cost(cover(need, packs), packs)


@given(needs, packs_sold, st.sampled_from([Fraction(1000), Fraction(1, 1000), POUND, 1 / POUND]))
def test_the_unit_changes_nothing(need: Fraction, packs: list[Pack], unit: Fraction) -> None:
    """Grams or kilos, kilos or pounds: the same packs."""
    elsewhere = [Pack(pack.size * unit, pack.price) for pack in packs]
    assert cover(need * unit, elsewhere) == cover(need, packs)


@given(st.integers(1, 6000), st.dictionaries(st.integers(1, 40), st.integers(0, 300), min_size=1))
def test_tables_and_search_agree_to_the_last_tie(need: int, sold: dict[int, int]) -> None:
    rows = [PackRow(size, price, i) for i, (size, price) in enumerate(sold.items())]
    counts = tabled_cover(need, rows)
    packs = [Pack(Fraction(size), price) for size, price in sold.items()]
    assert tuple(counts[i] for i in range(len(rows))) == cover(Fraction(need), packs)


@given(st.permutations(range(4)), st.lists(st.builds(Pack, grams, prices), min_size=4, max_size=4))
def test_the_order_of_the_packs_changes_nothing(order: list[int], packs: list[Pack]) -> None:
    need = Fraction(7300)
    counts, shuffled = cover(need, packs), cover(need, [packs[i] for i in order])
    assert amount(counts, packs) == amount(shuffled, [packs[i] for i in order])
    assert cost(counts, packs) == cost(shuffled, [packs[i] for i in order])


@given(needs, packs_sold)
def test_a_search_given_up_changes_nothing(need: Fraction, packs: list[Pack]) -> None:
    """Kilos and pounds too, which have tables of their own."""
    with patch.object(eggfold.engine.packs, "MOST_STEPS", 0):
        counts = cover(need, packs)
    assert counts == cover(need, packs)


units = st.sampled_from(["g", "kg", "mg", "oz", "lb", "ml", "l", "piece"])


@given(st.integers(0, 10**6), st.integers(0, 3), units)
def test_stock_reads_back_what_it_writes(digits: int, decimals: int, unit: str) -> None:
    number = Fraction(digits, 10 ** (0 if unit == "piece" else decimals))
    assert parse_stock(str(Stock(number, unit))) == Stock(number, unit)
