"""Figures that are likelier a slip of the pen than meant; what lies within goes through without a word."""

from __future__ import annotations

from eggfold.records import NamedTuple
from eggfold.reference.defaults import Origin


class Slip(NamedTuple):
    """What is outside these bounds is asked about."""

    low: float
    high: float
    unit: str
    why: str
    """Where the bounds come from."""
    origin: Origin = "house default"


NO_BOUND = float("inf")

SLIPS: dict[str, Slip] = {
    "trial-powder": Slip(
        1.2,
        2.9,
        "g/g",
        "110 to 150 g for a large egg and its liquids are 1.7 to 2.3, and as far again",
    ),
    "per-kilo-slip": Slip(
        1 / 3,
        5,
        "times",
        "a dose meant for a kilo and poured into one egg is eight to ten times as strong",
    ),
    "strong-dose": Slip(0, 1, "of STRONG_ML", "what bottles ask for, and several times that"),
    "strong-soak": Slip(0, 200, "g/kg", "dried bait takes up 20 to 60 ml for a kilo"),
    "wet-mix": Slip(0, 1, "g/g", "liquids flavour the egg; they do not outweigh it"),
    "powder-heavy": Slip(0, 0.5, "g/g", "what is over half of the mix is the base mix"),
    "salty": Slip(0, 100, "g/kg", "5 to 30 g per kg are usual"),
    "short-boil": Slip(57, NO_BOUND, "degC", "egg white has hardly begun to set at 61.5 °C"),
    "long-boil": Slip(
        0, 6, "times", "custom boils twice as long as heat asks, some twice that again"
    ),
}
"""The codes, in the order in which a card tells them."""

STRONG_ML = {"flavour": (4.0, 30.0), "oil": (10.0, 80.0), "liquid": (30.0, 200.0)}
"""Most [ml] for 60 g of egg and for a kilo of dry mix; house default. 3 to 10 ml of a flavour and 20
to 50 ml of an oil for a kilo are usual."""
STRONG_EGG_G = 60.0
FLAVOUR_CARRIERS = ("alcohol", "glycol")
"""What carries a flavour; other liquids are syrups and foods."""
LONG_BOIL_S = 300.0
"""No boil up to this [s] is asked about, however small the bait; house default."""
