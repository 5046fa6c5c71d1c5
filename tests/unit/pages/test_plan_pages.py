"""The words of the plans' pages: how often trays are turned, one egg, whose figures are assumed."""

from __future__ import annotations

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
    outcome = run_eggfold(["rolling", "recipes/day.yaml", *args], folder)
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
