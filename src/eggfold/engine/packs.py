"""Whole packs at least cost: every cover of a need is searched, and one kind of table keeps it short."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from eggfold.records import NamedTuple


class Pack(NamedTuple):
    """What one pack holds, in one unit for all packs, and its price in the smallest coin."""

    size: Fraction
    price: int | None = None


class PackRow(NamedTuple):
    """A kind of pack: a whole size, its price, and its place among the caller's packs."""

    size: int
    price: int
    at: int


class _PackKind(NamedTuple):
    """A kind of pack in whole units, with what the search knows of it and of the kinds after it."""

    size: int
    price: int
    at: int
    """Which pack this is in the caller's order."""
    weight: int
    """What one of it counts where larger packs break a tie."""
    most: int
    """No best cover holds more of it than this."""
    step: int
    """Greatest common divisor of this kind and those after it."""
    largest: int
    """Size of the largest of this kind and those after it."""


Key = tuple[int, int, int, int]
"""What covers are compared by: price, what is over, count, and how small the packs are."""
NEVER = 1 << 200
"""The price of a total that no packs come to."""

MOST_STEPS = 10_000
"""Steps of a search after which the tables are quicker; found by timing, no answer depends on it."""


def cover(need: Fraction, packs: Sequence[Pack]) -> tuple[int, ...]:
    """Return how many of each pack to buy so that the need is covered.

    Of all counts ``x`` with ``sum(x size) >= need`` the one that comes first by [1]_::

        sum(x price), then sum(x size) - need, then sum(x), then the larger packs

    Packs without a price are bought only where none has one; then the first criterion falls away.

    Parameters
    ----------
    need : Fraction
        What is to be covered, in the unit of the sizes; nothing is bought for 0 or less.
    packs : sequence of Pack
        What is sold, sizes above 0, prices from 0 in the smallest coin.

    Returns
    -------
    tuple of int
        How many of each pack, in the order given.

    Raises
    ------
    ValueError
        If there is a need and no pack.

    Notes
    -----
    Sizes become whole numbers of their greatest common divisor, so kilograms and pounds mix without
    rounding. The search goes kind by kind, the cheapest per unit first, and leaves a branch when its
    lower bounds (the rest at the best unit price left; the overshoot by the divisor of the sizes left;
    the count with the largest size left) cannot beat the best cover found, or when another branch
    reached the same rest as well or better. A search that grows too long is given up for tables of all
    totals (tabled_cover), which give the same answer.

    What keeps large needs small: let pack i be no dearer per unit than pack j, and larger or strictly
    cheaper per unit. Then ``size_i/g`` packs j, with g = gcd(size_i, size_j), hold as much as
    ``size_j/g`` packs i, which cost less, or the same in fewer packs. So a best cover holds fewer than
    ``size_i/g`` packs j, whatever the need. In the same way some of any ``size_b/g`` packs (g now the
    divisor of all sizes) hold a multiple of the pack b that is cheapest per unit: of a large need all
    but less than ``size_b/g max(size)`` is that pack.

    Examples
    --------
    >>> kilo, five, pound = Fraction(1000), Fraction(5000), Fraction(45359237, 100000)
    >>> cover(Fraction(9200), [Pack(kilo, 700), Pack(five, 2900)])
    (0, 2)
    >>> cover(Fraction(8000), [Pack(kilo, 700), Pack(five, 2900)])
    (3, 1)
    >>> cover(Fraction(1300), [Pack(kilo), Pack(pound)])
    (0, 3)

    References
    ----------
    .. [1] Kellerer, H., Pferschy, U. and Pisinger, D., "Knapsack problems", 2004, ch. 8
       (unbounded knapsack, dominance) and ch. 5 (branch and bound).
    """
    if need <= 0:
        return (0,) * len(packs)
    if not packs:
        raise ValueError(need)
    rows, whole_need = _whole_rows(need, packs)
    best, sure = _sure_packs(rows, whole_need)
    rest = whole_need - sure * best.size
    bought = {best.at: sure}
    if rest > 0:
        found = _Search(_described(rows, rest), rest).best_counts() or tabled_cover(rest, rows)
        bought = found | {best.at: found[best.at] + sure}
    return tuple(bought.get(at, 0) for at in range(len(packs)))


def _sure_packs(rows: list[PackRow], need: int) -> tuple[PackRow, int]:
    """Return the pack with the best price per unit, and how many of it a best cover surely holds.

    Of as many others as it has units, some hold a multiple of it together and are better bought as
    that: so a best cover holds fewer others than that, and the rest of the need is this pack.
    """
    best, *others = sorted(rows, key=_by_unit_price)
    most_others = best.size * max((row.size for row in others), default=0)
    return best, max(0, -(-(need - most_others) // best.size))


def _by_unit_price(row: PackRow) -> tuple[Fraction, int]:
    return Fraction(row.price, row.size), -row.size


def _whole_rows(need: Fraction, packs: Sequence[Pack]) -> tuple[list[PackRow], int]:
    """Return the packs worth looking at, their sizes in whole units, and the need in that unit."""
    priced = any(pack.price is not None for pack in packs)
    usable = [
        (p.size, p.price or 0, i) for i, p in enumerate(packs) if p.price is not None or not priced
    ]
    denominator = math.lcm(*(size.denominator for size, _, _ in usable))
    sizes = [int(size * denominator) for size, _, _ in usable]
    unit = math.gcd(*sizes)
    whole_need = -(-need.numerator * denominator // (need.denominator * unit))
    rows = _undominated(
        [PackRow(size // unit, price, i) for size, (_, price, i) in zip(sizes, usable, strict=True)]
    )
    return rows, whole_need


def _undominated(rows: list[PackRow]) -> list[PackRow]:
    """Leave out a pack where another holds as much for less, or the same for the same."""
    kept: list[PackRow] = []
    cheapest = None
    for row in sorted(rows, key=lambda r: (-r.size, r.price, r.at)):
        same = kept and kept[-1].size == row.size
        if not same and (cheapest is None or row.price <= cheapest):
            kept.append(row)
            cheapest = row.price
    return kept


def _described(rows: list[PackRow], need: int) -> list[_PackKind]:
    """Order the kinds for the search and work out what it knows of each."""
    base = need + 2  # no cover needs more packs than units
    ranks = {row: base**rank for rank, row in enumerate(sorted(rows))}
    order = sorted(rows, key=_by_unit_price)
    kinds = []
    for i, row in enumerate(order):
        rest = [size for size, _, _ in order[i:]]
        # by the exchange in cover's notes
        bounds = [better.size // math.gcd(better.size, row.size) - 1 for better in order[:i]]
        most = min([need, *bounds])
        kinds.append(_PackKind(*row, ranks[row], most, math.gcd(*rest), max(rest)))
    return kinds


class _Search:
    """Depth first through the kinds; keeps the best cover and what reached each rest best."""

    def __init__(self, kinds: list[_PackKind], need: int) -> None:
        self._kinds = kinds
        self._need = need
        self._taken = dict.fromkeys((kind.at for kind in kinds), 0)
        self._reached: list[dict[int, tuple[int, int, int]]] = [{} for _ in kinds]
        self._best: Key = (NEVER, NEVER, NEVER, NEVER)
        self._counts = self._taken.copy()
        self._steps = 0

    def best_counts(self) -> dict[int, int] | None:
        """Return the counts of the best cover by the place of each pack, None if given up."""
        self._visit(0, self._need, 0, 0, 0)
        return None if self._steps > MOST_STEPS else self._counts

    def _offer(self, key: Key) -> None:
        if key < self._best:
            self._best = key
            self._counts = self._taken.copy()

    def _visit(self, level: int, rest: int, cost: int, count: int, small: int) -> None:
        """Try every count of one kind on what is still to be covered."""
        kind = self._kinds[level]
        size, price, weight = kind.size, kind.price, kind.weight
        top = -(-rest // size)
        if level == len(self._kinds) - 1:
            self._taken[kind.at] = top
            self._offer((cost + top * price, top * size - rest, count + top, small - top * weight))
            self._taken[kind.at] = 0
            return
        for k in range(min(top, kind.most), -1, -1):
            self._steps += 1
            if self._steps > MOST_STEPS:
                return
            self._taken[kind.at] = k
            state = (cost + k * price, count + k, small - k * weight)
            left = rest - k * size
            if left <= 0:
                self._offer((state[0], -left, *state[1:]))
            elif self._too_dear(level + 1, left, state[0]):
                break  # fewer of this kind only costs more
            elif self._promising(level + 1, left, state):
                self._visit(level + 1, left, *state)
        self._taken[kind.at] = 0

    def _too_dear(self, level: int, rest: int, cost: int) -> bool:
        kind = self._kinds[level]
        return cost - (-rest * kind.price // kind.size) > self._best[0]

    def _promising(self, level: int, rest: int, state: tuple[int, int, int]) -> bool:
        """Tell whether the kinds from a level on can still beat the best cover from here."""
        reached = self._reached[level]
        before = reached.get(rest)
        if before is not None and before <= state:
            return False
        reached[rest] = state
        kind = self._kinds[level]
        cost = state[0] - (-rest * kind.price // kind.size)
        count = state[1] - (-rest // kind.largest)
        return (cost, -rest % kind.step, count) <= self._best[:3]


LONGEST_TABLE = 2_000_000
"""Most entries of a table."""
FINEST_STEP = 10_000
"""Most steps in the smallest size of a family. Both limits were found by timing; they change how long
the answer takes, never the answer."""


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
