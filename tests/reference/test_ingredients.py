"""The ingredient table against its publication, and against standards of composition.

usda_sr28.csv: US Department of Agriculture, National Nutrient Database for Standard Reference, Release 28
(2015), as published; public domain. Codex STAN: Codex Alimentarius; CFR: US Code of Federal Regulations.
"""

from __future__ import annotations

from csv import DictReader

import pytest

from eggfold.nearest import fold
from eggfold.reference.eggs import WHOLE_EGG
from eggfold.reference.ingredients import (
    CONTAINS,
    INGREDIENTS,
    Ingredient,
    find_ingredient,
    known_names,
)
from running import TESTS

SR28 = {
    row["record"]: row
    for row in DictReader(
        (TESTS / "reference" / "usda_sr28.csv").read_text(encoding="utf-8").splitlines()
    )
}
FIGURES = ("water", "protein", "fat", "carbohydrate_with_fibre", "fibre", "ash")

CODEX_MILK = "Codex STAN 207-1999"
CODEX_WHEY = "Codex STAN 289-1995, whey powder"
CODEX_GLUTEN = "Codex STAN 163-1987, Rev. 2001, vital wheat gluten"
CODEX_SOY = "Codex STAN 175-1989"
FROM_MEMORY = "from memory: "
N_625 = {"Wheat gluten": 6.25 / 5.70}
"""What turns a protein of the table into nitrogen times 6.25, as those standards count it."""

# Standards of composition, drawn up without the USDA's analyses: whatever is sold by the name lies
# within their own limits. Share of what, part, least, most [%].
LIMITS: list[tuple[str, str, str, str, float, float]] = [
    ("Skimmed milk powder", CODEX_MILK, "whole", "water", 0, 5),
    ("Skimmed milk powder", CODEX_MILK, "whole", "fat", 0, 1.5),
    ("Skimmed milk powder", CODEX_MILK, "solids-not-fat", "protein", 34, 100),
    ("Whole milk powder", CODEX_MILK, "whole", "water", 0, 5),
    ("Whole milk powder", CODEX_MILK, "whole", "fat", 26, 42),
    ("Whole milk powder", CODEX_MILK, "solids-not-fat", "protein", 34, 100),
    ("Whey powder", CODEX_WHEY, "whole", "water", 0, 5),
    ("Whey powder", CODEX_WHEY, "whole", "protein", 10, 100),
    ("Whey powder", CODEX_WHEY, "whole", "ash", 0, 9.5),
    ("Wheat gluten", CODEX_GLUTEN, "whole", "water", 0, 10),
    ("Wheat gluten", CODEX_GLUTEN, "dry", "protein", 80, 100),
    ("Wheat gluten", CODEX_GLUTEN, "dry", "ash", 0, 2),
    ("Wheat gluten", CODEX_GLUTEN, "dry", "fibre", 0, 1.5),
    ("Defatted soya flour", CODEX_SOY, "whole", "water", 0, 10),
    ("Defatted soya flour", CODEX_SOY, "dry", "protein", 50, 65),
    ("Defatted soya flour", CODEX_SOY, "dry", "ash", 0, 8),
    ("Soya protein concentrate", CODEX_SOY, "whole", "water", 0, 10),
    ("Soya protein concentrate", CODEX_SOY, "dry", "protein", 65, 90),
    ("Soya protein concentrate", CODEX_SOY, "dry", "ash", 0, 8),
    ("Soya protein isolate", CODEX_SOY, "whole", "water", 0, 10),
    ("Soya protein isolate", CODEX_SOY, "dry", "protein", 90, 100),
    ("Soya protein isolate", CODEX_SOY, "dry", "ash", 0, 8),
    ("Wheat flour", "Codex STAN 152-1985", "whole", "water", 0, 15.5),
    ("Bread flour", "Codex STAN 152-1985", "whole", "water", 0, 15.5),
    ("Semolina", "21 CFR 137.320", "whole", "water", 0, 15),
    ("Semolina", "21 CFR 137.320", "dry", "ash", 0, 0.92),
    ("Maize meal", "Codex STAN 154-1985", "whole", "water", 0, 15),
    ("Maize meal", f"{FROM_MEMORY}Codex STAN 154-1985", "dry", "protein", 8, 100),
    ("Maize meal", f"{FROM_MEMORY}Codex STAN 154-1985", "dry", "fat", 3.1, 100),
    ("Degermed maize meal", "21 CFR 137.265, white", "whole", "water", 0, 15),
    ("Degermed maize meal", "21 CFR 137.265, white", "dry", "fat", 0, 2.25),
    ("Honey", f"{FROM_MEMORY}Codex STAN 12-1981", "whole", "water", 0, 20),
    ("Sugar", f"{FROM_MEMORY}Codex STAN 212-1999", "whole", "water", 0, 0.1),
    ("Salt", f"{FROM_MEMORY}Codex STAN 150-1985", "dry", "ash", 97, 100),
    ("Whole egg powder", f"{FROM_MEMORY}21 CFR 160.105", "whole", "water", 0, 5),
    ("Egg yolk powder", f"{FROM_MEMORY}21 CFR 160.180", "whole", "water", 0, 5),
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


@pytest.mark.parametrize("row", INGREDIENTS, ids=lambda row: row.name)
def test_figures_are_the_published_ones(row: Ingredient) -> None:
    published = SR28[row.record]
    assert [getattr(row, name) for name in FIGURES] == [float(published[name]) for name in FIGURES]


def test_the_egg_is_the_published_one() -> None:
    published = {name: float(SR28["01123"][name]) for name in FIGURES}
    carbohydrate = published.pop("carbohydrate_with_fibre") - published["fibre"]
    assert WHOLE_EGG._asdict() == published | {"carbohydrate": carbohydrate}


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


@pytest.mark.parametrize(("name", "standard", "of", "part", "least", "most"), LIMITS)
def test_an_ingredient_is_what_may_be_sold_by_its_name(
    name: str, standard: str, of: str, part: str, least: float, most: float
) -> None:
    row = found(name)
    whole = {"whole": 100.0, "dry": 100 - row.water, "solids-not-fat": 100 - row.water - row.fat}
    factor = N_625.get(name, 1.0) if part == "protein" else 1.0
    assert least <= 100 * factor * getattr(row, part) / whole[of] <= most, standard


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
