"""What a rolling session takes where the plan does not say; all house defaults unless named."""

from __future__ import annotations

MIX_ANY_S = 10 * 60.0
"""Cracking, measuring and mixing a bowl of whatever size [s]; 5 to 20 min."""
MIX_FULL_S = 10 * 60.0
"""What a full bowl takes beyond that, a smaller one its share of it [s]; 5 to 20 min."""
STAND_S = 2.5 * 3600.0
"""From the end of a bowl's rest to its last sausage at the most, covered [s]; above the custom of
under an hour, so that one pair of hands can keep it; 1 to 4 h."""
RAW_S = 2 * 3600.0
"""From the table to the pan at the most, covered [s]; above the custom of under an hour for the same
reason; 0.5 to 3 h."""
WATER_EVERY_G = 10_000.0
"""Paste that one filling of a pan boils [g]; 5 to 20 kg."""
WATER_S = 15 * 60.0
"""Until a pan of new water boils [s]; 5 to 40 min."""
SMALLER_BOWLS = 2
"""So many bowls more than the fewest are tried for each want."""
FEWER_BOWLS_S = 10 * 60.0
"""A bowl more to weigh out and to mix must end the days so much sooner [s]; 0 to 30 min."""
TAP_C = 15.0
"""Water that a pan is filled with [degC]; 5 to 25."""
WATER_HANDS_S = 5 * 60.0
"""Pouring the old water away and filling the pan, part of that [s]; 2 to 10 min."""
CUT_S = 3 * 60.0
"""Cutting two baits of the first load of a size open and judging them [s]; 1 to 5 min."""
CORK_PACE_PER_H = 60.0
"""Baits on cork that one person moulds by hand [1/h]; common practice, 40 to 100, from memory."""
LONGEST_LOAD_S = 30 * 60.0
"""A load that takes longer than this to roll is boiled as several smaller ones [s]; 15 to 60 min."""
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
LONGEST_DAY_S = 16 * 3600.0
"""Nobody is asked to go on for longer than this [s]."""
THAW_S = 10 * 3600.0
"""Out of the freezer so long before the trip [s]; common practice."""
FREEZER_LIFE_DAYS = 180
"""How long bait keeps frozen [d]; common practice, about 6 months."""
ENOUGH = 0.95
"""Share of what is wanted that counts as all of it [-], 0.8 to 1: of the bait or baits that a batch is sized
by, and of what a trip has in hand; powder is not known better; house default."""
THAWED_LIFE_DAYS = 3
"""How long bait keeps once it is thawed [d]; house default, 1 to 5 in the cool."""
DRY_LIFE_DAYS = 7
"""How long dried or fresh bait keeps out of the freezer [d]; house default, 3 days fresh to weeks dried."""
EGG_LIFE_DAYS = 21
"""How long before they are rolled eggs are bought at the most [d]; house default: since December 2022
eggs may be sold in the EU until the 28th day after laying (from memory), and a week of that may have
gone before they are bought."""

SHORT_JOB_S = 15 * 60.0
"""How long turning the trays, or taking bait out of the freezer, stands in a calendar [s]."""
BAGGING_S = 30 * 60.0
"""How long bagging, or putting bait into its soak, stands there [s]."""
ANY_BAIT_G_ML = 1.1
"""Density of bait of which nothing else is known [g/ml]; 0.9 to 1.3."""

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
