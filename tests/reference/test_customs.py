"""Customary shares of a mix: common practice, no source; where marked, one voice or from memory."""

from __future__ import annotations

from pathlib import Path

import pytest

from eggfold.files.workspace import Workspace
from eggfold.recipe.asked import Asked
from eggfold.recipe.batch import build_batch
from eggfold.recipe.powder import PowderResult, build_powder
from eggfold.reference.customary import INGREDIENT_CUSTOMS, find_custom

# Common practice: name, from and to [%], where the figure is from.
PRACTICE = [
    ("Semolina", 10, 40, "one voice"),
    ("LT fishmeal", 20, 50, "one voice"),
    ("Casein", 7, 10, "one voice"),
    ("Garlic powder", 0.5, 1.5, "one voice"),
    ("Salt", 0.5, 3, "common practice"),  # 5 to 30 g per kg dry
    ("Egg albumin", 3, 10, "from memory"),
    ("Wheat gluten", 2, 7, "from memory"),
    ("Krill meal", 5, 15, "from memory"),
    ("Betaine", 0.3, 1, "from memory"),
]

OWN = """
ingredients:
  LT fishmeal: {analysis: {protein: 70 %, fat: 10 %, ash: 12 %, water: 8 %}}
  Casein: {analysis: {protein: 88 %, fat: 1 %, ash: 2 %, water: 9 %}}
  Krill meal: {analysis: {protein: 60 %, fat: 12 %, ash: 15 %, water: 9 %}}
  Betaine: {analysis: {protein: 0 %, ash: 1 %, water: 1 %}}
"""


def powder_with(folder: Path, name: str, percent: float) -> PowderResult:
    blend = f"{{{name}: {percent:g} %, Maize meal: {100 - percent:g} %}}"
    recipe = folder / "trial.yaml"
    recipe.write_text(f"name: T\nbase_mix: {{name: M, blend: {blend}}}\n", encoding="utf-8")
    (folder / "ingredients.yaml").write_text(OWN, encoding="utf-8")
    (opened,) = Workspace((str(recipe),)).recipes()
    assert opened.answerable("hookbait") == []
    return build_powder(opened, build_batch(opened, Asked("hookbait")))


@pytest.mark.parametrize(("name", "low", "high", "origin"), PRACTICE, ids=str)
def test_a_note_stands_outside_the_customary_range(
    tmp_path: Path, name: str, low: float, high: float, origin: str
) -> None:
    for percent, side in ((low * 0.9, "under"), (high * 1.1, "over")):
        note = powder_with(tmp_path, name, percent).ingredients[0].note
        assert note is not None
        assert note.startswith(f"{side} the customary {low:g} to {high:g} %")
        assert "common practice" in note
        assert origin in note
    for percent in (low, (low + high) / 2, high):
        assert powder_with(tmp_path, name, percent).ingredients[0].note is None


def test_every_custom_is_checked() -> None:
    assert {find_custom(name) for name, *_ in PRACTICE} == set(INGREDIENT_CUSTOMS)


# Common practice: protein 30 to 38, fat 5 to 15, carbohydrate 30 to 50 % of a mix.
def test_a_mix_outside_what_is_customary_is_told(tmp_path: Path) -> None:
    notes = powder_with(tmp_path, "Semolina", 30).notes
    assert [note.split()[:3] for note in notes] == [
        ["protein", "is", "under"],
        ["fat", "is", "under"],
        ["carbohydrate", "is", "over"],
    ]


def test_other_names_of_a_built_in_powder_have_its_custom(tmp_path: Path) -> None:
    assert powder_with(tmp_path, "egg white powder", 20).ingredients[0].note is not None
