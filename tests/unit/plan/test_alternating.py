"""Where trays bind, a trip's mixes are rolled in alternating bowls, and "fewest" is said where it is proved."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.plan.campaign import SeasonPlan, build_season
from eggfold.plan.trip_demand import Portion
from plan_files import campaign_plan, lay_out

if TYPE_CHECKING:
    from pathlib import Path

TODAY = "2027-03-01"
TRAYS = "trays: {count: 6, length: 60 cm, width: 40 cm}\n"
TWO_SIZES = """\
hours: 9 h
people: 1
roll_on: saturday
trips:
  - leave: 2027-06-18
    freebies:
      - {recipe: osierfen-caraway, bait: 18 kg, sizes: 10 mm}
      - {recipe: osierfen-caraway, bait: 18 kg, sizes: 24 mm}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    lay_out(tmp_path)
    return tmp_path


def season(folder: Path, text: str, bench: str = TRAYS) -> SeasonPlan:
    return build_season(campaign_plan(folder, text, TODAY, bench), TODAY)


def test_two_sizes_of_one_trip_take_five_days_and_not_six(folder: Path) -> None:
    # 20 kg of fresh 10 mm baits need 4.9 m² of trays, of 24 mm 2.0 m², and six trays are 1.44 m²:
    # 6.9 m² are five times full, if each day holds both; one size after the other takes six days.
    found = season(folder, TWO_SIZES)
    assert len(found.days) == 5
    assert found.fewest
    assert found.trays_m2.needed <= 1.44
    assert sum(p.eggs for day in found.days for p in day.pieces) == sum(
        portion.eggs for portion in found.portions
    )


def test_one_size_after_the_other_takes_six(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def in_order(portions: tuple[Portion, ...], _: object) -> tuple[tuple[int, int], ...]:
        return tuple((i, portion.eggs) for i, portion in enumerate(portions))

    monkeypatch.setattr("eggfold.plan.campaign.alternating_line", in_order)
    found = season(folder, TWO_SIZES)
    assert len(found.days) == 6
    assert not found.fewest


def test_one_day_for_all_is_proved_to_be_the_fewest(folder: Path) -> None:
    text = "hours: 9 h\ntrips:\n- {leave: 2027-04-02, freebies: {recipe: osierfen-caraway, bait: 2 kg}}\n"
    found = season(folder, text, "")
    assert len(found.days) == 1
    assert found.fewest
