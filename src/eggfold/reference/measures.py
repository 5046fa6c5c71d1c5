"""What spoons, cups and units hold, and how many digits money has."""

from __future__ import annotations

from typing import Literal, TypeAlias

from eggfold.amounts import Measures
from eggfold.records import NamedTuple
from eggfold.reference.defaults import Origin

ToolKind: TypeAlias = Literal["scale", "syringe", "jug", "spoon", "dropper"]


class Tool(NamedTuple):
    """A tool, what one filling holds and what it can tell apart, both in its unit."""

    name: str
    kind: ToolKind
    unit: Literal["g", "ml"]
    capacity: float
    division: float


SPOON_DIVISION = 0.2
"""A level spoon is right within 10 %: its division as a share of it; house default."""
DROP_ML = 0.05
"""20 drops of water to the millilitre, each within 10 %: USP 32 general chapter 1101."""

SCALES = (
    Tool("pocket scale", "scale", "g", 200.0, 0.1),
    Tool("scale", "scale", "g", 2000.0, 1.0),
)
SYRINGES = tuple(
    Tool(f"{capacity:g} ml syringe", "syringe", "ml", capacity, division)
    for capacity, division in ((1.0, 0.01), (2.5, 0.1), (5.0, 0.2), (10.0, 0.5), (20.0, 1.0))
)
SPOONS = tuple(
    Tool(name, "spoon", "ml", size, size * SPOON_DIVISION)
    for name, size in (("1/4 tsp", 1.25), ("1/2 tsp", 2.5), ("1 tsp", 5.0), ("1 tbsp", 15.0))
)
DROP_DIVISION = 0.2
"""A drop is right within 10 %, so its division is a fifth of it: same source as DROP_ML."""
DROPPER = Tool("dropper", "dropper", "ml", DROP_ML, DROP_ML * DROP_DIVISION)

BUILT_IN = (*SYRINGES, *SCALES, *SPOONS, DROPPER)

MOST_FILLINGS = 5
"""So often a tool is filled for one dose; house default."""
MOST_DROPS = 20
"""So many drops are counted for one dose, of which each may be out by a tenth; house default."""
BLIND_PERCENT = 50.0
"""A tool that is out by more than this does not show a dose: half a division of one; house default."""
PREMIX_DIVISIONS = 10
"""So many divisions of the additive go into a premix at the least, so that it is within 5 %; house default."""
PREMIX_ROOM = 100.0
"""So much water or oil is stirred for a premix at the most [g or ml]; house default."""
FINER_DIVISIONS_G = (0.1, 0.01, 0.001)
"""What the scales to be had tell apart [g]; common practice, from memory."""
FINER_UP_TO_G = 50.0
"""What the finest of them take [g]; common practice, from memory, 20 to 100."""
WARN_PERCENT = 5.0
"""Error of a reading that earns a warning; common practice."""

BOWL_G = 5000.0
"""Paste that a bowl takes [g]; house default."""
PAN_L = 5.0
"""Water in the pan [l]; house default, common practice says 5 l or more."""
PACE_KG_H = 1.5
"""Paste that one person rolls with gun and table [kg/h]; common practice, from memory, 1 to 2."""
PEOPLE = 1
"""House default."""

SCOOPS = 3
"""Scoops from what goes in at once to what is expected, and as many to the end of the tub; house default."""
TUB_STEPS_G = ((200.0, 1.0, 2.0), (500.0, 5.0, 5.0), (10_000.0, 10.0, 10.0), (1e9, 50.0, 50.0))
"""A tub under the first weight is told in steps of the second, its paste loosened with the third [g] of
egg at a time; house default."""


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


EXACT_SIZES: dict[str, str] = {
    "piece": "1",
    "g": "1",
    "kg": "1000",
    "mg": "0.001",
    "oz": "28.349523125",
    "lb": "453.59237",
    "ml": "1",
    "l": "1000",
    "drop": "0.05",
    "metric_teaspoon": "5",
    "metric_tablespoon": "15",
    "metric_cup": "250",
    "imperial_fluid_ounce": "28.4130625",
    "imperial_cup": "284.130625",
    "imperial_pint": "568.26125",
    "us_teaspoon": "4.92892159375",
    "us_tablespoon": "14.78676478125",
    "us_fluid_ounce": "29.5735295625",
    "us_cup": "236.5882365",
    "us_pint": "473.176473",
}
"""Grams, millilitres or pieces, by unit of amounts.py or of kitchen_units.txt.

Decimal digits, so that kg and lb add up exactly; a test compares them with kitchen_units.txt, whose
sizes have the sources of measures.py (the pound: International Yard and Pound Agreement of 1959).
"""

MINOR_DIGITS: dict[str, int] = {
    **dict.fromkeys(
        ("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND"), 0
    ),
    **dict.fromkeys(("VUV", "XAF", "XOF", "XPF"), 0),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
}
"""Digits behind the point of a price [ISO 4217, minor units; from memory]; all others have two."""

SOON_DAYS = 30
"""A thing is soon due when its date is at most so many days off [house default]."""

USUAL_MINOR_DIGITS = 2


def minor_digits(currency: str) -> int:
    """Return how many digits a price in a currency has behind its point."""
    return MINOR_DIGITS.get(currency.upper(), USUAL_MINOR_DIGITS)
