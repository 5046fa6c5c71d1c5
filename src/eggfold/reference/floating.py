"""What a bait on a cork ball floats or sinks by."""

from __future__ import annotations

STEEL_DENSITY_G_ML = 7.85
"""Carbon steel, the hook [g/ml]; EN 1991-1-1 Table A.4 has 77.0 to 78.5 kN/m³, from memory."""

BALANCED_G = 0.05
"""A lift within this of 0 hangs in the water as good as weightless [g]; house default."""

SINKS_FAST_G = -0.10
"""A wafter with less lift than this drops like a stone instead of settling [g]; house default."""

CORK_RANGE_G_ML = (0.10, 0.24)
"""How light and how heavy a cork ball may be that nobody weighed [g/ml]: solid cork is sold at 0.12
to 0.24, and grain of light granules, with the air between them counted out, weighs from 0.10 (ours)."""

LEAST_CORE_MM, MOST_CORE_MM = 3.0, 60.0
LEAST_SKIN_MM, MOST_SKIN_MM = 0.1, 30.0
MOST_BAIT_MM = 80.0
MOST_HOOK_G = 50.0
MOST_LIFT_G = 100.0
"""What is still a bait; house default."""

EQUAL_DENSITIES_G_ML = 1e-6
"""Paste this close to water lifts the same at any skin [g/ml]; house default."""
