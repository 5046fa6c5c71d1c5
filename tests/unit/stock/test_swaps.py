"""What could stand in for a powder: the nearest analysis first, and nothing that binds."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.load.load_recipe import open_powders
from eggfold.stock.swaps import alike

if TYPE_CHECKING:
    from pathlib import Path

POWDERS = """\
ingredients:
  Reed meal: {analysis: {protein: 30 %, fat: 30 %, carbohydrate: 21 %, water: 9 %, ash: 10 %}}
  Alder meal: {analysis: {protein: 34 %, fat: 26 %, carbohydrate: 21 %, water: 9 %, ash: 10 %}}
  Birch meal: {analysis: {protein: 33 %, fat: 27 %, carbohydrate: 21 %, water: 9 %, ash: 10 %}}
  Willow meal: {analysis: {protein: 31 %, fat: 29 %, carbohydrate: 21 %, water: 9 %, ash: 10 %}}
  Rowan meal: {analysis: {protein: 36 %, fat: 24 %, carbohydrate: 21 %, water: 9 %, ash: 10 %}}
  Reed gluten: {analysis: {protein: 30 %, fat: 30 %, carbohydrate: 21 %, water: 9 %, ash: 10 %}}
"""
"""No built-in powder is like them."""


def test_the_nearest_analysis_comes_first(tmp_path: Path) -> None:
    """Protein and fat are 1, 3 and 4 points apart; 6 are more than the 5 that count as alike."""
    file = tmp_path / "ingredients.yaml"
    file.write_text(POWDERS, encoding="utf-8")
    powders, problems = open_powders(str(file))
    assert not problems
    found = [one.name for one in alike("Reed meal", powders)]
    assert found == ["Willow meal", "Birch meal", "Alder meal"]
    assert alike("Reed gluten", powders) == []
