"""A figure never parts from its unit at any width, and shown units lead back to the figure."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from eggfold.formats.plain_text import page_text
from eggfold.pages.boil import boil_page
from eggfold.pages.card import card_page
from eggfold.pages.doses import doses_page
from eggfold.pages.figures import units_in
from eggfold.pages.page import Column, Facts, Lines, Page, Table
from eggfold.pages.shopping import shopping_page
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import build_batch
from eggfold.recipe.boil import AskedBoil, build_boil
from eggfold.recipe.dose_sheet import parse_columns, recipe_rows, recipe_sheet
from eggfold.stock.shopping import build_shopping
from recipe_files import recipes_of
from running import RECIPES

System = Literal["metric", "imperial", "us"]
SYSTEMS: tuple[System, ...] = ("metric", "imperial", "us")

# the published sizes: international avoirdupois pound 0.45359237 kg, imperial gallon 4.54609 l,
# US gallon 231 cubic inches of 25.4 mm; a UK teaspoon is 5 ml
US_FLOZ_ML = 231 * 2.54**3 / 128
SIZES: dict[System, dict[str, float]] = {
    "metric": {"g": 1, "kg": 1000, "ml": 1, "l": 1000},
    "imperial": {"oz": 453.59237 / 16, "lb": 453.59237, "tsp": 5, "fl oz": 4546.09 / 160},
    "us": {"oz": 453.59237 / 16, "lb": 453.59237, "tsp": US_FLOZ_ML / 6, "fl oz": US_FLOZ_ML},
}
FIGURE = re.compile(
    r"(?<![0-9.])[0-9]+(?:\.[0-9]+)? (?:kg|g|ml|l|oz|lb|fl oz|tsp|mm|s|°C|%)(?![\w/])"
)


@cache
def pages(system: System) -> tuple[Page, ...]:
    units = units_in(system)
    recipes = recipes_of(RECIPES)
    asked = Asked("freebie", BatchSize("eggs", 180))
    batches = [build_batch(opened, asked) for opened in recipes]
    columns = parse_columns("1,2,4,6,12,1kg,180h,180,10kg")
    sheet = recipe_sheet([recipe_rows(opened, columns) for opened in recipes], columns)
    return (
        *(card_page(b, units, build_shopping([b]), why=True, day="2026-01-31") for b in batches),
        shopping_page(build_shopping(batches), batches, units),
        doses_page(sheet, units),
        doses_page(sheet.ordered_by_name(), units),
        boil_page(build_boil(AskedBoil()), units),
    )


def texts(page: Page) -> Iterator[str]:
    for block in page.blocks:
        yield block.heading
        if isinstance(block, Table):
            yield from (cell for row in block.rows for cell in row)
        elif isinstance(block, Facts):
            yield from (value for _, value in block.rows)
        elif isinstance(block, Lines):
            yield from block.items


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("width", [60, 61, 66, 72, 80, 93, 100, 120])
def test_no_figure_parts_from_its_unit(system: System, width: int) -> None:
    for page in pages(system):
        shown = page_text(page, width)
        figures = [figure for text in texts(page) for figure in FIGURE.findall(text)]
        assert figures
        assert not Counter(figures) - Counter(FIGURE.findall(shown))
        assert max(map(len, shown.splitlines())) <= width


names = st.text(st.characters(categories=["L", "P"]), min_size=1)
figures = st.builds(
    "{:.3f} {}".format, st.floats(0.1, 9.99), st.sampled_from(["oz", "fl oz", "ml"])
)
cells = st.lists(names | figures, min_size=1, max_size=6).map(" ".join)


@given(st.lists(st.tuples(cells, cells, cells, cells, figures), min_size=1), st.integers(60, 120))
def test_no_figure_parts_from_its_unit_in_any_table(
    rows: list[tuple[str, ...]], width: int
) -> None:
    columns = (*map(Column, ("one", "two", "three", "four")), Column("five", "right"))
    shown = page_text(Page("T", "", (Table("ANY", columns, tuple(rows)),)), width)
    held = [figure for row in rows for cell in row for figure in FIGURE.findall(cell)]
    assert not Counter(held) - Counter(FIGURE.findall(shown))
    assert max(map(len, shown.splitlines())) <= width


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_cell_stands_on_the_page_however_narrow(system: System) -> None:
    for page in pages(system):
        narrow = re.sub(r"\s", "", page_text(page, 60))
        for block in page.blocks:
            if isinstance(block, Facts):
                assert all(re.sub(r"\s", "", label) in narrow for label, _ in block.rows)
        tables = [b for b in page.blocks if isinstance(b, Table)]
        right = [
            row[i]
            for table in tables
            for row in table.rows
            for i, column in enumerate(table.columns)
            if column.align == "right"
        ]
        assert all(re.sub(r"\s", "", cell) in narrow for cell in right)


def back(text: str, system: System) -> tuple[float, float]:
    """Return what a shown figure stands for, and half of its last digit."""
    number, unit = text.split(" ", 1)
    size = SIZES[system][unit]
    large = unit in {"kg", "l", "lb", "fl oz"}
    value = float(number)
    # a small unit shows three digits, of which ending zeros are left out
    digits = (
        2 if large else max(0, 2 - (len(f"{value:.0f}") - 1 if value >= 1 else _leading(value)))
    )
    return value * size, 0.5000001 * 10**-digits * size


def _leading(value: float) -> int:
    return int(f"{value:e}".split("e")[1])


@given(st.floats(1e-4, 1e7), st.sampled_from(SYSTEMS), st.booleans())
def test_shown_units_lead_back_within_the_last_digit(
    value: float, system: System, by_mass: bool
) -> None:
    units = units_in(system)
    shown = units.mass(value) if by_mass else units.volume(value)
    found, half = back(shown, system)
    assert abs(found - value) <= half, shown


@pytest.mark.parametrize(
    ("system", "country"), [("imperial", "imperial (UK)"), ("us", "US customary")]
)
def test_pages_in_other_units_name_the_country(system: System, country: str) -> None:
    for page in pages(system):
        assert country in " ".join(page_text(page, 80).split())
        assert not re.search(r"[0-9] (kg|l)\b(?! dry)", shown_amounts(page))


def shown_amounts(page: Page) -> str:
    """Return the cells of the tables that hold a batch's amounts."""
    wanted = ("BOWL", "DOSES", "BUY", "MAKES", "BOIL")
    tables = [b for b in page.blocks if isinstance(b, Table) and b.heading.startswith(wanted)]
    return "\n".join(cell for t in tables for row in t.rows for cell in row if ":" not in cell)


def test_metric_pages_name_no_country() -> None:
    assert all("UNITS" not in page_text(page) for page in pages("metric"))
