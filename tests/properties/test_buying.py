"""Purchases of a season: in date when rolled, nothing twice, and boxes that cost least."""

from __future__ import annotations

import math
from datetime import date
from pathlib import Path

import pytest

from eggfold.load.fields import days_after
from eggfold.load.load_plan import open_campaign
from eggfold.load.workspace import Chosen
from eggfold.plan.campaign import SeasonPlan, build_season

TODAY = "2027-02-01"
PLAN = """\
hours: 9 h
people: 2
tables: 2
egg_life: {life}
trips:
  - {{leave: 2027-04-02, freebies: {{recipe: osierfen-caraway, eggs: 64}}}}
  - {{leave: 2027-04-30, freebies: {{recipe: osierfen-caraway, eggs: 70}}}}
  - {{leave: 2027-06-11, hookbaits: {{recipe: osierfen-caraway, eggs: 4}}}}
"""
SHELF = """\
currency: EUR
items:
  EU large eggs:
    left: {left}
    use_by: {use_by}
    sold_in: [{{size: 12, price: 3.60}}]
  Osierfen bulk mix:
    left: 500 g
    sold_in: [{{size: 1 kg, price: 7.00}}]
"""


def season_of(
    folder: Path, life: int = 21, use_by: str = "2027-12-31", left: int = 5
) -> SeasonPlan:
    (folder / "plan.yaml").write_text(PLAN.format(life=life), encoding="utf-8")
    (folder / "shelf.yaml").write_text(SHELF.format(use_by=use_by, left=left), encoding="utf-8")
    opened = open_campaign(str(folder / "plan.yaml"), Chosen(stocked=True), TODAY)
    assert not opened.problems
    assert not opened.findings.problems
    return build_season(opened, TODAY)


def eggs_of(season: SeasonPlan) -> list[tuple[int, float, float]]:
    return [
        (round(item.need), item.in_hand or 0, float(item.cost or 0))
        for p in season.buying.purchases
        for item in p.items
        if item.unit == "piece"
    ]


@pytest.mark.parametrize("life", [3, 21, 60])
def test_eggs_are_in_date_and_all_there(folder: Path, life: int) -> None:
    season = season_of(folder, life)
    for purchase in season.buying.purchases:
        gap = date.fromisoformat(purchase.upto) - date.fromisoformat(purchase.day)
        assert 0 < gap.days <= life
        served = [d for d in season.days if purchase.day < d.day <= purchase.upto]
        needed = sum(b.batch.eggs for d in served for b in d.bowls)
        assert needed == sum(round(i.need) for i in purchase.items if i.unit == "piece")
    assert sum(need for need, _, _ in eggs_of(season)) == 138


def test_mixes_are_bought_once_and_before_their_first_use(folder: Path) -> None:
    season = season_of(folder)
    bought = [i.name for p in season.buying.purchases for i in p.items if i.unit != "piece"]
    assert len(bought) == len(set(bought))
    first = season.buying.purchases[0]
    assert first.day == days_after(season.days[0].day, -1)
    assert "Osierfen bulk mix" in {i.name for i in first.items}


def test_eggs_past_their_date_are_not_counted(folder: Path) -> None:
    assert eggs_of(season_of(folder))[0][1] == 5
    assert eggs_of(season_of(folder, use_by="2027-03-01"))[0][1] == 0


def test_eggs_in_hand_are_used_once(folder: Path) -> None:
    season = season_of(folder, 3)
    assert [in_hand for _, in_hand, _ in eggs_of(season)][:2] == [5, 0]


def test_whole_boxes_cost_no_more_than_rolling_as_late_as_can_be(folder: Path) -> None:
    season = season_of(folder, 3, left=0)
    boxes = math.ceil(138 / 12)
    assert sum(cost for _, _, cost in eggs_of(season)) == pytest.approx(boxes * 3.60)
    assert len(season.days) == 2
    assert eggs_of(season)[0][0] % 12 == 0


def test_money_adds_up(folder: Path) -> None:
    season = season_of(folder)
    costs = [i.cost for p in season.buying.purchases for i in p.items if i.cost is not None]
    assert season.total.cost == sum(costs)
    assert all(cost and cost.material > 0 for cost in season.costs)


def test_the_shelf_ends_with_what_is_left_over(folder: Path) -> None:
    season = season_of(folder)
    items = {i.on_shelf: i for p in season.buying.purchases for i in p.items if i.on_shelf}
    for name, left, _ in season.buying.levels[-1].left:
        assert left == pytest.approx(items[name].left, abs=1e-6)
