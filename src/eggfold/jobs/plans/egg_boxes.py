"""Of the plans with the fewest days, the one whose eggs cost least in whole boxes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from eggfold.engine.rolling_days import align_to_boxes
from eggfold.engine.season import Limits, RollDay, Rolled, Stretch
from eggfold.jobs.plans.purchases import group_days
from eggfold.jobs.shopping import stock_on

if TYPE_CHECKING:
    from eggfold.files.shelf import OpenShelf


def fewest_boxes(
    days: Sequence[RollDay],
    stretches: Sequence[Stretch],
    limits: Limits,
    rolled: tuple[Rolled, ...],
    labels: Sequence[str],
    dates: Sequence[str],
    egg_life: int,
    shelf: OpenShelf | None,
) -> tuple[Rolled, ...]:
    """Return the same days with whole boxes of eggs on each, where that costs less.

    ``labels`` name the eggs of each stretch, ``dates`` the days. Without prices, and where it costs
    the same, bait is rolled as late as it can be.
    """
    if shelf is None:
        return rolled
    boxes = sorted({int(size) for label in labels for size in _sizes(shelf, label)})
    plans = [rolled, *(align_to_boxes(days, stretches, limits, rolled, box) for box in boxes)]
    return min(plans, key=lambda plan: _coins(plan, stretches, labels, dates, egg_life, shelf))


def _sizes(shelf: OpenShelf, label: str) -> list[int]:
    found = shelf.find(label)
    if found is None:
        return []
    return [int(shelf.exact(p.size)) for p in found[1].sold_in if p.size.kind == "piece"]


def _coins(
    plan: Sequence[Rolled],
    stretches: Sequence[Stretch],
    labels: Sequence[str],
    dates: Sequence[str],
    egg_life: int,
    shelf: OpenShelf,
) -> int:
    """Return what the eggs of a plan cost in whole boxes [coins]; what has no price costs nothing."""
    from fractions import Fraction  # noqa: PLC0415

    from eggfold.jobs.stock import holding_of, purchase_of  # noqa: PLC0415

    used: dict[str, int] = {}
    coins = 0
    by_day = dict(_eggs_by_day(plan, stretches, labels, dates))
    for group in group_days([(day, ()) for day in by_day], egg_life):
        stock = stock_on(shelf, group[0][0])
        for label in dict.fromkeys(label for day, _ in group for label in by_day[day]):
            holding = holding_of(stock, label, "piece", None) if stock else None
            if holding is None:
                continue
            need = sum(by_day[day].get(label, 0) for day, _ in group)
            last = holding.use_by.isoformat() if holding.use_by else group[-1][0]
            in_date = sum(by_day[day].get(label, 0) for day, _ in group if day <= last)
            left = min(in_date, max(0, int(holding.in_hand or 0) - used.get(label, 0)))
            used[label] = used.get(label, 0) + min(left, need)
            bought = purchase_of(Fraction(need - left), holding.offers)
            coins += (bought.coins or 0) if bought else 0
    return coins


def _eggs_by_day(
    plan: Sequence[Rolled],
    stretches: Sequence[Stretch],
    labels: Sequence[str],
    dates: Sequence[str],
) -> list[tuple[str, dict[str, int]]]:
    """Return the eggs of each kind that each day rolls."""
    found = []
    start = 0
    for one in plan:
        eggs: dict[str, int] = {}
        begin = 0
        for stretch, label in zip(stretches, labels, strict=True):
            part = min(one.upto, begin + stretch.eggs) - max(start, begin)
            if part > 0:
                eggs[label] = eggs.get(label, 0) + part
            begin += stretch.eggs
        found.append((dates[one.day], eggs))
        start = one.upto
    return found
