"""Trial mixes compared: what each caught, and how sure it is which is the best."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping

from eggfold.engine.best import GammaRate, chances_highest, shrunk_rates
from eggfold.engine.evidence import Catch, rates_evidence, strata_of_days
from eggfold.engine.rates import dispersion, more_exposure_h, rate_interval
from eggfold.records import NamedTuple


class Outing(NamedTuple):
    """One mix on one day; the day is whatever tells days apart."""

    mix: str
    day: Hashable
    takes: int
    rod_hours: float


class RatedMix(NamedTuple):
    """What one mix caught, its rate with the 95 % interval, and its chance to be the best."""

    mix: str
    outings: int
    catch: Catch
    rate: float
    low: float
    high: float
    shrunk: GammaRate
    probability_best: float


class AgainstBest(NamedTuple):
    """One mix against the one with the highest rate seen."""

    mix: str
    ratio: float | None
    ratio_shrunk: float
    evidence: float
    days_together: int
    more_rod_hours: float | None


class Comparison(NamedTuple):
    """All mixes fished in the order first noted, the best seen, and each other against it."""

    dispersion: float
    mixes: tuple[RatedMix, ...]
    best: RatedMix | None
    against_best: tuple[AgainstBest, ...]


def compare_trials(outings: Iterable[Outing]) -> Comparison:
    """Compare mixes by what they caught.

    With φ of ``dispersion``: intervals by ``rate_interval``, chances by ``chances_highest`` of
    ``shrunk_rates``, evidence by ``rates_evidence`` over ``strata_of_days`` divided by the other
    mixes, ``more_exposure_h`` for the rod-hours on each that would tell two apart.

    Parameters
    ----------
    outings : iterable of Outing
        What each outing caught; takes 0 or more, rod-hours above 0.

    Returns
    -------
    Comparison
        Rates and hours in 1/h and h; the best is the first with the highest rate seen, None where
        nothing was fished.

    Raises
    ------
    ValueError
        If takes are below 0 or rod-hours are not above 0.

    Notes
    -----
    ``ratio`` is that of the rates seen, None where the best has none; ``ratio_shrunk`` that of the
    posterior means. The figures do not know why a day differs. A rule of the house; no source.

    Examples
    --------
    >>> reed = [Outing("Reed", day, 2, 20.0) for day in range(6)]
    >>> sedge = [Outing("Sedge", day, 0, 20.0) for day in range(6)]
    >>> found = compare_trials([*reed, *sedge])
    >>> found.best.mix, round(found.best.probability_best, 3)
    ('Reed', 0.998)
    >>> [(a.mix, a.days_together, round(a.evidence, 1)) for a in found.against_best]
    [('Sedge', 6, 27.4)]
    """
    noted: dict[str, list[Outing]] = defaultdict(list)
    for outing in outings:
        noted[outing.mix].append(outing)
    phi = dispersion({mix: [(o.takes, o.rod_hours) for o in of] for mix, of in noted.items()})
    mixes = _rated(noted, phi)
    best = max(mixes, key=lambda mix: mix.rate, default=None)
    days = {mix: _by_day(of) for mix, of in noted.items()}
    against = (_against(mix, best, days, phi) for mix in mixes if best and mix is not best)
    return Comparison(phi, mixes, best, tuple(against))


def _rated(noted: Mapping[str, list[Outing]], phi: float) -> tuple[RatedMix, ...]:
    caught = [sum((Catch(o.takes, o.rod_hours) for o in of), Catch()) for of in noted.values()]
    shrunk = shrunk_rates([c.takes for c in caught], [c.rod_hours for c in caught], phi)
    return tuple(
        RatedMix(mix, len(of), c, c.takes / c.rod_hours, *rate_interval(*c, phi), posterior, chance)
        for (mix, of), c, posterior, chance in zip(
            noted.items(), caught, shrunk, chances_highest(shrunk), strict=True
        )
    )


def _by_day(outings: Iterable[Outing]) -> dict[Hashable, Catch]:
    days: dict[Hashable, Catch] = defaultdict(Catch)
    for outing in outings:
        days[outing.day] += Catch(outing.takes, outing.rod_hours)
    return days


def _against(
    mix: RatedMix, best: RatedMix, days: Mapping[str, Mapping[Hashable, Catch]], phi: float
) -> AgainstBest:
    strata = strata_of_days(days[best.mix], days[mix.mix])
    return AgainstBest(
        mix=mix.mix,
        ratio=mix.rate / best.rate if best.rate else None,
        ratio_shrunk=mix.shrunk.mean / best.shrunk.mean,
        evidence=rates_evidence(strata, dispersion=phi, comparisons=len(days) - 1),
        days_together=len(strata) - 1,
        more_rod_hours=more_exposure_h(*mix.catch, *best.catch, dispersion=phi),
    )
