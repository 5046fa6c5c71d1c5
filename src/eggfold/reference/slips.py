"""What is hardly meant: how far a figure may be off before it is asked about."""

from __future__ import annotations

from eggfold.records import NamedTuple
from eggfold.reference.defaults import Origin
from eggfold.reference.properties import Parts


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


class Plausible(NamedTuple):
    """From what to what a default may lie, in its own unit, and what would tell."""

    low: float
    high: float
    measure: str


CUT_OPEN = "cut two open"
WEIGH_TUB = "weigh the tub"
PLAUSIBLE = {
    "shell": Plausible(9.5, 12.0, "weigh the shelled eggs"),
    "air": Plausible(2.0, 9.0, "weigh a hundred fresh baits"),
    "bowl_loss": Plausible(1.0, 6.0, "weigh the rolled baits of a bowl"),
    "start": Plausible(14.0, 26.0, "measure it"),
    "film": Plausible(700.0, 2000.0, CUT_OPEN),
    "cooling_film": Plausible(75.0, 300.0, CUT_OPEN),
    "steam_loss": Plausible(1.0, 5.0, "weigh a load before the pan and when it is cold"),
    "drying_diffusivity": Plausible(2.0, 12.0, "weigh the dried baits"),
}
"""By the names that ``assume`` knows; house default."""
ALTITUDE_M = Plausible(0.0, 400.0, "look it up")
"""Where most people live [m]; house default."""
WETTING = Plausible(0.6, 1.1, WEIGH_TUB)
"""A syrup holds sugar and oil does not soak in, so 1 g may wet like less than 1 g of egg; house default."""
DENSITY_G_ML = {
    "liquid": Plausible(0.90, 1.35, "weigh 10 ml of each"),
    "oil": Plausible(0.90, 0.94, "weigh 10 ml of each"),
}
"""From an alcohol to a syrup; oils are all alike [g/ml]; house default."""
TYPICAL_MIX_ENDS = (
    Parts(protein=20.0, fat=6.0, carbohydrate=56.0, fibre=4.0, ash=4.0, water=10.0),
    Parts(protein=50.0, fat=14.0, carbohydrate=14.0, fibre=2.0, ash=12.0, water=8.0),
)
"""A mix of meals and one of fishmeal [%]; house default."""
US_CLASS_SHARE = 0.06
"""Half of what lies between one class of US eggs and the next [-]; house default."""
LEAST_MOVE_PERCENT = 0.5
"""A change under this is not worth a line [%]; house default."""
MOST_MOVES = 10
SHOWN_MOVES = 3
