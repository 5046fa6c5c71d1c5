"""In which order bowls are made, and the loads of a bowl."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import permutations
from typing import NamedTuple

from eggfold.engine.flow import johnson_order
from eggfold.engine.schedule import RULES, Hours, Shop, best_run
from eggfold.engine.session import Stages, Work, session_tasks
from eggfold.engine.workplace import rolling_s

MOST_TRIES = 30_000
"""Tasks that the search for a good order may start in all; about 100 ms."""
WORTH_SHARE = 0.01
"""A change of order that saves less of the working time is not worth the reader's trouble; house default."""


class Arrangement(NamedTuple):
    """Bowls in the order in which they are made, and the loads of each, both as places."""

    bowls: tuple[int, ...]
    loads: tuple[tuple[int, ...], ...]


def arrange(works: Sequence[Work], stages: Stages, shop: Shop) -> Arrangement:
    """Return the arrangement that ends soonest in one long day, as written where that is as good.

    The loads of every bowl are tried as written, with the longest boil first, and in Johnson's
    order for table and pan [1]_. Few bowls are tried in every order, wants of several bowls as wholes;
    beyond a fixed effort only the order as written and Johnson's are compared.

    Parameters
    ----------
    works : sequence of Work
        Bowls as written.
    stages : Stages
        Times and pace.
    shop : Shop
        Stations and people.

    Returns
    -------
    Arrangement
        ``loads`` stand in the order of ``works``.

    Notes
    -----
    Johnson's order is the best for two machines; people, rests and bowls make the day more than that, so
    every order is run. In a long day without limits on trays: what fits a real day is planned after.

    Examples
    --------
    >>> from eggfold.engine.session import Load
    >>> bowl = Work((Load(500.0, 120.0, 0.1), Load(500.0, 600.0, 0.1)))
    >>> arrange([bowl], Stages(1200.0, 600.0, 600.0, 172800.0, 1.5), Shop((1, 9, 1, 1), 2))
    Arrangement(bowls=(0,), loads=((1, 0),))

    References
    ----------
    .. [1] Johnson, S. M., "Optimal two- and three-stage production schedules with setup times
       included", Naval Research Logistics Quarterly, 1954, theorem 1.
    """
    written = tuple(range(len(works)))
    variants = _load_variants(works, stages)
    best = Arrangement(written, variants[0])
    best_s = first_s = _end_s(works, best, stages, shop)
    for order in _orders(works, stages, len(variants)):
        for loads in variants:
            one = Arrangement(order, loads)
            end_s = _end_s(works, one, stages, shop)
            if end_s < best_s - WORTH_SHARE * first_s:
                best, best_s = one, end_s
    return best


def arranged(works: Sequence[Work], arrangement: Arrangement) -> tuple[Work, ...]:
    """Return bowls in an arrangement.

    Parameters
    ----------
    works : sequence of Work
        Bowls as written.
    arrangement : Arrangement
        Their order, and that of their loads.

    Returns
    -------
    tuple of Work
        The same bowls and loads.

    Notes
    -----
    A change of order and nothing else; no source.

    Examples
    --------
    >>> from eggfold.engine.session import Load
    >>> long, short = Load(500.0, 210.0, 0.06), Load(300.0, 90.0, 0.04)
    >>> [w.loads[0].paste_g for w in arranged([Work((long,)), Work((long, short))], Arrangement((1, 0), ((0,), (1, 0))))]
    [300.0, 500.0]
    """
    return tuple(
        works[i]._replace(loads=tuple(works[i].loads[j] for j in arrangement.loads[i]))
        for i in arrangement.bowls
    )


def _load_variants(works: Sequence[Work], stages: Stages) -> list[tuple[tuple[int, ...], ...]]:
    """Return the loads of all bowls as written, with the longest boil first, and by Johnson."""
    written = tuple(tuple(range(len(w.loads))) for w in works)
    longest = tuple(
        tuple(sorted(range(len(w.loads)), key=lambda i, w=w: -w.loads[i].pan_s))  # type: ignore[misc]
        for w in works
    )
    johnson = tuple(
        johnson_order((rolling_s(load.paste_g, stages.pace_kg_h), load.pan_s) for load in w.loads)
        for w in works
    )
    return list(dict.fromkeys((written, longest, johnson)))


def _orders(works: Sequence[Work], stages: Stages, variants: int) -> Iterator[tuple[int, ...]]:
    tasks = variants * len(RULES) * sum(2 + 2 * len(w.loads) for w in works)
    groups = _groups(works)
    for units in ([(i,) for i in range(len(works))], groups):
        if len(units) < 9 and math.factorial(len(units)) * tasks <= MOST_TRIES:
            orders: Iterator[tuple[tuple[int, ...], ...]] = permutations(units)
            break
    else:
        pairs = [_two_stages([works[i] for i in unit], stages) for unit in groups]
        orders = iter([tuple(groups), tuple(groups[i] for i in johnson_order(pairs))])
    for order in orders:
        yield tuple(i for unit in order for i in unit)


def _groups(works: Sequence[Work]) -> list[tuple[int, ...]]:
    """Return the bowls of each want, in the order of the wants."""
    groups: dict[int, list[int]] = {}
    for i, work in enumerate(works):
        groups.setdefault(work.want, []).append(i)
    return [tuple(group) for group in groups.values()]


def _two_stages(works: Sequence[Work], stages: Stages) -> tuple[float, float]:
    loads = [load for work in works for load in work.loads]
    return (
        rolling_s(sum(load.paste_g for load in loads), stages.pace_kg_h),
        sum(load.pan_s for load in loads),
    )


def _end_s(works: Sequence[Work], arrangement: Arrangement, stages: Stages, shop: Shop) -> float:
    tasks = session_tasks(arranged(works, arrangement), stages)
    run = best_run(tasks, shop._replace(area_m2=math.inf), Hours())
    return math.inf if run is None else run.end_s
