"""Working hours of a day, and the trays that are in use."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence

from eggfold.records import NamedTuple

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
