"""The demo weekend's bowls, from the figures of its cards: mass, baits, loads and boils."""

from __future__ import annotations

import math

from eggfold.engine.workplace import BowlWork, Hours, PanLoad, Workplace, mixing_s

HOUR = 3600.0
PACE_KG_H = 1.5
OLD_MIX_S = 1200.0


def loads_of(size: str, paste_g: float, number: int, boil_s: float) -> tuple[PanLoad, ...]:
    return (PanLoad(size, paste_g, paste_g / PACE_KG_H * 3.6, boil_s, 60.0),) * number


def hours_of(day: int) -> Hours:
    """Return nine hours with a break from 12:30 to 13:15."""
    opens = 24 * HOUR * day
    return Hours(opens, opens + 9 * HOUR, ((opens + 3.5 * HOUR, opens + 4.25 * HOUR),))


def fish(eggs: int, mix_s: float | None = None) -> BowlWork:
    """Return a bowl of the fish mix: half of it to 16 mm, half to 20 mm."""
    half_g = 168.0 * eggs / 2
    number = math.ceil(half_g / 525)
    loads = (
        *loads_of("fish 16 mm", half_g / number, number, 110.0),
        *loads_of("fish 20 mm", half_g / number, number, 110.0),
    )
    return BowlWork(mixing_s(173.0 * eggs, 5000.0) if mix_s is None else mix_s, loads)


def caraway(eggs: int) -> BowlWork:
    number = math.ceil(200.0 * eggs / 525)
    loads = loads_of("caraway 20 mm", 200.0 * eggs / number, number, 150.0)
    return BowlWork(mixing_s(206.0 * eggs, 5000.0), loads)


HOOKBAITS = BowlWork(mixing_s(607.0, 5000.0), loads_of("caraway 14 mm", 294.0, 2, 61.0), 1.0)
LARGE = BowlWork(
    OLD_MIX_S, (*loads_of("fish 16 mm", 437.0, 5, 110.0), *loads_of("fish 20 mm", 524.0, 4, 110.0))
)
SATURDAY = (LARGE, LARGE, LARGE)
SUNDAY = (fish(23), HOOKBAITS, caraway(22), caraway(21))
SMALLER_SATURDAY = (fish(20), fish(20), fish(20), fish(20))
SMALLER_SUNDAY = (fish(21), HOOKBAITS, caraway(15), caraway(14), caraway(14))

TWO_PEOPLE = Workplace(2, tables=2)
AT_ONCE = TWO_PEOPLE._replace(
    roles=False, cut_s=0.0, water_every_g=math.inf, stand_s=247 * 60.0, raw_s=2 * HOUR
)
