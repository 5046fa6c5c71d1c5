"""Where bowls are made: working hours, people, stations and trays, and the least time they take."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Sequence

from eggfold.records import NamedTuple
from eggfold.reference import session as default

ROUNDING_S = 1e-6
"""Two times closer than this are the same moment."""
ROUNDING_M2 = 1e-9


class Hours(NamedTuple):
    """When people work [s]: from opening to closing, without the breaks."""

    opens_s: float = 0.0
    closes_s: float = math.inf
    breaks: tuple[tuple[float, float], ...] = ()


class Lying(NamedTuple):
    """Trays in use until a time [s]."""

    until_s: float
    area_m2: float


def emptied_s(dry_s: float, frees_at: Sequence[float]) -> float:
    """Return when a tray is emptied: the first such moment at which its bait is dry.

    Parameters
    ----------
    dry_s : float
        When the bait is dry [s], on the clock of frees_at.
    frees_at : sequence of float
        Moments at which trays are emptied, ascending [s].

    Returns
    -------
    float
        Time [s]; the moment it is dry where no other is given.

    Notes
    -----
    The first moment that is late enough; no source. After the last one the trays are emptied at once.

    Examples
    --------
    >>> emptied_s(100.0, [50.0, 150.0])
    150.0
    """
    at = bisect_left(frees_at, dry_s - ROUNDING_S)
    return frees_at[at] if at < len(frees_at) else dry_s


class PanLoad(NamedTuple):
    """One basket: its mix and size, paste [g], times [s], tray [m²] and how long it lies there [s].

    ``wait_s`` is how long pan and person stay taken after the boil; a load of no boil goes from the
    table to the trays.
    """

    size: str
    paste_g: float
    roll_s: float
    boil_s: float
    wait_s: float
    area_m2: float = 0.0
    lies_s: float = 0.0

    @property
    def pan_s(self) -> float:
        """How long the pan is taken."""
        return self.boil_s + self.wait_s if self.boil_s else 0.0

    def part(self, share: float) -> PanLoad:
        """Return a share of it: its paste, its rolling and its trays."""
        paste_g, roll_s = share * self.paste_g, share * self.roll_s
        return self._replace(paste_g=paste_g, roll_s=roll_s, area_m2=share * self.area_m2)


class BowlWork(NamedTuple):
    """One bowl: how long it is mixed [s], its loads, and its worth: what is worth most stays longest."""

    mix_s: float
    loads: tuple[PanLoad, ...]
    worth: float = 0.0

    @property
    def sizes(self) -> int:
        """How many sizes it is rolled to."""
        return len({load.size for load in self.loads})

    def hands_s(self, pans: int) -> float:
        """Return how long one person has to do with it at the least, all pans boiling at once."""
        return self.mix_s + sum(load.roll_s + load.pan_s / pans for load in self.loads)


class Workplace(NamedTuple):
    """People, stations and trays, the limits that paste and baits keep, and the times of each step.

    ``stand_s`` runs from the end of a bowl's rest to its last sausage, ``raw_s`` from the table to the
    pan. With ``roles`` the pan belongs to one person for a whole bowl, and one person alone rolls a bowl
    to its end before it is boiled; without them whoever is free boils.
    """

    people: int
    tables: int = 1
    pans: int = 1
    mixing_bowls: int = 1
    area_m2: float = math.inf
    rest_s: float = default.REST_S
    cleaning_s: float = default.CLEANING_S
    stand_s: float = default.STAND_S
    raw_s: float = default.RAW_S
    cut_s: float = default.CUT_S
    water_s: float = default.WATER_S
    water_hands_s: float = default.WATER_HANDS_S
    water_every_g: float = default.WATER_EVERY_G
    roles: bool = True


class StationLoad(NamedTuple):
    """A station or the people, its work shared out [s], and the earliest end that this allows [s]."""

    what: str
    work_s: float
    earliest_s: float


def mixing_s(paste_g: float, bowl_g: float) -> float:
    """Return how long one bowl is mixed, cracking and measuring included.

    ``t = 600 + 600 * paste_g / bowl_g``

    Parameters
    ----------
    paste_g : float
        Paste of this bowl [g], 0 or more.
    bowl_g : float
        Paste that the bowl takes [g], above 0.

    Returns
    -------
    float
        Time [s].

    Notes
    -----
    A house default; no source.

    Examples
    --------
    >>> mixing_s(4500.0, 5000.0)
    1140.0
    """
    return default.MIX_ANY_S + default.MIX_FULL_S * paste_g / bowl_g


def rolling_s(paste_g: float, pace_kg_h: float) -> float:
    """Return how long one table rolls.

    ``t = paste_g / 1000 / pace_kg_h * 3600``

    Parameters
    ----------
    paste_g : float
        Paste [g], 0 or more.
    pace_kg_h : float
        What one table rolls, above 0 [kg/h].

    Returns
    -------
    float
        Time [s].

    Notes
    -----
    The definition of a pace; no source.

    Examples
    --------
    >>> rolling_s(500.0, 1.5)
    1200.0
    """
    return paste_g / 1000 / pace_kg_h * 3600


def station_loads(bowls: Sequence[BowlWork], workplace: Workplace) -> tuple[StationLoad, ...]:
    """Return what mixing bowls, tables, pans and people have to do, and when they can be done.

    ``earliest = min(head) + sum(seconds) / number + min(tail)``: the work of a station shared out
    over its number, behind the shortest way to it and before the shortest way out of it [1]_.

    Parameters
    ----------
    bowls : sequence of BowlWork
        Bowls of one day.
    workplace : Workplace
        Where they are made.

    Returns
    -------
    tuple of StationLoad
        mix, roll, boil and people, each from the start of the day, without breaks and cleaning.

    Notes
    -----
    Pan water and cut tests are left out: a bound of what must be done in any case.

    Examples
    --------
    >>> bowl = BowlWork(1200.0, (PanLoad("20 mm", 500.0, 1200.0, 110.0, 60.0),))
    >>> [s.earliest_s for s in station_loads([bowl, bowl], Workplace(2))]
    [4370.0, 4370.0, 3340.0, 2570.0]

    References
    ----------
    .. [1] Carlier, J., "The one-machine sequencing problem", European Journal of Operational
       Research, 1982, the bound of section 3.
    """
    loads = [load for bowl in bowls for load in bowl.loads]
    mix = [bowl.mix_s for bowl in bowls]
    roll = [load.roll_s for load in loads]
    pan = [load.pan_s for load in loads]
    after = [_least(load.roll_s + load.pan_s for load in b.loads) for b in bowls]
    head_s = _least(mix) + workplace.rest_s
    to_pan_s = _least(
        b.mix_s + workplace.rest_s + load.roll_s for b in bowls for load in b.loads if load.boil_s
    )
    people_s = sum(bowl.hands_s(workplace.pans) for bowl in bowls) / workplace.people
    return (
        _station("mix", mix, workplace.mixing_bowls, 0.0, workplace.rest_s + _least(after)),
        _station("roll", roll, workplace.tables, head_s, _least(pan)),
        _station("boil", pan, workplace.pans, to_pan_s, 0.0),
        StationLoad("people", people_s, people_s),
    )


def _least(seconds: Iterable[float]) -> float:
    return min(seconds, default=0.0)


def _station(
    what: str, seconds: Sequence[float], number: int, head_s: float, tail_s: float
) -> StationLoad:
    work_s = sum(seconds) / number
    return StationLoad(what, work_s, head_s + work_s + tail_s if work_s else 0.0)
