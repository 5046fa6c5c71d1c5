"""Common practice and published egg weights, against what a whole batch gives."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from eggfold.amounts import Amount
from eggfold.engine.scaling import shelled_egg_g
from eggfold.recipe.asked import Asked
from eggfold.recipe.batch import Batch, build_batch
from eggfold.reference.boiling import TARGETS
from eggfold.reference.defaults import DEFAULTS
from eggfold.reference.eggs import EU_CLASS_FROM_G
from eggfold.units import amount_in
from recipe_files import recipes_of


def batch_of(folder: Path, text: str, asked: Asked) -> Batch:
    file = folder / "trial.yaml"
    file.write_text(text, encoding="utf-8")
    (opened,) = recipes_of(file)
    assert opened.answerable(asked.strength) == []
    return build_batch(opened, asked)


LIQUID = """
name: Trial
base_mix: Mix
additives:
  - {{name: Syrup, form: liquid, hookbait: {ml} ml per egg, freebie: none}}
"""


@pytest.mark.parametrize("ml", [0.5, 2, 4, 6, 8])
def test_a_large_egg_takes_what_rollers_weigh(tmp_path: Path, ml: float) -> None:
    # common practice: 110 to 150 g of dry mix for an EU large egg
    batch = batch_of(tmp_path, LIQUID.format(ml=ml), Asked("hookbait"))
    assert 110 <= batch.powder.expected_g <= 150


def test_a_kilo_of_dry_mix_takes_8_to_10_medium_eggs(tmp_path: Path) -> None:
    # common practice, told by the kilo and not by the egg
    text = LIQUID.format(ml=1) + "eggs: {grade: medium, standard: eu}\n"
    batch = batch_of(tmp_path, text, Asked("hookbait"))
    assert 8 <= batch.eggs * 1000 / batch.powder.expected_g <= 10


def test_hookbaits_take_about_70_s_at_16_mm(tmp_path: Path) -> None:
    # common practice: about 70 s at 16 mm, within 20 %
    batch = batch_of(tmp_path, "name: T\nbase_mix: M\n", Asked("hookbait", diameter_mm=16))
    (boil,) = [bait.boil for bait in batch.baits]
    assert boil is not None
    assert boil.worked_s == pytest.approx(70, rel=0.20)


# Regulation (EC) 589/2008 Art. 4, in the shell: from the least on, and below the next class's least.
EU_CLASSES = [
    ("small", 0, 53),
    ("medium", 53, 63),
    ("large", 63, 73),
    ("extra large", 73, math.inf),
]


@pytest.mark.parametrize(("grade", "least_g", "below_g"), EU_CLASSES)
def test_eu_grades_lie_in_their_classes(grade: str, least_g: float, below_g: float) -> None:
    assert least_g <= shelled_egg_g("eu", grade, 0.0) < below_g
    assert EU_CLASS_FROM_G.get(grade, 0) == least_g


def test_a_closed_class_stands_for_itself_by_its_middle() -> None:
    assert [shelled_egg_g("eu", grade, 0.0) for grade in ("medium", "large")] == [58, 68]


def test_the_shell_lies_between_what_was_weighed() -> None:
    # Cotterill & Geiger 1977: 9.5 % with its membranes; USDA SR28 01123: 12 % refuse, egg that clings included
    assert 9.5 <= DEFAULTS["shell"].value <= 12


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
        ("tsp", "us", 4.9289),  # UCUM
        ("tbsp", "us", 14.7868),  # UCUM
        ("floz", "us", 29.5735),  # UCUM
        ("cup", "us", 236.5882),  # UCUM
        ("pint", "us", 231 * 2.54**3 / 8),  # UCUM: an eighth of 231 cubic inches
        ("tsp", "metric", 5),  # NIST SP 430, 2004; 21 CFR 101.9(b)(5)(viii)
        ("tbsp", "metric", 15),  # the same two
        ("cup", "metric", 250),  # Standards Association of Australia, as quoted
        ("tsp", "imperial", 5),
        ("tbsp", "imperial", 15),
        ("floz", "imperial", 4546.09 / 160),  # UCUM; Weights and Measures Act 1985 (from memory)
        ("pint", "imperial", 4546.09 / 8),  # the same two
        ("cup", "imperial", 4546.09 / 16),  # common practice: half a pint
        ("tsp", None, 5),
        ("tbsp", None, 15),
        ("drop", None, 0.05),  # USP 32, 1101: 0.05 ml
    ],
)
def test_spoons_and_drops(unit: str, measures: Any, ml: float) -> None:
    got = amount_in(Amount(1.0, unit), "ml", measures)
    assert got == pytest.approx(ml, abs=0.00006)


def test_a_set_centre_is_where_egg_sets() -> None:
    # H. This: white begins to set at 62 °C (Belitz, Table 11.4: conalbumin 61.5 °C); H. McGee, On Food
    # and Cooking: whole beaten egg sets at about 73 °C
    assert [TARGETS[name].centre_c for name in ("just-set", "set")] == [62, 73]


def test_the_film_is_that_of_eggs_in_boiling_water() -> None:
    # Çengel & Ghajar, Heat and Mass Transfer, Example 4-3: h = 1200 W/(m² K)
    assert DEFAULTS["film"].value == 1200


def test_a_trial_gives_back_its_own_bag_weight(tmp_path: Path) -> None:
    # the weighed bag is the definition of the absorbency: mass balance, exact
    text = LIQUID.format(ml=3).replace("base_mix: Mix", "base_mix: {name: Mix, amount: 141 g}")
    batch = batch_of(tmp_path, text, Asked("hookbait"))
    assert batch.powder.base_mix_g == pytest.approx(141, rel=1e-12)
