"""Common practice and published egg weights, against what a whole batch gives."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from eggfold.amounts import Amount
from eggfold.engine.eggs import shelled_egg_g
from eggfold.files.workspace import Workspace
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import Batch, build_batch
from eggfold.units import amount_in


def batch_of(folder: Path, text: str, asked: Asked) -> Batch:
    file = folder / "trial.yaml"
    file.write_text(text, encoding="utf-8")
    (opened,) = Workspace((str(file),)).recipes()
    assert opened.answerable(asked.strength) == []
    return build_batch(opened, asked)


LIQUID = """
name: Trial
base_mix: Mix
additives:
  - {{name: Syrup, form: liquid, hookbait: {ml} ml per egg, freebie: none}}
"""


@pytest.mark.parametrize("ml", [0.5, 2, 4, 6, 8])
def test_a_large_egg_takes_about_130_g_of_mix(tmp_path: Path, ml: float) -> None:
    # common practice: 130 g of dry mix for an EU large egg with 0 to 8 g of liquids, within 10 %
    batch = batch_of(tmp_path, LIQUID.format(ml=ml), Asked("hookbait"))
    assert batch.powder.expected_g == pytest.approx(130, rel=0.10)


def test_hookbaits_take_about_70_s_at_16_mm(tmp_path: Path) -> None:
    # common practice: about 70 s at 16 mm, within 20 %
    batch = batch_of(tmp_path, "name: T\nbase_mix: M\n", Asked("hookbait", diameter_mm=16))
    assert batch.baits[0].boil.seconds == pytest.approx(70, rel=0.20)


@pytest.mark.parametrize(("mm", "seconds"), [(16, 90), (18, 105), (20, 120)])
def test_freebies_take_90_to_120_s(tmp_path: Path, mm: float, seconds: float) -> None:
    # from memory: 90 s at 16 mm to 120 s at 20 mm, linear between, within 35 %
    asked = Asked("freebie", BatchSize("eggs", 6), diameter_mm=mm)
    batch = batch_of(tmp_path, "name: T\nbase_mix: M\n", asked)
    assert batch.baits[0].boil.seconds == pytest.approx(seconds, rel=0.35)


@pytest.mark.parametrize(
    ("grade", "low", "high"),
    [("small", 43, 53), ("medium", 53, 63), ("large", 63, 73), ("extra large", 73, 83)],
)
def test_eu_grades_lie_in_their_bands(grade: str, low: float, high: float) -> None:
    # Regulation (EC) 589/2008 Art. 4: bands at 53, 63 and 73 g in the shell; shell 9 to 12 %
    assert low * 0.88 <= shelled_egg_g("eu", grade, 0.11) <= high * 0.91


@pytest.mark.parametrize(
    ("grade", "edible_g"),
    [("small", 38), ("medium", 44), ("large", 50), ("extra large", 56), ("jumbo", 63)],
)
def test_us_edible_mass_is_the_published_one(grade: str, edible_g: float) -> None:
    # USDA SR28 01123, weights; whole grams as published
    assert shelled_egg_g("us", grade, 0.11) == edible_g


@pytest.mark.parametrize(
    ("unit", "measures", "ml"),
    [
        # UCUM: 4.9289, 14.7868, 29.5735, 236.5882; 21 CFR 101.9: 5 and 15 ml
        ("tsp", "us", 4.9289),
        ("tbsp", "us", 14.7868),
        ("floz", "us", 29.5735),
        ("cup", "us", 236.5882),
        ("tsp", None, 5),
        ("tbsp", None, 15),
        ("drop", None, 0.05),  # USP 32, 1101: 0.05 ml
        ("pint", "imperial", 568.26),  # from memory
    ],
)
def test_spoons_and_drops(unit: str, measures: Any, ml: float) -> None:
    got = amount_in(Amount(1.0, unit), "ml", measures)
    assert got == pytest.approx(ml, abs=0.0051 if ml > 500 else 0.00006)


def test_a_trial_gives_back_its_own_bag_weight(tmp_path: Path) -> None:
    # the weighed bag is the definition of the absorbency: mass balance, exact
    text = LIQUID.format(ml=3).replace("base_mix: Mix", "base_mix: {name: Mix, amount: 141 g}")
    batch = batch_of(tmp_path, text, Asked("hookbait"))
    assert batch.powder.base_mix_g == pytest.approx(141, rel=1e-12)
