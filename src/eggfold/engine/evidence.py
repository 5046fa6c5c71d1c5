"""Evidence that one rate is not another, which may be looked at after every outing."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Container, Hashable, Mapping, Sequence
from typing import TypeVar

from eggfold.records import NamedTuple
from eggfold.reference.trials import MOST_EVIDENCE, RATIO_REACH, RATIO_SD, RATIOS

Day = TypeVar("Day", bound=Hashable)


class Catch(NamedTuple):
    """Takes and rod-hours, of one outing or of several together."""

    takes: int = 0
    rod_hours: float = 0.0

    def __add__(self, other: object) -> Catch:
        if not isinstance(other, Catch):
            return NotImplemented
        return Catch(self.takes + other.takes, self.rod_hours + other.rod_hours)


class Stratum(NamedTuple):
    """What two mixes caught under the same conditions."""

    one: Catch
    other: Catch


def strata_of_days(one: Mapping[Day, Catch], other: Mapping[Day, Catch]) -> tuple[Stratum, ...]:
    """Put together what two mixes caught on the same days.

    Each day on which both were fished is a stratum; all other days together are one more.

    Parameters
    ----------
    one : mapping of hashable to Catch
        What the first caught on each of its days.
    other : mapping of hashable to Catch
        What the second caught on each of its days.

    Returns
    -------
    tuple of Stratum
        The days together in their order, and behind them the rest.

    Notes
    -----
    Water, weather and season are the same for both within a day, and drop out. A rule of the house;
    no source.

    Examples
    --------
    >>> reed = {"2 May": Catch(2, 10.0), "9 May": Catch(1, 8.0)}
    >>> len(strata_of_days(reed, {"2 May": Catch(0, 10.0), "4 May": Catch(0, 6.0)}))
    2
    """
    together = [day for day in one if day in other]
    rest = (_but(one, other), _but(other, one))
    return (*(Stratum(one[day], other[day]) for day in together), Stratum(*rest))


def _but(days: Mapping[Day, Catch], left_out: Container[Day]) -> Catch:
    return sum((catch for day, catch in days.items() if day not in left_out), Catch())


def rates_evidence(
    strata: Sequence[Stratum], *, dispersion: float = 1.0, comparisons: int = 1
) -> float:
    """Give the evidence that two rates differ, against their being equal.

    Σ_δ w(δ) Π [L(δ)/L(0)]^(1/φ) / comparisons over the strata, in logarithms, δ = ln of the ratio of
    the rates on 41 points from −2.1 to 2.1, w ∝ exp(−(δ/0.7)²/2) and adding up to 1; of the takes of
    a stratum L(δ) = p^y₂ (1 − p)^y₁, p = e₂ e^δ / (e₁ + e₂ e^δ), φ = dispersion [1]_.

    Parameters
    ----------
    strata : sequence of Stratum
        What both caught; takes 0 or more, rod-hours 0 or more.
    dispersion : float
        Variance of the takes over their mean, 1 or more, [-]
    comparisons : int
        How many others could have been picked out, 1 or more

    Returns
    -------
    float
        Evidence, above 0, at most 1e6, [-]

    Raises
    ------
    ValueError
        If takes fall where there are no rod-hours.

    Notes
    -----
    A likelihood ratio averaged over δ has the mean 1 while the rates are equal, whatever their
    common value on each day: so it ever reaches 20 in at most one season of twenty, however often
    one looks [1]_. The power 1/φ makes that hold nearly where takes come in spells. A stratum where
    one of the two has no hours tells nothing.

    Examples
    --------
    4 and 12 takes in the same hours, one by one; and as a spread of twice the mean has it:

    >>> strata = [Stratum(Catch(4, 50.0), Catch(12, 50.0))]
    >>> [round(rates_evidence(strata, dispersion=spread), 2) for spread in (1.0, 2.0)]
    [2.32, 1.2]

    References
    ----------
    .. [1] Robbins, H., "Statistical methods related to the law of the iterated logarithm", Annals of
       Mathematical Statistics 41, 1970 (from memory).
    """
    takes, by_hours = 0, defaultdict[float, int](int)
    for one, other in strata:
        if (one.takes and not one.rod_hours) or (other.takes and not other.rod_hours):
            raise ValueError("No rate of takes without rod-hours.")
        if one.rod_hours and other.rod_hours:
            takes += other.takes
            by_hours[other.rod_hours / one.rod_hours] += one.takes + other.takes
    logs = [
        log_weight + (takes * delta - _log_hours(by_hours, delta)) / dispersion
        for delta, log_weight in _LOG_RATIOS
    ]
    most = max(logs)
    total = most + math.log(math.fsum(math.exp(log - most) for log in logs)) - math.log(comparisons)
    return math.exp(min(total, math.log(MOST_EVIDENCE)))


def _log_hours(by_hours: Mapping[float, int], delta: float) -> float:
    """Return Σ n ln((1 + q e^δ) / (1 + q)), n the takes of all strata whose hours have the ratio q."""
    grown = math.expm1(delta)
    return math.fsum(n * math.log1p(q / (1 + q) * grown) for q, n in by_hours.items())


def _log_ratios() -> tuple[tuple[float, float], ...]:
    """Return the logarithms of the ratios tried, and of their weights."""
    deltas = [RATIO_REACH * (2 * i / (RATIOS - 1) - 1) for i in range(RATIOS)]
    logs = [-((delta / RATIO_SD) ** 2) / 2 for delta in deltas]
    total = math.log(math.fsum(map(math.exp, logs)))
    return tuple((delta, log - total) for delta, log in zip(deltas, logs, strict=True))


_LOG_RATIOS = _log_ratios()
