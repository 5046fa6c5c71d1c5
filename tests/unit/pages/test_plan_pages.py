"""The words of the plans' pages: how often trays are turned, one egg, whose figures are assumed."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

DAY = "start: 2027-03-27 09:00\nhours: 9 h\nbowls:\n  - {recipe: osierfen-caraway, eggs: 1, strength: hookbait}\n"


def rolling_text(folder: Path, plan: str, *args: str) -> str:
    """Return the clock sheet of a plan beside the demo recipes."""
    copy_recipes(folder)
    (folder / "recipes/day.yaml").write_text(plan, encoding="utf-8")
    outcome = run_eggfold(["rolling", "recipes/day.yaml", "--full", *args], folder)
    assert outcome.exit == 0, outcome.stderr
    return outcome.stdout


@pytest.mark.parametrize(
    ("turn_at", "turned"),
    [
        ("", "twice a day"),
        ('turn_at: ["08:00"]\n', "once a day"),
        ('turn_at: ["07:00", "14:00", "21:00"]\n', "3 times a day"),
    ],
)
def test_the_heading_tells_how_often_trays_are_turned(
    tmp_path: Path, turn_at: str, turned: str
) -> None:
    shown = rolling_text(tmp_path, DAY + turn_at)
    assert f"DRYING  one layer, turned {turned}\n" in shown


def test_a_bowl_of_one_egg_is_of_one_egg(tmp_path: Path) -> None:
    assert "1 EU large egg  " in rolling_text(tmp_path, DAY)


@pytest.mark.parametrize(("units", "quart_l"), [("us", 0.946353), ("imperial", 1.136523)])
def test_the_freezer_and_its_curve_are_in_quarts(
    tmp_path: Path, units: str, quart_l: float
) -> None:
    copy_recipes(tmp_path)
    args = ["campaign", "recipes/season.yaml", "--date", "2027-01-01", "--full"]
    metric = run_eggfold(args, tmp_path).stdout
    shown = run_eggfold([*args, "--units", units], tmp_path).stdout
    litres, quarts = (
        float(re.search(rf"^Freezer +([0-9.]+) {unit}", text, re.MULTILINE)[1])  # type: ignore[index]
        for text, unit in ((metric, "l"), (shown, "qt"))
    )
    assert quarts == pytest.approx(litres / quart_l, abs=1.1)  # both to a whole one
    lines = shown.splitlines()
    assert lines[lines.index("FREEZER") + 1] == "quarts"
    assert "m²" not in shown.partition("\nASSUMED\n")[0]
    top = float(lines[lines.index("FREEZER") + 2].split()[0])
    assert top >= quarts


def test_trays_are_in_square_feet_where_weights_are_in_pounds(tmp_path: Path) -> None:
    shown = rolling_text(tmp_path, DAY, "--units", "us")
    assert " sq ft" in shown
    assert "m²" not in shown.partition("\nASSUMED\n")[0]
    assert re.search(r"Freezer [0-9.]+ qt", shown)


@pytest.mark.parametrize(
    ("rescue", "how"),
    [
        ("--late 25min", "same bowls, same order, breaks stay"),
        ("--late 4h", "the rest is planned again"),
        ("--late 25min --done 2", "the rest is planned again"),
    ],
)
def test_a_late_day_says_whether_it_is_shifted_or_planned_again(
    tmp_path: Path, rescue: str, how: str
) -> None:
    copy_recipes(tmp_path)
    args = ["rolling", "recipes/weekend.yaml", *rescue.split()]
    assert f" behind the plan: {how}\n" in run_eggfold(args, tmp_path).stdout


@pytest.mark.parametrize(("people", "who"), [("[Aster]", ""), ("[Aster, Rowan]", ": ")])
def test_who_changes_the_water_is_named_where_there_are_two(
    people: str, who: str, tmp_path: Path
) -> None:
    plan = f"start: 2027-03-27 09:00\nhours: 11 h\npeople: {people}\nbowls:\n"
    shown = rolling_text(tmp_path, f"{plan}  - {{recipe: osierfen-caraway, bait: 10 kg}}\n")
    table = shown.partition("DRYING")[0]
    assert re.search(rf"new pan water{who}{'(Aster|Rowan)' if who else ''}$", table, re.MULTILINE)
