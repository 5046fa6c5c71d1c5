"""Kitchen measures by country, and the units file's name for each.

The sizes stand in kitchen_units.txt; a test compares them with the sources named here.
"""

from __future__ import annotations

from typing import NamedTuple

from eggfold.amounts import Measures


class KitchenMeasure(NamedTuple):
    """One measure of one country: its unit in kitchen_units.txt and where its size comes from."""

    unit: str
    source: str


_US = "US customary units, from 231 cubic inches to the gallon"
_IMPERIAL = "UK Weights and Measures Act 1985: one gallon is 4.54609 l (from memory)"
_SPOON = "NIST SP 430: teaspoon 5 ml, tablespoon 15 ml; the same in the UK and New Zealand"

KITCHEN: dict[Measures, dict[str, KitchenMeasure]] = {
    "metric": {
        "tsp": KitchenMeasure("metric_teaspoon", _SPOON),
        "tbsp": KitchenMeasure("metric_tablespoon", _SPOON),
        "cup": KitchenMeasure("metric_cup", "Standards Association of Australia: cup 250 ml"),
    },
    "imperial": {
        "tsp": KitchenMeasure("metric_teaspoon", _SPOON),
        "tbsp": KitchenMeasure("metric_tablespoon", _SPOON),
        "cup": KitchenMeasure("imperial_cup", _IMPERIAL),
        "floz": KitchenMeasure("imperial_fluid_ounce", _IMPERIAL),
        "pint": KitchenMeasure("imperial_pint", _IMPERIAL),
    },
    "us": {
        "tsp": KitchenMeasure("us_teaspoon", _US),
        "tbsp": KitchenMeasure("us_tablespoon", _US),
        "cup": KitchenMeasure("us_cup", _US),
        "floz": KitchenMeasure("us_fluid_ounce", _US),
        "pint": KitchenMeasure("us_pint", _US),
    },
}

WITHOUT_COUNTRY = {"tsp": KITCHEN["metric"]["tsp"], "tbsp": KITCHEN["metric"]["tbsp"]}
"""What a spoon means when the file names no country; listed as an assumption."""

KITCHEN_UNITS = frozenset(KITCHEN["us"])


def kitchen_measure(unit: str, measures: Measures | None) -> KitchenMeasure | None:
    """Return the measure a kitchen unit stands for, or None where that country has none."""
    return (KITCHEN[measures] if measures else WITHOUT_COUNTRY).get(unit)
