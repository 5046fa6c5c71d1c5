"""What learning from the scale and from blends is set to."""

from __future__ import annotations

from eggfold.records import NamedTuple
from eggfold.reference.defaults import DEFAULTS


class Learning(NamedTuple):
    """How much a figure may differ before its first bowl, from bowl to bowl, and as time goes by.

    All are standard deviations of the figure's logarithm, in effect shares of it; house defaults,
    each 0 to 0.5, the least and the most above 0.
    """

    level_sd: float
    """Doubt about the level before the first bowl."""
    bowl_sd: float
    """How much bowls usually scatter."""
    freedom: float
    """How many bowls the usual scatter counts for, 1 to 20; a scaled inverse chi-squared."""
    least_bowl_sd: float
    most_bowl_sd: float
    """The steadiest and the unsteadiest hand that is thought of."""
    drift_sd: float
    """How far the level moves from one bowl to the next: new bags, another hand."""


ABSORBENCY = Learning(
    DEFAULTS["absorbency_sd"].value / 100, DEFAULTS["bowl_sd"].value / 100, 4, 0.015, 0.25, 0.015
)
"""Dry mix per gram of wet."""
YIELD = Learning(0.04, 0.02, 4, 0.004, 0.10, 0.01)
"""Finished bait over what was expected of that bowl."""
DENSITY = Learning(0.03, 0.02, 4, 0.004, 0.10, 0.01)
"""Paste density over what was expected."""

SCATTERS = 25
"""Bowl-to-bowl scatters that are tried, evenly spaced in their logarithm, 10 to 100; a house choice:
a grid eight times as fine moves no range by 1e-3."""

RANGE_TAIL = 0.05
"""Share of bowls left out at either end of a range, 0.005 to 0.25: 90 in 100 lie within; common
practice."""
RANGE_Z = 1.6448536269514722
"""Where a standard normal variable has the upper of those tails [-]; any table of it."""

FAR_TAIL = 0.0005
"""A bowl further out than this, at either end, of what the others predict is named, 1e-5 to 0.01:
99.9 in 100 lie within; house default."""
MOST_FAR = 3
"""Bowls that are left out in turn, the furthest, 1 to 10; house default."""

TRIAL_SD = 0.05
"""Doubt about the absorbency [-] from one trial whose eggs were weighed, 0 to 0.5; house default."""
GRADED_EGG_SD = 0.042
"""Doubt about one graded egg [-], 0 to 0.2: a mass anywhere in a class 10 g wide about 68 g, as a
uniform distribution has it; worked out from the classes of Delegated Regulation (EU) 2023/2465."""

INGREDIENT_SD = 0.25
"""How far ingredients differ in the wet they take [-], of the default, 0.05 to 0.5; house default."""
BLEND_SD = 0.05
"""How far a blend strays from the mean of its ingredients [-], of the default, 0 to 0.2; house
default."""
LEAST_MIX_SD = 0.02
"""No mix is known better than this [-], 0.005 to 0.1; house default."""
WET_LIMITS = (0.5, 2.0)
"""The wet a prediction may ask, of the default [-], 0.1 to 10; house default."""
BLEND_SD_LIMITS = (0.05, 0.25)
"""The doubt about a predicted blend [-], 0 to 0.5; house default."""
LONE_BLEND_SD_LIMITS = (0.10, 0.25)
"""The same where nothing was learned of any of its ingredients."""
MOST_NEIGHBOURS = 50
"""Mixes that a blend learns from, 1 to 100; a house limit."""
