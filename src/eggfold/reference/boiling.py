"""Targets in the pan and the times that are customary."""

from __future__ import annotations

from eggfold.records import NamedTuple
from eggfold.reference.defaults import Origin
from eggfold.reference.parts import Parts


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
