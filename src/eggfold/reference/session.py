"""What a rolling session takes where the plan does not say; all house defaults unless named."""

from __future__ import annotations

MIX_S = 20 * 60.0
"""Cracking, measuring and mixing one bowl [s]."""
REST_S = 10 * 60.0
"""Rest of the paste before it is rolled [s]; common practice, 5 to 15 minutes."""
COOL_S = 10 * 60.0
"""A load cools before it counts as drying [s]."""
CLEANING_S = 30 * 60.0
"""Cleaning at the end of each day [s]."""
DRYING_S = 48 * 3600.0
"""Drying in one layer [s]; common practice, 24 to 72 h."""
TURN_AT = ("08:00", "20:00")
"""When trays are turned and emptied: common practice says twice a day, the hours are ours."""
SETTLE_S = 4 * 3600.0
"""Baits that lie for less than this are left alone at the next turning [s]."""
RAW_BAITS_STAND_S = 60 * 60.0
"""Raw baits that stand for longer than this before their boil are warned of [s]; house default,
0 to 2 h: they are raw egg in the warm, and their skin dries."""
LONGEST_DAY_S = 16 * 3600.0
"""Nobody is asked to go on for longer than this [s]."""
THAW_S = 10 * 3600.0
"""Out of the freezer so long before the trip [s]; common practice."""
FREEZER_LIFE_DAYS = 180
"""How long bait keeps frozen [d]; common practice, about 6 months."""
EGG_LIFE_DAYS = 21
"""How long before they are rolled eggs are bought at the most [d]; 28 days from laying is the
best-before date of Regulation (EC) 589/2008, article 13, and a week has gone before they are sold."""

PACE_RANGE = (1.0 / 1.5, 2.0 / 1.5)
"""How slow and how fast rolling may go, as shares of the pace: 1 to 2 kg/h around 1.5, from memory."""
OWN_PACE_RANGE = (0.85, 1.15)
"""The same where the bench states the pace."""

TRAY_AREA_FACTOR = 1.4
"""Tray for one of the squares that balls fill side by side; house default."""
LOOSE_PACKING_SOURCE = "balls tipped in loosely fill 55 % (Jerkins 2008) to 64 %"
LOOSE_PACKING = 0.60
"""Share of a freezer bag that is bait; house default between the loosest packing of rough spheres,
0.55 (Jerkins et al. 2008), and the closest random one, 0.64."""

ROLLING_STARTS_AT = "09:00"
TRIP_LEAVES_AT = "06:00"
"""Times of day of a campaign that states none."""
BUY_DAYS_BEFORE = 1
"""Shopping is done so many days before the first rolling day that needs it."""
