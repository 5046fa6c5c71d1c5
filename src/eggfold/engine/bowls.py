"""A batch split into bowls."""

from __future__ import annotations

import math

from eggfold.records import NamedTuple
from eggfold.reference.session import LONGEST_LOAD_S


class BowlGroup(NamedTuple):
    """So many bowls of so many eggs each."""

    number: int
    eggs: int


def split_eggs(
    eggs: int, paste_of_one_g: float, bowl_g: float, *, more: int = 0
) -> tuple[BowlGroup, ...]:
    """Return the fewest equal bowls that a batch fits into, the odd one last.

    ``most = floor(bowl_g / paste_of_one_g)``, ``bowls = ceil(eggs / most) + more``,
    ``each = ceil(eggs / bowls)``; the last bowl takes what is left over.

    Parameters
    ----------
    eggs : int
        Eggs of the batch [egg], 1 or more.
    paste_of_one_g : float
        Paste that one egg makes [g], above 0.
    bowl_g : float
        Paste that the bowl takes [g], above 0.
    more : int
        How many smaller bowls are made beyond the fewest [-], 0 or more.

    Returns
    -------
    tuple of BowlGroup
        One group, or two where the last bowl is smaller; the eggs add up.

    Notes
    -----
    Eggs stay whole. A bowl too small for one egg still gets one.
    Arithmetic of whole eggs; no source.

    Examples
    --------
    >>> split_eggs(50, 220.0, 5000.0)
    (BowlGroup(number=2, eggs=17), BowlGroup(number=1, eggs=16))
    """
    most = max(1, math.floor(bowl_g / paste_of_one_g + 1e-9))
    each = math.ceil(eggs / (math.ceil(eggs / most) + more))
    full, rest = divmod(eggs, each)
    groups = (BowlGroup(full, each),)
    return (*groups, BowlGroup(1, rest)) if rest else groups


def equal_bowls(paste_g: float, bowl_g: float) -> int:
    """Return the fewest equal bowls that hold a paste which can be divided anywhere.

    ``n = paste_g / bowl_g``, rounded up.

    Parameters
    ----------
    paste_g : float
        Paste of the batch [g], 0 or more.
    bowl_g : float
        Paste that the bowl takes [g], above 0.

    Returns
    -------
    int
        Bowls, 1 or more.

    Notes
    -----
    Liquid egg and base mix are weighed, so no bowl need hold whole eggs; no source.

    Examples
    --------
    >>> equal_bowls(11_000.0, 5000.0), equal_bowls(40.0, 5000.0)
    (3, 1)
    """
    return max(1, math.ceil(paste_g / bowl_g - 1e-9))


def loads_needed(paste_g: float, load_g: float, roll_s: float) -> int:
    """Return how many loads the baits of one size in one bowl are boiled in.

    ``n = max(paste_g / load_g, roll_s / 1800)``, rounded up.

    Parameters
    ----------
    paste_g : float
        Paste of the size in the bowl [g], 0 or more.
    load_g : float
        What the smallest pan takes at once [g], above 0.
    roll_s : float
        How long one person rolls all of it [s], 0 or more.

    Returns
    -------
    int
        Loads, 1 or more.

    Notes
    -----
    No load is rolled for longer than LONGEST_LOAD_S, so that baits moulded by hand do not wait for a full
    pan; no source.

    Examples
    --------
    >>> loads_needed(2184.0, 525.0, 5242.0), loads_needed(240.0, 525.0, 3 * 3600.0)
    (5, 6)
    """
    by_pan = math.ceil(paste_g / load_g - 1e-9)
    return max(1, by_pan, math.ceil(roll_s / LONGEST_LOAD_S - 1e-9))
