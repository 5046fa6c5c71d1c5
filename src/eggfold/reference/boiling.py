"""What the pan does and what floats: targets, customary times, cork and hooks."""

from __future__ import annotations

from eggfold.records import NamedTuple
from eggfold.reference.defaults import Origin
from eggfold.reference.properties import Parts


class Target(NamedTuple):
    """The most that the centre is to reach, in the pan or after it."""

    name: str
    centre_c: float
    why: str
    origin: Origin
    source: str


TARGETS = {
    "just-set": Target(
        "just-set",
        62.0,
        "egg white begins to set",
        "published",
        "H. This; Belitz, Table 11.4: 61.5 °C",
    ),
    "set": Target(
        "set", 73.0, "beaten whole egg sets", "published", "H. McGee, On Food and Cooking"
    ),
    "cooked": Target(
        "cooked",
        90.0,
        "long past the setting of egg",
        "house default",
        "ours: starch in plenty of water has swollen by 82 °C, but a paste has little",
    ),
}
DEFAULT_TARGET = "set"
"""House default of both strengths."""

CUSTOM = ((16.0, 90.0), (20.0, 120.0))
"""Diameter [mm] and time [s] of bottom baits in the pan, linear between; common practice, from memory."""

ROOM_C = 20.0
"""Air in which boiled baits cool [degC]; house default."""
CONDUCTIVITY_DOUBT_SHARE = 0.10
"""How far a paste may conduct more or less than worked out, before baits were cut open [-]; house
default. Conductivities of meat emulsions, 0.26 to 0.48 W/(m K) by Marcotte et al. 2008, spread wider."""

CUT_LONGER_S = 15.0
"""A bait cut open that is still raw goes on for so long [s]; common practice, from memory."""

SET_THROUGH_C, SET_THROUGH_SD_K = 65.0, 3.0
"""Peak at which a cut bait shows no raw, shiny core, and the doubt about it [degC, K]; house default."""
FACTOR_POINTS, FACTOR_REACH = 41, 0.4
"""Grid of the logarithm of a factor on conductivity, from −0.4 to 0.4 [-]; house default."""

TYPICAL_MIX = Parts(protein=36.0, fat=10.0, carbohydrate=35.0, fibre=4.0, ash=6.0, water=9.0)
"""Analysis [%] of a mix that states none; house default."""


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
LEAST_BAIT_MM, MOST_BAIT_MM = 3.0, 80.0
MOST_HOOK_G = 50.0
MOST_LIFT_G = 100.0
"""What is still a bait; house default."""

EQUAL_DENSITIES_G_ML = 1e-6
"""Paste this close to water lifts the same at any skin [g/ml]; house default."""
