"""Rates of takes compared: evidence, intervals and chances that hold after every outing."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Container, Hashable, Iterable, Iterator, Mapping, Sequence
from itertools import accumulate
from operator import mul
from typing import TypeVar

from eggfold.engine.gamma import gamma_below, gamma_density, gamma_quantile
from eggfold.records import NamedTuple
from eggfold.reference.learning import (
    CONFIDENCE,
    LEAST_EXPECTED,
    MOST_EVIDENCE,
    POWER_Z,
    PRIOR_DISPERSION,
    PRIOR_OUTINGS,
    PRIOR_TAKES,
    RATIO_REACH,
    RATIO_SD,
    RATIOS,
)

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


SAME = 1e-12
"""Rates this near, relatively, are equal but for rounding."""


class Interval(NamedTuple):
    """The rates that agree with what was seen, per hour of exposure."""

    low: float
    high: float


def dispersion(outings: Mapping[str, Sequence[tuple[int, float]]]) -> float:
    """Give how many times their mean the takes of an outing vary.

    max(1, (4 × 2 + Σ (y − r e)² / max(r e, 1/2)) / (4 + outings − mixes)), y the takes and e the
    rod-hours of an outing, r = (T + 1/2) / E of its mix [1]_.

    Parameters
    ----------
    outings : mapping of str to sequence of tuple
        For each mix the takes, 0 or more, and the rod-hours, above 0, of every outing.

    Returns
    -------
    float
        Variance over mean, 1 or more, [-]

    Raises
    ------
    ValueError
        If takes are below 0 or rod-hours are not above 0.

    Notes
    -----
    1 where takes come one by one; more where they come in spells and days differ. The 2 that is
    thought before any outing, with the weight of 4, is a house default: published catches by the
    outing vary many times their mean.

    Examples
    --------
    None yet; then four outings of 1 and 3 takes in 10 rod-hours each, r = 8.5/40, so 2.125 expected:
    (8 + 2 × (1.125² + 0.875²) / 2.125) / (4 + 4 − 1) = 1.416

    >>> dispersion({})
    2.0
    >>> round(dispersion({"Reed": [(1, 10.0), (3, 10.0), (1, 10.0), (3, 10.0)]}), 3)
    1.416

    References
    ----------
    .. [1] McCullagh, P. and Nelder, J. A., "Generalized linear models", 2nd edition, 1989, equation
       6.4 (from memory), with a prior.
    """
    spread, free = PRIOR_DISPERSION * PRIOR_OUTINGS, PRIOR_OUTINGS
    for seen in filter(None, outings.values()):
        for takes, exposure_h in seen:
            _check(takes, exposure_h)
        rate = (sum(takes for takes, _ in seen) + 0.5) / math.fsum(h for _, h in seen)
        spread += math.fsum((y - rate * h) ** 2 / max(rate * h, LEAST_EXPECTED) for y, h in seen)
        free += len(seen) - 1
    return max(1.0, spread / free)


def rate_interval(
    takes: int, exposure_h: float, dispersion: float, *, confidence: float = CONFIDENCE
) -> Interval:
    """Give the interval of a rate whose events come in spells.

    low = φ/exposure_h × the α/2 quantile of a gamma of shape takes/φ, 0 without a take,
    high = φ/exposure_h × the 1 − α/2 quantile at shape takes/φ + 1, φ = dispersion,
    α = 1 − confidence. At φ = 1 that is Garwood's exact interval [1]_.

    Parameters
    ----------
    takes : int
        Events seen, 0 or more
    exposure_h : float
        Rods times hours, above 0, [h]
    dispersion : float
        Variance of the events over their mean, 1 or more, [-]
    confidence : float
        Share of such intervals that hold the true rate, above 0 and below 1, [-]

    Returns
    -------
    Interval
        Low and high rate, [1/h]

    Raises
    ------
    ValueError
        If the takes are below 0 or the exposure is not above 0, or the confidence does not lie
        between 0 and 1.

    Notes
    -----
    Takes in spells are as good as fewer takes one by one: both takes and hours count 1/φ.

    Examples
    --------
    25 events, printed as 16.18 to 36.90 [2]_; 15 in 400, printed as 0.0209884653319583 to
    0.0618505471787146 by DescTools and exactci [3]_; twice the spread is as half the events in half
    the hours:

    >>> [round(rate, 2) for rate in rate_interval(25, 1.0, 1.0)]
    [16.18, 36.9]
    >>> [round(rate, 12) for rate in rate_interval(15, 400.0, 1.0)]
    [0.020988465332, 0.061850547179]
    >>> rate_interval(30, 8.0, 2.0) == rate_interval(15, 4.0, 1.0)
    True

    References
    ----------
    .. [1] Garwood, F., "Fiducial limits for the Poisson distribution", Biometrika 28, 1936.
    .. [2] GraphPad FAQ, "The confidence interval of a count".
    .. [3] The R packages DescTools and exactci, as stored in the tests of statsmodels 0.15.
    """
    _check(takes, exposure_h)
    tail, seen = (1 - confidence) / 2, takes / dispersion
    low = gamma_quantile(seen, tail) if takes else 0.0
    high = gamma_quantile(seen + 1, 1 - tail)
    return Interval(low * dispersion / exposure_h, high * dispersion / exposure_h)


def more_exposure_h(
    takes: int,
    exposure_h: float,
    other_takes: int,
    other_exposure_h: float,
    *,
    dispersion: float = 1.0,
) -> float | None:
    """Find how much more exposure would tell two rates apart, were the seen ones true.

    The h that solves φ/(4 (exposure_h + h)) + φ/(4 (other_exposure_h + h)) = D,
    D = ((√r₁ − √r₂) / 2.802)², r = takes / exposure_h, φ = dispersion: the square root of a rate has
    the variance φ/(4 exposure), and 2.802 = 1.960 + 0.842 gives 80 % power at 5 % two-sided [1]_.

    Parameters
    ----------
    takes : int
        Events of the first, 0 or more
    exposure_h : float
        Rods times hours of the first, above 0, [h]
    other_takes : int
        Events of the second, 0 or more
    other_exposure_h : float
        Rods times hours of the second, above 0, [h]
    dispersion : float
        Variance of the events over their mean, 1 or more, [-]

    Returns
    -------
    float or None
        More for each of the two, 0 where there is enough already, None where the rates are
        equal, [h]

    Raises
    ------
    ValueError
        If takes are below 0 or an exposure is not above 0.

    Notes
    -----
    The variance is that of many takes: a handful makes it a rough guide. The seen rates are not
    the true ones; those seen far apart mostly lie nearer.

    Examples
    --------
    Rates of 1 and 4 in an hour: 1/(2 h) = (1/2.802)², so 3.926 h each.

    >>> round(more_exposure_h(1, 1.0, 4, 1.0) + 1, 3)
    3.926
    >>> round(more_exposure_h(1, 1.0, 4, 1.0, dispersion=2.0) + 1, 3)
    7.851
    >>> more_exposure_h(2, 10.0, 4, 20.0) is None
    True

    References
    ----------
    .. [1] Gu, K., Ng, H. K. T., Tang, M. L. and Schucany, W. R., "Testing the ratio of two Poisson
       rates", Biometrical Journal 50, 2008, the test by square roots.
    """
    _check(takes, exposure_h)
    _check(other_takes, other_exposure_h)
    rate, other = takes / exposure_h, other_takes / other_exposure_h
    if math.isclose(rate, other, rel_tol=SAME):
        return None
    d = ((math.sqrt(rate) - math.sqrt(other)) / POWER_Z) ** 2 / dispersion
    middle_h = (exposure_h + other_exposure_h) / 2
    apart_h = exposure_h - middle_h
    needed_h = (1 + math.hypot(1, 4 * d * apart_h)) / (4 * d)
    return max(0.0, needed_h - middle_h)


def _check(takes: int, exposure_h: float) -> None:
    if not (takes >= 0 and 0 < exposure_h < math.inf):
        raise ValueError(f"No rate of {takes} takes in {exposure_h:g} rod-hours.")


NODES = 12
"""Of the Gauss–Legendre rule in a panel: exact to polynomials of degree 23."""
WIDEST = 1.0
"""The widest panel, for each unit of the logarithm of the rate."""
LOG_LEFT_OUT = 36.0
"""The probability left out at either end is about e^−36, 2e-16."""
ROOT_FOUND = 1e-15
"""A step of Newton's method this small no longer moves a root."""


class GammaRate(NamedTuple):
    """What is known of a rate: it is gamma with this shape over this exposure."""

    shape: float
    exposure_h: float

    @property
    def mean(self) -> float:
        """The rate expected."""
        return self.shape / self.exposure_h

    @property
    def width(self) -> float:
        """How fast the density changes, over the logarithm of the rate."""
        return min(WIDEST, 2 / math.sqrt(self.shape))

    @property
    def ends(self) -> tuple[float, float]:
        """The logarithms beyond which less than the left-out probability lies."""
        a = LOG_LEFT_OUT / self.shape
        reach = a + math.sqrt(2 * a)
        centre = math.log(self.shape) - math.log(self.exposure_h)
        return centre - reach, centre + math.log1p(reach)


def shrunk_rates(
    takes: Sequence[int], exposures_h: Sequence[float], dispersion: float
) -> tuple[GammaRate, ...]:
    """Give what is known of each of several rates, drawn towards the rate of all together.

    Gamma(shape 4 + T/φ, rate 4/r̄ + E/φ) for T takes in E rod-hours, r̄ = (ΣT + 1/2)/ΣE of all,
    φ = dispersion [1]_.

    Parameters
    ----------
    takes : sequence of int
        Events of each, 0 or more
    exposures_h : sequence of float
        Rods times hours of each, above 0, [h]
    dispersion : float
        Variance of the events over their mean, 1 or more, [-]

    Returns
    -------
    tuple of GammaRate
        Shape [-] and exposure [h] of each

    Raises
    ------
    ValueError
        If there are not as many exposures as takes.

    Notes
    -----
    Each begins with four takes at the common rate, a house default: what luck brought counts for
    less, the more so the fewer takes it rests on. The common rate is itself taken as known.

    Examples
    --------
    4 in 10 rod-hours and none in 10: r̄ = 4.5/20, so 8 over 27.8 h and 4 over 27.8 h.

    >>> [round(rate.mean, 3) for rate in shrunk_rates([4, 0], [10.0, 10.0], 1.0)]
    [0.288, 0.144]

    References
    ----------
    .. [1] Gelman, A. et al., "Bayesian data analysis", 3rd edition, 2013, section 2.6 (from memory).
    """
    if not takes:
        return ()
    common = (sum(takes) + 0.5) / math.fsum(exposures_h)
    return tuple(
        GammaRate(PRIOR_TAKES + t / dispersion, PRIOR_TAKES / common + h / dispersion)
        for t, h in zip(takes, exposures_h, strict=True)
    )


def chances_highest(rates: Sequence[GammaRate]) -> tuple[float, ...]:
    """Give for each of several rates the probability that it is the highest.

    ∫ f_i(r) ∏ F_j(r) dr over j other than i, f and F density and distribution of their gammas [1]_.

    Parameters
    ----------
    rates : sequence of GammaRate
        Shapes [-] and exposures [h], above 0.

    Returns
    -------
    tuple of float
        Probabilities that add up to 1

    Notes
    -----
    By Gauss–Legendre quadrature over the logarithm of the rate, in panels as narrow as the narrowest
    density there. The rates are taken as independent.

    Examples
    --------
    Two alike, and shape 3/2 against 1/2; the closed form is the incomplete beta function
    I(1/2; 1/2, 3/2) = 1/2 + 1/π:

    >>> [round(p, 12) for p in chances_highest([GammaRate(3.5, 50.0), GammaRate(3.5, 50.0)])]
    [0.5, 0.5]
    >>> round(chances_highest([GammaRate(1.5, 50.0), GammaRate(0.5, 50.0)])[0] - 1 / math.pi, 12)
    0.5

    References
    ----------
    .. [1] Abramowitz, M. and Stegun, I. A., "Handbook of mathematical functions", 1964, 25.4.29 for
       the rule.
    """
    best = [0.0] * len(rates)
    if not rates:
        return ()
    for u, weight in _nodes(rates):
        scaled = [rate.exposure_h * math.exp(u) for rate in rates]
        below = [gamma_below(rate.shape, x) for rate, x in zip(rates, scaled, strict=True)]
        before = accumulate(below[:-1], mul, initial=1.0)
        after = [*accumulate(below[:0:-1], mul, initial=1.0)][::-1]
        for i, (rate, x, b, a) in enumerate(zip(rates, scaled, before, after, strict=True)):
            best[i] += weight * b * a * gamma_density(rate.shape, x)
    return tuple(best)


def _nodes(rates: Sequence[GammaRate]) -> Iterator[tuple[float, float]]:
    """Yield where to look and how much it weighs."""
    rule = _legendre_rule(NODES)
    for low, high in _panels(rates):
        half = (high - low) / 2
        for x, weight in rule:
            yield low + half * (1 + x), half * weight


def _panels(rates: Sequence[GammaRate]) -> Iterator[tuple[float, float]]:
    """Yield panels from where the highest rate can begin to lie up to where none lies beyond."""
    low = max(_all_below(rates), *(m.ends[0] for m in rates))
    end = max(m.ends[1] for m in rates)
    while low < end:
        high = min(end, low + min(m.width for m in rates if m.ends[1] > low))
        yield low, high
        low = high


def _all_below(rates: Sequence[GammaRate]) -> float:
    """Return the u below which all rates lie with less than the left-out probability.

    By P(s, x) ≤ x^s / Γ(s + 1) for each.
    """
    logs = (m.shape * math.log(m.exposure_h) - math.lgamma(m.shape + 1) for m in rates)
    return (-LOG_LEFT_OUT - math.fsum(logs)) / math.fsum(m.shape for m in rates)


def _legendre_rule(n: int) -> list[tuple[float, float]]:
    """Return nodes and weights on −1 to 1: roots of the Legendre polynomial, 2/((1 − x²) P'²)."""
    rule = []
    for k in range(n):
        x = math.cos(math.pi * (k + 0.75) / (n + 0.5))
        value, slope = _legendre(n, x)
        while abs(value / slope) > ROOT_FOUND:
            x -= value / slope
            value, slope = _legendre(n, x)
        rule.append((x, 2 / ((1 - x * x) * slope * slope)))
    return rule


def _legendre(n: int, x: float) -> tuple[float, float]:
    """Return the Legendre polynomial of degree n and its slope, for n above 1."""
    before, value = 1.0, x
    for degree in range(2, n + 1):
        before, value = value, ((2 * degree - 1) * x * value - (degree - 1) * before) / degree
    return value, n * (x * value - before) / (x * x - 1)


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
