"""A blend of one ingredient is that ingredient; a blend's parts lie between its ingredients'."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from eggfold.recipe.asked import Asked
from eggfold.recipe.batch import build_batch
from eggfold.recipe.powder import PowderResult, build_powder
from eggfold.reference.ingredients import INGREDIENTS, Ingredient
from eggfold.reference.properties import PART_NAMES, Parts
from recipe_files import recipes_of

ingredients = st.sampled_from(INGREDIENTS)


def powder_of(blend: dict[str, float], bag_g: float = 130.0) -> PowderResult:
    shares = "".join(f"    {name!r}: {share:.6f} %\n" for name, share in blend.items())
    text = f"name: T\nbase_mix:\n  name: M\n  amount: {bag_g} g\n  blend:\n{shares}"
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "trial.yaml"
        file.write_text(text, encoding="utf-8")
        (opened,) = recipes_of(file)
        assert opened.answerable("hookbait") == []
        return build_powder(opened, build_batch(opened, Asked("hookbait", diameter_mm=16)))


def percent(ingredient: Ingredient) -> Parts:
    whole = sum(ingredient.parts)
    return Parts(*(100 * part / whole for part in ingredient.parts))


@pytest.mark.parametrize("row", INGREDIENTS, ids=lambda row: row.name)
def test_a_blend_of_one_ingredient_is_that_ingredient(row: Ingredient) -> None:
    result = powder_of({row.name: 100})
    assert result.analysis == pytest.approx(percent(row), rel=1e-12)
    (line,) = result.ingredients
    assert line.g_per_egg == pytest.approx(130, rel=1e-12)
    assert set(result.contains) == set(row.contains)


@settings(max_examples=40)
@given(st.lists(ingredients, min_size=2, max_size=2, unique=True), st.floats(1, 99))
def test_a_blend_lies_between_its_ingredients(rows: list[Ingredient], share: float) -> None:
    one, other = rows
    result = powder_of({one.name: share, other.name: 100 - share})
    assert sum(result.analysis) == pytest.approx(100)
    assert sum(line.g_per_egg for line in result.ingredients) == pytest.approx(
        result.powder.base_mix_g
    )
    assert sum(line.percent for line in result.ingredients) == pytest.approx(100)
    for name, part in zip(PART_NAMES, result.analysis, strict=True):
        ends = sorted(getattr(percent(row), name) for row in rows)
        assert ends[0] - 1e-6 <= part <= ends[1] + 1e-6
