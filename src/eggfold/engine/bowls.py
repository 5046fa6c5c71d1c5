"""A batch split into bowls."""

from __future__ import annotations

import math
from typing import NamedTuple


class BowlGroup(NamedTuple):
    """So many bowls of so many eggs each."""

    number: int
    eggs: int


def split_eggs(eggs: int, paste_of_one_g: float, bowl_g: float) -> tuple[BowlGroup, ...]:
    """Return the fewest equal bowls that a batch fits into, the odd one last.

    ``most = floor(bowl_g / paste_of_one_g)``, ``bowls = ceil(eggs / most)``,
    ``each = ceil(eggs / bowls)``; the last bowl takes what is left over.

    Parameters
    ----------
    eggs : int
        Eggs of the batch [egg], 1 or more.
    paste_of_one_g : float
        Paste that one egg makes [g], above 0.
    bowl_g : float
        Paste that the bowl takes [g], above 0.

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
    each = math.ceil(eggs / math.ceil(eggs / most))
    full, rest = divmod(eggs, each)
    groups = (BowlGroup(full, each),)
    return (*groups, BowlGroup(1, rest)) if rest else groups
