"""What the comparison of trial mixes is set to."""

from __future__ import annotations

CONFIDENCE = 0.95
"""Of an interval, 0.5 to 0.999; common practice."""

TIE = 1e-7
"""Two outcomes this near, relatively, are as likely as each other, 0 to 1e-6: the tolerance of
binom.test and poisson.test in R, and of scipy.stats.binomtest."""

JEFFREYS_SHAPE = 0.5
"""Takes that the prior adds, 0 to 1. Jeffreys, H., "An invariant form for the prior probability in
estimation problems", Proc. R. Soc. A 186, 1946: for a Poisson rate, a gamma of shape 1/2."""

POWER_Z = 2.802
"""Standard normal quantiles of 0.975 and 0.80, 1.960 + 0.842: 80 % power at 5 % two-sided;
published in any table of the normal distribution."""

SIGNIFICANCE = 0.05
"""A p-value below this is called more than chance, 0.001 to 0.1; common practice."""

MOST_MIXES = 200
"""Mixes in one comparison, 2 to 1000; a house limit, far beyond what anybody fishes."""

FEW_TAKES = 5
"""Below this many takes the normal curve stands badly for their spread, 1 to 20; common practice."""
