"""Whole packs that cover a need, through tables of every total: for the needs a search is too slow for.

Sizes are whole numbers here. Those with a coarse common divisor form a family (kilograms one, pounds
another); a family's table holds the cheapest way to each total in steps of that divisor.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

LONGEST_TABLE = 2_000_000
"""Most entries of a table."""
FINEST_STEP = 10_000
"""Most steps in the smallest size of a family. Both limits were found by timing; they change how long
the answer takes, never the answer."""

NEVER = 1 << 200
"""The price of a total that no packs come to."""


class PackRow(NamedTuple):
    """A kind of pack: a whole size, its price, and its place among the caller's packs."""

    size: int
    price: int
    at: int


class _Family(NamedTuple):
    """Kinds and the greatest common divisor of their sizes."""

    step: int
    kinds: tuple[PackRow, ...]


class _Table(NamedTuple):
    """For each total in steps: price and count of the best packs, and the best total from there up."""

    family: _Family
    base: int
    """A price weighs this much against one pack, more than there can be packs."""
    keys: list[int]
    best_from: list[int]


def tabled_cover(need: int, rows: Sequence[PackRow]) -> dict[int, int]:
    """Return how many of each pack to buy, as ``cover`` does, in time that only the need bounds.

    ``table[t] = min over kinds of table[t - size] + (price, 1)``, the cheapest and then fewest packs of
    a total t [1]_; the answer is the total from the need up that is cheapest, then least.

    Parameters
    ----------
    need : int
        What is to be covered, above 0.
    rows : sequence of PackRow
        Kinds of different sizes above 0 in the unit of the need, prices from 0.

    Returns
    -------
    dict of int to int
        The count by the place of the pack.

    Notes
    -----
    The totals of all families but the last are tried one by one. Two families, as kilograms and pounds,
    take time in proportion to the need; three, with millilitres and both kinds of fluid ounce, to its
    square.

    Examples
    --------
    >>> tabled_cover(9200, [PackRow(1000, 0, 0), PackRow(2500, 0, 1)])
    {1: 3, 0: 2}

    References
    ----------
    .. [1] Kellerer, H., Pferschy, U. and Pisinger, D., "Knapsack problems", 2004, ch. 8
       (dynamic programming for the unbounded problem).
    """
    tables = [_table(family, need, rows) for family in _families(need, rows)]
    tables.sort(key=lambda table: len(table.keys))
    least: tuple[int, int] | None = None
    splits: list[tuple[int, ...]] = []
    for key, split in _splits(need, tables):
        price, count = divmod(key, tables[0].base)
        total = sum(steps * table.family.step for steps, table in zip(split, tables, strict=True))
        order = (price, total * tables[0].base + count)
        if least is None or order < least:
            least, splits = order, []
        if order == least:
            splits.append(split)
    larger = [row.at for row in sorted(rows, reverse=True)]
    covers = [_packs_of(tables, split) for split in splits]
    return max(covers, key=lambda counts: [counts[at] for at in larger])


def _families(need: int, rows: Sequence[PackRow]) -> list[_Family]:
    """Put each kind into the family that keeps the coarsest divisor, or into one of its own."""
    families: list[_Family] = []
    for row in sorted(rows, reverse=True):
        steps = [_joint_step(family, row, need) for family in families]
        coarsest = max(steps, default=0)
        if not coarsest:
            families.append(_Family(row.size, (row,)))
        else:
            at = steps.index(coarsest)
            families[at] = _Family(coarsest, (*families[at].kinds, row))
    return families


def _joint_step(family: _Family, row: PackRow, need: int) -> int:
    """Return the divisor of a family with one kind more, 0 where its table would be too fine."""
    step = math.gcd(family.step, row.size)
    longest = max(need, family.kinds[0].size) // LONGEST_TABLE
    return step if step > max(longest, row.size // FINEST_STEP) else 0


def _table(family: _Family, need: int, rows: Sequence[PackRow]) -> _Table:
    """Return the table of a family up to the largest total a best cover can have."""
    step = family.step
    base = need // min(row.size for row in rows) + len(rows) + 1
    length = -(-need // step) + family.kinds[0].size // step
    keys = [0, *[NEVER] * (length - 1)]
    for row in family.kinds:
        size, own = row.size // step, row.price * base + 1
        for total in range(size, length):
            key = keys[total - size] + own
            if key < keys[total]:  # noqa: PLR1730 - min() takes twice as long here
                keys[total] = key
    best_from = list(range(length))
    best = length - 1
    for total in reversed(range(length)):
        if keys[total] // base <= keys[best] // base:
            best = total
        best_from[total] = best
    return _Table(family, base, keys, best_from)


def _splits(need: int, tables: Sequence[_Table]) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Yield ways to share the need among the families: price and count, and steps of each."""
    table = tables[0]
    step = table.family.step
    if len(tables) == 1:
        steps = table.best_from[max(0, -(-need // step))]
        yield table.keys[steps], (steps,)
        return
    for steps, key in enumerate(table.keys):
        if key >= NEVER:
            continue
        for rest_key, rest in _splits(need - steps * step, tables[1:]):
            yield key + rest_key, (steps, *rest)


def _packs_of(tables: Sequence[_Table], split: Sequence[int]) -> dict[int, int]:
    """Return the packs behind each family's total, of equal ones the larger."""
    counts: dict[int, int] = {}
    for table, total in zip(tables, split, strict=True):
        left = total
        for row in table.family.kinds:
            size, own = row.size // table.family.step, row.price * table.base + 1
            count = 0
            while left >= size and table.keys[left - size] + own == table.keys[left]:
                left -= size
                count += 1
            counts[row.at] = count
    return counts
