"""Figures as a page shows them; the only place where anything is rounded."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal
    from fractions import Fraction

    from eggfold.engine.measuring import Reading
    from eggfold.engine.scaling import Measure


def number_text(value: float, digits: int = 3) -> str:
    """Return a number to so many significant digits, never in powers of ten."""
    if value == 0:
        return "0"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def mass_text(g: float) -> str:
    """Return a mass in g, from a kilo in kg."""
    if g >= 999.5:
        return f"{g / 1000:.2f} kg"
    return f"{number_text(g)} g"


def volume_text(ml: float) -> str:
    """Return a volume in ml, from a litre in l."""
    if ml >= 999.5:
        return f"{ml / 1000:.2f} l"
    return f"{number_text(ml)} ml"


def amount_text(value: float, unit: str) -> str:
    """Return grams, millilitres or pieces."""
    if unit == "piece":
        return f"{value:g}"
    return mass_text(value) if unit == "g" else volume_text(value)


def money_text(amount: Decimal, currency: str) -> str:
    """Return money as it is counted, every coin of it."""
    return f"{amount:f} {currency}"


def price_text(per_unit: Fraction, currency: str) -> str:
    """Return a price worked out for one kilo or one bait, which no coin need fit."""
    value = float(per_unit)
    return f"{value:.2f} {currency}" if value >= 1 else f"{number_text(value)} {currency}"


def measure_text(measure: Measure, *, by_volume: bool) -> str:
    """Return an additive's amount the way its dose is written: by volume or by mass."""
    if by_volume and measure.ml is not None:
        return volume_text(measure.ml)
    return mass_text(measure.g)


def reading_text(reading: Reading) -> str:
    """Return what to read on a tool, to the tool's own division."""
    decimals = max(0, len(f"{reading.tool.division:g}".partition(".")[2]))
    return f"{reading.in_words}: {reading.amount:.{decimals}f} {reading.tool.unit}"


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
