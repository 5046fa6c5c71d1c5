"""The scheduler against flow shops with a published shortest schedule."""

from __future__ import annotations

from itertools import permutations
from typing import NamedTuple

import pytest

from eggfold.engine.flow import bounds, johnson_order
from eggfold.engine.schedule import Hours, Shop, Task, run_shop


class Published(NamedTuple):
    """Times of each job on each machine, and the published end of the shortest schedule."""

    source: str
    times: tuple[tuple[int, ...], ...]
    shortest: int


# The times of the second were read in the model library of GAMS (flowshop, sequence 376), which
# takes them from the book; both shortest ends are from memory of the paper and the book.
PUBLISHED = (
    Published(
        "Johnson, Naval Research Logistics Quarterly 1, 1954, two machines: 47, at worst 78",
        ((4, 5), (4, 1), (30, 4), (6, 30), (2, 3)),
        47,
    ),
    Published(
        "Guéret, Prins, Sevaux, Applications of Optimization with Xpress-MP, 2002, section 7.2",
        ((3, 5, 5), (6, 4, 2), (3, 2, 4), (5, 4, 6), (5, 4, 3), (7, 5, 6)),
        35,
    ),
)


def end_s(case: Published, order: tuple[int, ...]) -> float:
    tasks: list[Task] = []
    for queue, job in enumerate(order):
        for machine, seconds in enumerate(case.times[job]):
            after = (len(tasks) - 1,) if machine else ()
            tasks.append(Task(queue, machine, float(seconds), 0, after))
    shop = Shop((1,) * len(case.times[0]), 1)
    run = run_shop(tasks, shop, Hours())
    assert run is not None
    assert run.end_s >= max(bound.earliest_s for bound in bounds(tasks, shop))
    return run.end_s


@pytest.mark.parametrize("case", PUBLISHED, ids=lambda case: case.source.partition(",")[0])
def test_the_best_of_all_orders_is_the_published_one(case: Published) -> None:
    ends = [end_s(case, order) for order in permutations(range(len(case.times)))]
    assert min(ends) == case.shortest


def test_johnson_finds_his_own_order() -> None:
    case = PUBLISHED[0]
    order = johnson_order([(a, b) for a, b in case.times])
    assert order == (4, 0, 3, 2, 1)
    assert end_s(case, order) == 47
    assert max(end_s(case, o) for o in permutations(range(5))) == 78
