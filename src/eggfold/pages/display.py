"""Which units the pages of a run show: set once by the command, read by figures.py."""

from __future__ import annotations

from contextvars import ContextVar
from functools import lru_cache
from typing import Literal

from eggfold.amounts import Amount, Measures
from eggfold.pages.page import Lines
from eggfold.records import NamedTuple


class Pair(NamedTuple):
    """A small and a large unit of one dimension, and how much of g or ml each is."""

    small: str
    small_size: float
    large: str
    large_size: float


Dimension = Literal["mass", "volume"]

_METRIC: dict[Dimension, Pair] = {
    "mass": Pair("g", 1, "kg", 1000),
    "volume": Pair("ml", 1, "l", 1000),
}
_SHOWN: ContextVar[Measures] = ContextVar("shown units", default="metric")


def show_units(measures: Measures) -> None:
    """Choose the units of every page that is made from now on."""
    _SHOWN.set(measures)


def shows_metric() -> bool:
    """Tell whether pages show g, kg, ml and l."""
    return _SHOWN.get() == "metric"


def shown_pair(dimension: Dimension) -> Pair:
    """Return the units that pages show for masses or volumes."""
    measures = _SHOWN.get()
    return _METRIC[dimension] if measures == "metric" else _pairs(measures)[dimension]


@lru_cache
def _pairs(measures: Measures) -> dict[Dimension, Pair]:
    from eggfold.units import amount_in  # noqa: PLC0415 - metric pages need no conversion

    def size(name: str, unit: str) -> float:
        return amount_in(Amount(1.0, name), unit, measures)

    return {
        "mass": Pair("oz", size("oz", "g"), "lb", size("lb", "g")),
        "volume": Pair("tsp", size("tsp", "ml"), "fl oz", size("floz", "ml")),
    }


def quart_ml() -> float:
    """Return a quart, of 32 fl oz in the US and 40 in the UK [ml]."""
    return (32 if _SHOWN.get() == "us" else 40) * shown_pair("volume").large_size


def units_lines() -> tuple[Lines, ...]:
    """Return the lines that name the country of a page's units; none for metric."""
    measures = _SHOWN.get()
    if measures == "metric":
        return ()
    mass, volume = shown_pair("mass"), shown_pair("volume")
    spoon, ounce = ("US", "US") if measures == "us" else ("UK", "imperial")
    text = (
        f"Volumes in {spoon} tsp (1 tsp is {volume.small_size:.4g} ml) and {ounce} fl oz "
        f"({volume.large_size:.4g} ml), pans and freezers in qt ({quart_ml():.4g} ml), trays in sq ft, "
        f"weights in avoirdupois oz ({mass.small_size:.4g} g) and lb "
        f"({mass.large_size:.4g} g). Readings stay in the tool's unit; sizes, temperatures, "
        "densities, assumptions and sums stay metric."
    )
    name = "US customary" if measures == "us" else "imperial (UK)"
    return (Lines(f"UNITS  {name}", (text,)),)
