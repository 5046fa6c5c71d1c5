"""Bait that is soaked leaves the trays when it is dry, and is bagged once its soak is taken up."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

import pytest

from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

RECIPE = """
name: Reed {name}
base_mix: {{name: Reed mix, amount: 132 g}}
{soak}
baits: {{hookbait: 14 mm, freebie: 18 mm}}
"""
SOAK = """soak:
  - {name: Malt syrup, form: liquid, density: 1.35 g/ml, soak: 40 g per kg bait}
  - {name: Plain salt, form: powder, soak: 10 g per kg bait, soak_time: 48 h}
"""
ROLLING = """
start: 2027-03-27 09:00
hours: 9 h
bowls:
  - {recipe: Reed Soaked, strength: freebie, bait: 2 kg}
  - {recipe: Reed Plain, strength: freebie, bait: 2 kg}
"""
SEASON = """
roll_from: 2027-03-01
roll_on: [saturday, sunday]
hours: 9 h
trips:
  - leave: 2027-03-30
    at: 20:00
    freebies: {recipe: NAME, bait: 3 kg}
"""


def answer(folder: Path, command: str, plan: str) -> Any:
    for name, soak in (("Soaked", SOAK), ("Plain", "")):
        text = RECIPE.format(name=name, soak=soak)
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    (folder / "plan.yaml").write_text(plan, encoding="utf-8")
    outcome = run_eggfold([command, "plan.yaml", "--format", "json"], folder)
    assert outcome.exit == 0, outcome.stderr
    return json.loads(outcome.stdout)


def test_a_weekend_soaks_what_is_dry_and_bags_it_then(tmp_path: Path) -> None:
    plan = answer(tmp_path, "rolling", ROLLING)
    numbers = {bowl["recipe"]: bowl["number"] for bowl in plan["bowls"]}
    steps = {what: {} for what in ("turn", "soak", "bag")}  # type: dict[str, dict[int, Any]]
    for step in plan["steps"]:
        if step["what"] in steps:
            for number in step["bowls"]:
                steps[step["what"]][number] = step
    soaked, plain = numbers["Reed Soaked"], numbers["Reed Plain"]
    assert list(steps["soak"]) == [soaked]
    start, end = (datetime.fromisoformat(steps["soak"][soaked][key]) for key in ("start", "end"))
    assert end - start == timedelta(hours=48)  # its slowest part
    assert steps["bag"][soaked]["start"] == steps["soak"][soaked]["end"]
    assert steps["bag"][plain]["start"] == steps["soak"][soaked]["start"]
    assert steps["turn"][soaked]["start"] < steps["soak"][soaked]["start"]


def test_bowls_carry_their_own_part_of_the_soak(tmp_path: Path) -> None:
    plan = answer(tmp_path, "rolling", "days: 2" + ROLLING.replace("bait: 2 kg", "bait: 6 kg"))
    bowls = [bowl for bowl in plan["bowls"] if bowl["recipe"] == "Reed Soaked"]
    assert len(bowls) > 1
    for bowl in bowls:
        assert bowl["soak"][0]["g"] == pytest.approx(0.04 * bowl["paste"]["finished_g"])
    needs = {item["name"]: item["need"] for item in plan["shopping"]}
    assert needs["Malt syrup"] == pytest.approx(sum(bowl["soak"][0]["g"] for bowl in bowls))


@pytest.mark.parametrize(("name", "day"), [("Plain", "2027-03-28"), ("Soaked", "2027-03-21")])
def test_a_season_rolls_so_early_that_the_soak_is_taken_up(
    tmp_path: Path, name: str, day: str
) -> None:
    # rolled on Sunday it is dry on Tuesday at 20:00, when the trip leaves: too late for a soak
    season = answer(tmp_path, "campaign", SEASON.replace("NAME", f"Reed {name}"))
    (rolled,) = season["rolling_days"]
    assert rolled["day"] == day
    bagged = datetime.fromisoformat(rolled["bagged"])
    if name == "Plain":
        assert rolled["soaked"] is None
    else:
        assert datetime.fromisoformat(rolled["soaked"]) - bagged == timedelta(hours=48)
