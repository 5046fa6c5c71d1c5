"""How far a default may plausibly be off, and what to weigh or measure to be rid of the doubt.

These are not the limits of what may be entered; all are house defaults, from the ranges named beside
the defaults and from common practice.
"""

from __future__ import annotations

from eggfold.records import NamedTuple
from eggfold.reference.parts import Parts


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
