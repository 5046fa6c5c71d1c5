"""Figures as a page shows them; the only place where anything is rounded."""

from __future__ import annotations

import math

from eggfold.pages.display import Pair, shown_pair, shows_metric


def number_text(value: float, digits: int = 3) -> str:
    """Return a number to so many significant digits, never in powers of ten."""
    if value == 0:
        return "0"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def mass_text(g: float) -> str:
    """Return a mass in g, from a kilo in kg; in oz and lb where the run shows those."""
    return _in_pair(g, shown_pair("mass"))


def volume_text(ml: float) -> str:
    """Return a volume in ml, from a litre in l; in tsp and fl oz where the run shows those."""
    return _in_pair(ml, shown_pair("volume"))


def litres_text(litres: float) -> str:
    """Return the size of a vessel, as it was stated; in fl oz where the run shows those."""
    return f"{litres:g} l" if shows_metric() else volume_text(litres * 1000)


def _in_pair(value: float, pair: Pair) -> str:
    """Return three digits of the small unit, or hundredths of the large one from one of it."""
    if value >= pair.large_size * 0.9995:
        return f"{value / pair.large_size:.2f} {pair.large}"
    return f"{number_text(value / pair.small_size)} {pair.small}"


def amount_text(value: float, unit: str) -> str:
    """Return grams, millilitres or pieces."""
    if unit == "piece":
        return f"{value:g}"
    return mass_text(value) if unit == "g" else volume_text(value)


def seconds_text(seconds: float) -> str:
    """Return a time in the pan."""
    return f"{seconds:.0f} s"


def percent_text(percent: float) -> str:
    """Return an error in per cent, two digits where it is small."""
    return f"±{number_text(percent, 2)} %"


def size_text(diameter_mm: float) -> str:
    """Return a bait's size."""
    return f"{diameter_mm:g} mm"


def eggs_text(count: float) -> str:
    """Return a number of eggs."""
    return "1 egg" if count == 1 else f"{count:g} eggs"
