"""A season asked again: what is in hand comes first, and what is too late is named."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import pytest

from eggfold.errors import NoAnswerError
from eggfold.plan.campaign import SeasonPlan, WhatIf, build_season
from plan_files import campaign_plan, lay_out, stocked_plan
from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """\
hours: 9 h
people: 2
tables: 2
trips:
  - {leave: 2027-04-02, back: 2027-04-04, name: Reed arm, freebies: {recipe: osierfen-caraway, bait: 6 kg}}
  - {leave: 2027-04-23, name: Weir pool, freebies: {recipe: osierfen-caraway, bait: 4 kg}}
"""
LOT = "- {{recipe: Osierfen Caraway, strength: freebie, left: {}, made: {}, counted: {}}}\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    lay_out(tmp_path)
    return tmp_path


def season(folder: Path, today: str, *lots: tuple[str, str, str], **asked: Any) -> SeasonPlan:
    (folder / "shelf.yaml").write_text(
        "items: {}\nbaits:\n" + "".join(LOT.format(*lot) for lot in lots), "utf-8"
    )
    opened = stocked_plan(folder, PLAN, today)
    return build_season(opened, today, WhatIf(**asked) if asked else None)


def test_a_trip_that_nobody_noted_took_what_was_planned(folder: Path) -> None:
    found = season(folder, "2027-04-06", ("9 kg", "2027-03-20", "2027-03-25"))
    assert [held.finished_g for held in found.hand.lots] == [3000]
    assert [held.assumed for held in found.hand.lots] == [True]
    [bring] = found.trips[0].brings
    assert (bring.in_hand_g, bring.portion) == (3000, 0)
    assert found.portions[0].whole.paste.finished_g == pytest.approx(1000, abs=200)


def test_a_count_after_a_trip_beats_what_it_would_have_taken(folder: Path) -> None:
    found = season(folder, "2027-04-06", ("4.1 kg", "2027-03-20", "2027-04-05"))
    assert [held.gives for held in found.hand.lots] == [((1, 4000.0),)]
    assert not found.days
    assert found.fewest


def test_a_season_that_has_begun_does_not_stop_at_a_trip_that_is_too_late(folder: Path) -> None:
    found = season(folder, "2027-04-22", ("1 kg", "2027-04-01", "2027-04-20"))
    [bring] = found.trips[0].brings
    assert (bring.in_hand_g, bring.missing_g) == (1000, 3000)
    with pytest.raises(NoAnswerError, match="no rolling day is early enough"):
        build_season(campaign_plan(folder, PLAN, "2027-04-01"), "2027-04-01")


def test_what_if_says_what_differs_and_leaves_the_plan_alone(folder: Path) -> None:
    plain = season(folder, "2027-03-01")
    skipped = season(folder, "2027-03-01", skip=(0,))
    assert skipped.compared
    assert skipped.compared.plain == plain.instead
    assert [trip.number for trip in skipped.trips] == [1]
    day = plain.days[0].day
    without = season(folder, "2027-03-01", without=(day,))
    assert day not in [d.day for d in without.days]


@pytest.mark.parametrize(
    "command", ["campaign season.yaml", "shelf", "labels osierfen-caraway.yaml --from-shelf"]
)
def test_a_lot_that_cannot_be_read_is_told_and_not_passed_over(folder: Path, command: str) -> None:
    (folder / "season.yaml").write_text(PLAN, "utf-8")
    lot = "- {recipe: Osierfen Caraway, strength: freebie, left: 3 litres}\n"
    (folder / "shelf.yaml").write_text(f"items: {{}}\nbaits:\n{lot}", "utf-8")
    outcome = run_eggfold([*command.split(), "--date", "2027-03-01"], folder)
    assert outcome.exit == 1
    assert "shelf.yaml:3:" in outcome.stderr


@pytest.mark.parametrize(
    ("state", "made", "lying_kg"),
    [
        ("drying", "2027-03-19", 3),
        ("drying", "2027-03-17", 0),  # off the trays on the 19th
        ("frozen", "2027-03-19", 0),
    ],
)
def test_bait_in_hand_takes_trays_until_it_is_dry(
    folder: Path, state: str, made: str, lying_kg: int
) -> None:
    """Rolled on Saturday the 20th; what dries beside it lies as closely as what is rolled."""
    plan = PLAN.replace("hours", "roll_on: saturday\nroll_from: 2027-03-20\nhours").replace(
        "people: 2\n", ""
    )
    plan = plan.replace("2027-04-02, back: 2027-04-04", "2027-03-26, back: 2027-03-28")
    lot = (
        f"{{recipe: Osierfen Caraway, strength: freebie, left: 3 kg, made: {made}, state: {state}}}"
    )
    (folder / "shelf.yaml").write_text(f"items: {{}}\nbaits: [{lot}]\n", "utf-8")
    bench = "trays: {count: 40, length: 60 cm, width: 40 cm}\n"
    found = build_season(stocked_plan(folder, plan, "2027-03-20", bench), "2027-03-20")
    first = found.days[0]
    rolled_g = sum(bowl.batch.paste.finished_g for bowl in first.bowls)
    rolled_m2 = sum(bowl.area_m2 for bowl in first.bowls)
    assert first.day == "2027-03-20"
    per_kg = rolled_m2 / (rolled_g / 1000)
    assert found.trays_m2.needed == pytest.approx(rolled_m2 + lying_kg * per_kg, rel=0.02)


@pytest.mark.parametrize(
    ("wanted", "left", "key", "rest"),
    [("eggs: 20", "half", "eggs", 10), ("count: 200", "80", "count", 120)],
)
def test_what_is_in_hand_is_not_rolled_again(
    folder: Path, wanted: str, left: str, key: str, rest: int
) -> None:
    """Half of what twenty eggs make leaves ten to roll, and 80 baits of 200 leave 120."""
    plan = f"hours: 9 h\ntrips: [{{leave: 2027-04-02, freebies: {{recipe: osierfen-caraway, {wanted}}}}}]\n"
    whole = build_season(campaign_plan(folder, plan, "2027-03-01"), "2027-03-01")
    half_g = whole.portions[0].whole.paste.finished_g / 2
    amount = f"{math.ceil(half_g)} g" if left == "half" else left
    lot = f"{{recipe: Osierfen Caraway, strength: freebie, left: {amount}, made: 2027-02-20}}"
    (folder / "shelf.yaml").write_text(f"items: {{}}\nbaits: [{lot}]\n", "utf-8")
    found = build_season(stocked_plan(folder, plan, "2027-03-01"), "2027-03-01")
    [portion] = found.portions
    if key == "eggs":
        assert portion.eggs == rest
    else:
        assert portion.whole.asked.size.value == rest
