"""When to buy what: eggs so that they are in date when rolled, the rest before its first use."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from eggfold.files.clock import days_after
from eggfold.jobs.batch import Batch
from eggfold.jobs.shopping import ShoppingItem, build_shopping
from eggfold.reference.session import BUY_DAYS_BEFORE


class Purchase(NamedTuple):
    """What to buy by a day, and up to which rolling day it serves."""

    day: str
    upto: str
    items: tuple[ShoppingItem, ...]


def build_purchases(
    days: Sequence[tuple[str, tuple[Batch, ...]]], egg_life: int
) -> tuple[Purchase, ...]:
    """Return the purchases of a season: few trips to the shop, and no egg past its date."""
    groups = _groups(days, egg_life)
    whole = build_shopping(b for _, batches in days for b in batches)
    dry = {item.name: item for item in whole if not _is_eggs(item)}
    purchases = []
    for group in groups:
        batches = [b for _, made in group for b in made]
        items = []
        for item in build_shopping(batches):
            if _is_eggs(item):
                items.append(item)
            elif item.name in dry:
                items.append(dry.pop(item.name))
        buy = days_after(group[0][0], -BUY_DAYS_BEFORE)
        purchases.append(Purchase(buy, group[-1][0], tuple(items)))
    return tuple(purchases)


def _is_eggs(item: ShoppingItem) -> bool:
    return item.unit == "piece"


def _groups(
    days: Sequence[tuple[str, tuple[Batch, ...]]], egg_life: int
) -> list[list[tuple[str, tuple[Batch, ...]]]]:
    """Return rolling days whose eggs can be bought together."""
    groups: list[list[tuple[str, tuple[Batch, ...]]]] = []
    for day in days:
        first = groups[-1][0][0] if groups else None
        if first and _days_between(days_after(first, -BUY_DAYS_BEFORE), day[0]) <= egg_life:
            groups[-1].append(day)
        else:
            groups.append([day])
    return groups


def _days_between(first: str, last: str) -> int:
    return (date.fromisoformat(last) - date.fromisoformat(first)).days
