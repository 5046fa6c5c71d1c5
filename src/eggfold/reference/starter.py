"""What a starter folder holds in each system of units; examples to be changed, no advice."""

from __future__ import annotations

from typing import Literal

System = Literal["metric", "imperial", "us"]

STARTERS: dict[System, dict[str, str]] = {
    "metric": {
        "bag": "130 g",
        "flavour_egg": "0.5 ml per egg",
        "flavour_mix": "5 ml per kg mix",
        "measures": "",
        "bowl": "5 kg",
        "pan": "5 l",
        "currency": "EUR",
        "mix_left": "2.5 kg",
        "mix_pack": "5 kg",
    },
    "imperial": {
        "bag": "4.6 oz",
        "flavour_egg": "0.1 tsp per egg",
        "flavour_mix": "0.5 tsp per lb mix",
        "measures": "measures: imperial        # whose spoons, cups and pints\n",
        "bowl": "11 lb",
        "pan": "5 l",
        "currency": "GBP",
        "mix_left": "5.5 lb",
        "mix_pack": "11 lb",
    },
    "us": {
        "bag": "4.6 oz",
        "flavour_egg": "0.1 tsp per egg",
        "flavour_mix": "0.5 tsp per lb mix",
        "measures": "measures: us              # whose spoons, cups and pints\n",
        "bowl": "11 lb",
        "pan": "5 l",
        "currency": "USD",
        "mix_left": "5.5 lb",
        "mix_pack": "11 lb",
    },
}
SYSTEMS: dict[str, System] = {name: name for name in STARTERS}
MIX_PRICES: dict[System, str] = {"metric": "24", "imperial": "22", "us": "26"}
"""130 g a large egg and 5 ml of flavour per kg are common practice; the prices are invented."""

BOXES = {"eu": ("10", "3.20"), "us": ("12", "3.60")}
"""Eggs in a box and its invented price."""
