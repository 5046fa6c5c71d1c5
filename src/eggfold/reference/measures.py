"""Kitchen measures by country, and the units file's name for each.

The sizes stand in kitchen_units.txt; a test compares them with the sources named here.
"""

from __future__ import annotations

from eggfold.amounts import Measures
from eggfold.records import NamedTuple
from eggfold.reference.defaults import Origin


class KitchenMeasure(NamedTuple):
    """One measure of one country: its unit in kitchen_units.txt and what states its size."""

    unit: str
    source: str
    origin: Origin = "published"


_TSP = KitchenMeasure("metric_teaspoon", "NIST SP 430, 2004: teaspoon 5 ml")
_TBSP = KitchenMeasure("metric_tablespoon", "NIST SP 430, 2004: tablespoon 15 ml")
_GALLON = "of a gallon of 4.54609 l"
_US_GALLON = "of a gallon of 231 cubic inches"

KITCHEN: dict[Measures, dict[str, KitchenMeasure]] = {
    "metric": {
        "tsp": _TSP,
        "tbsp": _TBSP,
        "cup": KitchenMeasure("metric_cup", "Standards Association of Australia: cup 250 ml"),
    },
    "imperial": {
        "tsp": _TSP,
        "tbsp": _TBSP,
        "cup": KitchenMeasure("imperial_cup", "half a pint", "common practice"),
        "floz": KitchenMeasure("imperial_fluid_ounce", f"UCUM [foz_br]: a 160th {_GALLON}"),
        "pint": KitchenMeasure("imperial_pint", f"UCUM [pt_br]: an eighth {_GALLON}"),
    },
    "us": {
        "tsp": KitchenMeasure("us_teaspoon", f"UCUM [tsp_us]: 4.9289 ml, {_US_GALLON}"),
        "tbsp": KitchenMeasure("us_tablespoon", f"UCUM [tbs_us]: 14.7868 ml, {_US_GALLON}"),
        "cup": KitchenMeasure("us_cup", f"UCUM [cup_us]: 236.5882 ml, {_US_GALLON}"),
        "floz": KitchenMeasure("us_fluid_ounce", f"UCUM [foz_us]: 29.5735 ml, {_US_GALLON}"),
        "pint": KitchenMeasure("us_pint", f"UCUM [pt_us]: an eighth {_US_GALLON}"),
    },
}

WITHOUT_COUNTRY = {"tsp": _TSP, "tbsp": _TBSP}
"""What a spoon means when the file names no country; listed as an assumption."""

KITCHEN_UNITS = frozenset(KITCHEN["us"])


def kitchen_measure(unit: str, measures: Measures | None) -> KitchenMeasure | None:
    """Return the measure a kitchen unit stands for, or None where that country has none."""
    return (KITCHEN[measures] if measures else WITHOUT_COUNTRY).get(unit)
