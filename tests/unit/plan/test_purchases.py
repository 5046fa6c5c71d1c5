"""When a season's eggs are bought, and in which boxes: worked out by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.engine.season import Limits, RollDay, Rolled, Stretch
from eggfold.load.shelf import open_shelf
from eggfold.plan.campaign import build_season
from eggfold.plan.purchases import build_buying, fewest_boxes
from plan_files import lay_out, stocked_plan

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


PLAN = """\
hours: 9 h
people: 2
tables: 2
roll_on: saturday
egg_life: 10
freezer_life: 30
trips:
  - {leave: 2027-04-02, freebies: {recipe: osierfen-caraway, eggs: 13}}
  - {leave: 2027-06-04, freebies: {recipe: osierfen-caraway, eggs: 22}}
"""
EGGS = "currency: EUR\nitems:\n  EU large eggs: {left: 4, sold_in: [{size: 10, price: 2.79}]}\n"


def test_eggs_in_hand_are_rolled_first_and_none_past_its_date(tmp_path: Path) -> None:
    """4 and a box of 10 are 13 and one over, two months later too old: three boxes are 22 and 8."""
    lay_out(tmp_path)
    (tmp_path / "shelf.yaml").write_text(EGGS, encoding="utf-8")
    season = build_season(stocked_plan(tmp_path, PLAN, "2027-03-01"), "2027-03-01")
    assert [day.day for day in season.days] == ["2027-03-27", "2027-05-29"]
    bought = [
        (purchase.day, item.need, sum(line.packs for line in item.buy))
        for purchase in season.buying.purchases
        for item in purchase.items
        if item.name == "EU large eggs"
    ]
    assert bought == [("2027-03-26", 13, 1), ("2027-05-28", 22, 3)]
    left = [{name: amount for name, amount, _ in level.left} for level in season.buying.levels]
    assert [level["EU large eggs"] for level in left] == [1, 8]
