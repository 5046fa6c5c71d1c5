"""What a label leaves out is filled in by rule, and every rule that was used is listed."""

from __future__ import annotations

import json
from pathlib import Path

from running import run_eggfold

POWDERS = """
ingredients:
  House meal: {analysis: {protein: 20 %, fat: 5 %, fibre: 3 %, ash: 2 %}}
  Whole label: {analysis: {protein: 20, fat: 5, carbohydrate: 60, fibre: 3, ash: 2, water: 10}}
"""
RECIPE = """
name: T
base_mix: {name: M, blend: {House meal: 40 %, Whole label: 30 %, Semolina: 30 %}}
additives:
  - name: Milk crumb
    form: powder
    analysis: {protein: 30, carbohydrate: 60}
    hookbait: 3 g per egg
    freebie: none
"""


def test_what_a_label_leaves_out_is_listed(tmp_path: Path) -> None:
    (tmp_path / "ingredients.yaml").write_text(POWDERS, encoding="utf-8")
    (tmp_path / "t.yaml").write_text(RECIPE, encoding="utf-8")
    for command in ("powder", "batch"):
        outcome = run_eggfold([command, "t.yaml", "--format", "json"], tmp_path)
        document = json.loads(outcome.stdout)
        listed = document.get("assumptions") or document["batches"][0]["assumptions"]
        assert {a["what"]: (a["value"], a["origin"]) for a in listed if "label" in a["what"]} == {
            "not on the label of House meal": (
                "carbohydrate the rest, water 9 %",
                "house default",
            ),
            "not on the label of Milk crumb": (
                "fat 0 %, fibre 0 %, ash 0 %, water 9 %",
                "house default",
            ),
        }
