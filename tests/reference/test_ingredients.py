"""The ingredient table against its publication and against a second country's analyses.

USDA: National Nutrient Database for Standard Reference, Release 28 (2015). IFCT: Longvah et al.,
Indian Food Composition Tables 2017, National Institute of Nutrition, Hyderabad.
"""

from __future__ import annotations

import pytest

from eggfold.nearest import fold
from eggfold.reference.allergens import CONTAINS
from eggfold.reference.ingredients import INGREDIENTS, Ingredient, find_ingredient, known_names

PUBLISHED = [  # name, NDB number, water, protein, fat, carbohydrate with fibre, fibre, ash
    ("Semolina", "20466", 12.67, 12.68, 1.05, 72.83, 3.9, 0.77),
    ("Soya flour", "16116", 3.81, 38.09, 21.86, 30.38, 9.7, 5.86),
    ("Wheat gluten", "48052", 8.2, 75.16, 1.85, 13.79, 0.6, 1.0),
    ("Skimmed milk powder", "01091", 3.16, 36.16, 0.77, 51.98, 0.0, 7.93),
    ("Egg albumin", "01136", 8.54, 82.4, 0.04, 4.47, 0.0, 4.55),
    ("Maize meal", "20020", 10.26, 8.12, 3.59, 76.89, 7.3, 1.13),
    ("Lupin", "16076", 10.44, 36.17, 9.74, 40.37, 18.9, 3.28),
    ("Hemp seed", "12012", 4.96, 31.56, 48.75, 8.67, 4.0, 6.06),
    ("Salt", "02047", 0.2, 0.0, 0.0, 0.0, 0.0, 99.8),
]

# The spread between the two tables is real: other varieties, milling and driers. What it is for
# flours, pulses and groundnuts is the tolerance. Fibre is left out: the methods differ.
SPREAD = {"water": 3.8, "protein": 2.7, "fat": 1.3, "ash": 0.4}
GROUNDNUT_FAT_SPREAD = 9.7
IFCT = [  # code, our name, water, protein, fat, ash
    ("A022", "Semolina", 8.94, 11.38, 0.74, 0.80),
    ("A018", "Wheat flour", 11.34, 10.36, 0.76, 0.51),
    ("A019", "Wholemeal flour", 11.10, 10.57, 1.53, 1.28),
    ("A006", "Maize meal", 9.26, 8.80, 3.77, 1.17),
    ("A015", "Rice flour", 9.93, 7.94, 0.52, 0.56),
    ("B024", "Raw soya flour", 5.51, 35.58, 19.82, 4.74),
    ("B025", "Raw soya flour", 5.47, 37.80, 19.42, 4.52),
    ("H012", "Ground peanuts", 6.97, 23.65, 39.63, 2.11),
]

KNOWN_SUM = {"16122": 100.27}  # soy isolate, as published

CONTAINED = [
    ("Wheat gluten", ("cereals containing gluten",)),
    ("Oats", ("cereals containing gluten",)),
    ("Malted milk powder", ("cereals containing gluten", "milk")),
    ("Soya flour", ("soybeans",)),
    ("Skimmed milk powder", ("milk",)),
    ("Egg albumin", ("eggs",)),
    ("Ground peanuts", ("peanuts",)),
    ("Ground almonds", ("nuts",)),
    ("Sesame seed", ("sesame seeds", "bird food")),
    ("Lupin", ("lupin",)),
    ("Fish oil", ("fish",)),
    ("Millet", ("bird food",)),
    ("Maize meal", ()),
]


def found(name: str) -> Ingredient:
    ingredient = find_ingredient(name)
    assert ingredient is not None, name
    return ingredient


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row[0])
def test_figures_are_the_published_ones(row: tuple[str | float, ...]) -> None:
    assert tuple(found(str(row[0])))[:8] == row


@pytest.mark.parametrize("row", INGREDIENTS, ids=lambda row: row.name)
def test_parts_add_up_to_a_hundred(row: Ingredient) -> None:
    whole = row.water + row.protein + row.fat + row.carbohydrate_with_fibre + row.ash
    assert whole == pytest.approx(KNOWN_SUM.get(row.record, 100), abs=0.12)
    assert sum(row.parts) == pytest.approx(100, abs=0.5)
    assert min(row.parts) >= 0


def test_fibre_is_taken_out_of_the_carbohydrate() -> None:
    parts = found("Semolina").parts
    assert parts.carbohydrate == pytest.approx(72.83 - 3.9)
    assert (parts.protein, parts.fat, parts.fibre) == (12.68, 1.05, 3.9)
    assert (parts.ash, parts.water) == (0.77, 12.67)


@pytest.mark.parametrize(("code", "name", "water", "protein", "fat", "ash"), IFCT)
def test_a_second_table_agrees(
    code: str, name: str, water: float, protein: float, fat: float, ash: float
) -> None:
    ours = found(name)
    fat_spread = GROUNDNUT_FAT_SPREAD if code == "H012" else SPREAD["fat"]
    assert ours.water == pytest.approx(water, abs=SPREAD["water"])
    assert ours.protein == pytest.approx(protein, abs=SPREAD["protein"])
    assert ours.fat == pytest.approx(fat, abs=fat_spread)
    assert ours.ash == pytest.approx(ash, abs=SPREAD["ash"])


def test_no_name_and_no_record_stands_twice() -> None:
    names = [fold(name) for name in known_names()]
    records = [row.record for row in INGREDIENTS]
    assert len(set(names)) == len(names)
    assert len(set(records)) == len(records)


@pytest.mark.parametrize("row", INGREDIENTS, ids=lambda row: row.name)
def test_an_ingredient_is_found_by_all_its_names(row: Ingredient) -> None:
    for name in (row.name, *row.also):
        assert find_ingredient(f"  {name.upper().replace(' ', '  ')} ") is row


def test_an_unknown_name_is_not_found() -> None:
    assert find_ingredient("sawdust") is None


@pytest.mark.parametrize("row", INGREDIENTS, ids=lambda row: row.name)
def test_allergens_are_words_of_the_list(row: Ingredient) -> None:
    assert set(row.contains) <= set(CONTAINS)


@pytest.mark.parametrize(("name", "contains"), CONTAINED)
def test_allergens_of(name: str, contains: tuple[str, ...]) -> None:
    assert found(name).contains == contains
