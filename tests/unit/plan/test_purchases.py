"""When a season's eggs are bought, and in which boxes: worked out by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.engine.season import Limits, RollDay, Rolled, Stretch
from eggfold.load.shelf import open_shelf
from eggfold.plan.purchases import build_buying, fewest_boxes

if TYPE_CHECKING:
    from pathlib import Path

DAY_S = 86_400.0
DATES = ("2027-03-06", "2027-03-13", "2027-04-10")
BOXES = """\
currency: EUR
items:
  Duck eggs: {left: 0, sold_in: [{size: 10, price: 5.00}]}
  EU large eggs: {left: 0, sold_in: [{size: 10, price: 3.00}]}
"""


def test_a_day_takes_whole_boxes_where_that_saves_one(tmp_path: Path) -> None:
    """Ten duck eggs, then twenty hen's eggs: 15 and 5, bought five weeks apart, are three boxes of
    ten; all 20 on the second day are two."""
    file = tmp_path / "shelf.yaml"
    file.write_text(BOXES, encoding="utf-8")
    shelf, _ = open_shelf(str(file))
    days = [RollDay(n * DAY_S, (n + 2) * DAY_S) for n in (0, 7, 35)]
    late_s = 60 * DAY_S
    line = [Stretch(eggs, 1 / 20, 0.0, 0.0, late_s, late_s) for eggs in (10, 20)]
    rolled = (Rolled(0, 10), Rolled(1, 25), Rolled(2, 30))
    labels = ("Duck eggs", "EU large eggs")
    aligned = fewest_boxes(days, line, Limits(), rolled, labels, DATES, 21, shelf)
    assert aligned == (Rolled(0, 10), Rolled(1, 30), Rolled(2, 30))
    assert fewest_boxes(days, line, Limits(), rolled, labels, DATES, 21, None) == rolled


@pytest.mark.parametrize(
    ("egg_life", "bought"),
    [
        (36, [("2027-03-05", "2027-04-10")]),  # 36 days from the shop to the last bowl
        (35, [("2027-03-05", "2027-03-13"), ("2027-04-09", "2027-04-10")]),
        (8, [("2027-03-05", "2027-03-13"), ("2027-04-09", "2027-04-10")]),
        (
            7,
            [
                ("2027-03-05", "2027-03-06"),
                ("2027-03-12", "2027-03-13"),
                ("2027-04-09", "2027-04-10"),
            ],
        ),
    ],
)
def test_eggs_are_bought_the_day_before_for_as_long_as_they_keep(
    egg_life: int, bought: list[tuple[str, str]]
) -> None:
    found = build_buying([(day, ()) for day in DATES], egg_life, None).purchases
    assert [(one.day, one.upto) for one in found] == bought
