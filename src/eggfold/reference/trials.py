"""What the comparison of trial mixes is set to."""

from __future__ import annotations

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
