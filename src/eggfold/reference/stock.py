"""What a unit holds exactly, for stock and packs, and how many digits money has."""

from __future__ import annotations

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
