"""How far what was learned is trusted, and what makes a mix the better one."""

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


CONFIDENCE = 0.95
"""Of an interval, 0.5 to 0.999; common practice."""

PRIOR_DISPERSION = 2.0
"""Variance of takes over their mean before any outing, 1 to 10; house default. Of bass caught by 18
anglers on 42 dates, a public analysis of a creel survey in Wisconsin lakes found far more spread than
Poisson's: negative binomial of size 4.35 beside a log-sd of 0.6 between dates."""
PRIOR_OUTINGS = 4.0
"""Outings that it counts for, 0 to 20; house default."""
LEAST_EXPECTED = 0.5
"""Takes that an outing is at least divided by [-], 0.1 to 2, so that one take where hardly any was
expected is no proof of spells; house default."""
PRIOR_TAKES = 4.0
"""Takes at the rate of all mixes together that each mix begins with, 0.5 to 20; house default."""

RATIO_SD = 0.7
"""How far two mixes' rates may differ, 1 sd of the logarithm of their ratio, 0.2 to 1.5: a factor of
two; house default."""
RATIO_REACH = 2.1
"""The furthest ratios tried, as logarithms on both sides, three of their sd; house choice."""
RATIOS = 41
"""Ratios tried, evenly spaced in their logarithm, an odd number from 11 to 201; house choice."""
MOST_EVIDENCE = 1e6
"""Evidence above this is not told further, 1e3 to 1e9; house default."""
TOLD_APART = 20.0
"""Evidence from which two mixes are told apart, 5 to 1000: were they equal, no more than one season
in so many would ever reach it, however often one looks; common practice as one in twenty."""
LEANING = 3.0
"""Evidence from which it leans towards the better one, 1 to 10; common practice, as in Jeffreys, H.,
"Theory of probability", appendix B, where evidence under 3 is barely worth a mention (from memory)."""
MOST_MORE_ROD_HOURS = 500.0
"""More rod-hours than this are no plan and are not told [h], 50 to 5000; house default."""

POWER_Z = 2.802
"""Standard normal quantiles of 0.975 and 0.80, 1.960 + 0.842: 80 % power at 5 % two-sided;
published in any table of the normal distribution."""

MOST_MIXES = 100
"""Mixes in one comparison, 2 to 1000; a house limit, far beyond what anybody fishes."""
