"""What bowls that met the scale say of the next ones: level, scatter and drift together."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from functools import lru_cache
from operator import mul

from eggfold.records import NamedTuple
from eggfold.reference.learning import (
    FAR_TAIL,
    GRADED_EGG_SD,
    MOST_FAR,
    RANGE_TAIL,
    RANGE_Z,
    SCATTERS,
    TRIAL_SD,
    Learning,
)

NEGLIGIBLE = 1e-13
"""A scatter this unlikely moves no range."""
CLOSE = 1e-11
"""The logarithm of a quantile is found to this."""
ROOT_HALF = math.sqrt(0.5)


class SeenBowl(NamedTuple):
    """One bowl: the figure it showed, and the standard deviation of its reading as a share of it."""

    value: float
    reading_sd: float = 0.0


class Component(NamedTuple):
    """One scatter that bowls may have, how likely it is, and where the level then lies.

    The logarithm of the level is normal with ``mean`` and ``variance``; ``log`` is the logarithm of a
    weight, and the weights need not add up to 1.
    """

    scatter: float
    log: float
    mean: float
    variance: float


class Posterior(NamedTuple):
    """What is known of a figure: a mixture over the scatter of bowls."""

    components: tuple[Component, ...]
    drift_sd: float
    bowls: int = 0

    @property
    def weights(self) -> list[float]:
        """How likely each scatter is."""
        return _normalised([c.log for c in self.components])

    @property
    def expected(self) -> float:
        """The figure itself."""
        return math.exp(_dot(self.weights, [c.mean for c in self.components]))

    @property
    def level_sd(self) -> float:
        """The doubt about the level, as a share of it, the scatter of bowls left out."""
        weights = self.weights
        mean = _dot(weights, [c.mean for c in self.components])
        return math.sqrt(
            _dot(weights, [c.variance + (c.mean - mean) ** 2 for c in self.components])
        )

    @property
    def scatter(self) -> float:
        """How much bowls scatter, as a share of the figure: the posterior mean."""
        return _dot(self.weights, [c.scatter for c in self.components])


class BowlRange(NamedTuple):
    """What the next bowl, or the next few together, will show: nine times in ten low to high."""

    expected: float
    low: float
    high: float


class FarBowl(NamedTuple):
    """A bowl outside what the others predict: its place among them, and what they expect."""

    position: int
    value: float
    others: float


class Lesson(NamedTuple):
    """A figure after its bowls, and those of them that lie far off."""

    posterior: Posterior
    far: tuple[FarBowl, ...] = ()


_Step = tuple[float, float, float]
"""How a bowl met what was expected of it: gain K, surprise e/V, and the variance V ahead of it."""


def reading_sd(resolution_g: float, dry_mass_g: float) -> float:
    """Return the standard deviation of a bag read before and after, as a share of what was taken.

    ``resolution_g / (sqrt(6) * dry_mass_g)`` [1]_.

    Parameters
    ----------
    resolution_g : float
        Resolution of the scale [g], 0 or more.
    dry_mass_g : float
        Dry mix of the bowl [g], above 0.

    Returns
    -------
    float
        Standard deviation [-], as a share of the dry mix.

    Notes
    -----
    A rounded reading has variance r²/12; the bag is read twice. Eggs and liquids are taken as known.

    Examples
    --------
    The guide prints 0.29 of a division for one reading [1]_; two in quadrature are 0.41:

    >>> round(reading_sd(1.0, 1.0), 2)
    0.41

    References
    ----------
    .. [1] JCGM 100, "Guide to the expression of uncertainty in measurement", 2008, F.2.2.1 (from
       memory).
    """
    return resolution_g / (math.sqrt(6) * dry_mass_g)


def trial_sd(graded_eggs: int | None) -> float:
    """Return the doubt about an absorbency that one trial gave.

    ``sqrt(0.05**2 + 0.042**2 / graded_eggs)``, 0.05 alone where the eggs were weighed.

    Parameters
    ----------
    graded_eggs : int or None
        Eggs of the trial taken by their grade, 1 or more; None where they were weighed.

    Returns
    -------
    float
        Standard deviation [-], as a share of the absorbency.

    Raises
    ------
    ValueError
        If there are no eggs.

    Notes
    -----
    An egg may lie anywhere in its class. Both figures are data of this package; no source gives the
    doubt about a single trial.

    Examples
    --------
    >>> [round(trial_sd(eggs), 4) for eggs in (1, 4, None)]
    [0.0653, 0.0542, 0.05]
    """
    if graded_eggs is None:
        return TRIAL_SD
    if graded_eggs < 1:
        raise ValueError(f"No trial has {graded_eggs} eggs.")
    return math.hypot(TRIAL_SD, GRADED_EGG_SD / math.sqrt(graded_eggs))


def before_bowls(expected: float, setting: Learning) -> Posterior:
    """Return what is known of a figure before its first bowl.

    The logarithm of the level is normal about ``ln(expected)`` with standard deviation
    ``setting.level_sd``; each scatter s of a grid spaced evenly in ln s has weight
    ``s**-v * exp(-v * s0**2 / (2 * s**2))``, v = ``setting.freedom``, s0 = ``setting.bowl_sd`` [1]_.

    Parameters
    ----------
    expected : float
        The figure before any bowl [-], above 0, in any unit.
    setting : Learning
        Standard deviations before and between bowls.

    Returns
    -------
    Posterior
        The prior, as a value that bowls go into.

    Raises
    ------
    ValueError
        If the expected figure is not a number above 0.

    Notes
    -----
    A scaled inverse chi-squared variance, cut at the ends of the grid: a hand steadier than the
    least or wilder than the most scatter is taken for that.

    Examples
    --------
    >>> from eggfold.reference.learning import ABSORBENCY
    >>> prior = before_bowls(2.0, ABSORBENCY)
    >>> round(prior.expected, 6), round(prior.level_sd, 6), round(prior.scatter, 3)
    (2.0, 0.1, 0.062)

    References
    ----------
    .. [1] Gelman, A. et al., "Bayesian data analysis", 3rd edition, 2013, section 2.6 and appendix A
       (from memory).
    """
    mean = _log(expected)
    least, v = math.log(setting.least_bowl_sd), setting.freedom
    step = (math.log(setting.most_bowl_sd) - least) / (SCATTERS - 1)
    scatters = (math.exp(least + i * step) for i in range(SCATTERS))
    variance, s0 = setting.level_sd**2, setting.bowl_sd
    components = (
        Component(s, -v * (math.log(s) + (s0 / s) ** 2 / 2), mean, variance) for s in scatters
    )
    return Posterior(tuple(components), setting.drift_sd)


def after_bowls(posterior: Posterior, bowls: Sequence[SeenBowl]) -> Posterior:
    """Return what is known of a figure after more bowls.

    For each scatter s and bowl, y = ln(value): R = s² + reading_sd², V = P + R, e = y − m; ln weight falls by ½ ln V + e²/(2 V), K = P/V, m rises by K e, and P becomes
    P (1 − K) + drift_sd² [1]_.

    Parameters
    ----------
    posterior : Posterior
        What was known before.
    bowls : sequence of SeenBowl
        The bowls since, by date; values above 0.

    Returns
    -------
    Posterior
        What is known now, drifted on to the next bowl.

    Raises
    ------
    ValueError
        If a bowl's figure is not a number above 0.

    Notes
    -----
    The level walks by drift_sd from one bowl to the next, however far apart
    their days are. The filter is exact for each scatter.

    Examples
    --------
    Ten bowls alike: the range narrows to what the steadiest hand allows, and no further.

    >>> from eggfold.reference.learning import ABSORBENCY
    >>> known = after_bowls(before_bowls(2.0, ABSORBENCY), [SeenBowl(2.2)] * 10)
    >>> round(known.expected, 2), round(known.scatter, 3)
    (2.2, 0.032)

    References
    ----------
    .. [1] Harvey, A. C., "Forecasting, structural time series models and the Kalman filter", 1989,
       section 3.2 (from memory).
    """
    return _filtered(posterior, bowls)[0]


def learn(expected: float, bowls: Sequence[SeenBowl], setting: Learning) -> Lesson:
    """Learn a figure from all its bowls, and name those that lie far off.

    All bowls go in by ``after_bowls``. The three furthest are left out in turn: bowl i is far where it
    lies beyond 1 in 2000, at either end, of what all others, before and behind, predict for it. With
    r = N = 0 behind the last and going back, u = e/V − K r, D = 1/V + K² N: u/D is how far the bowl
    lies from what the others predict and 1/D that prediction's variance; r becomes
    e/V + (1 − K) r, N becomes 1/V + (1 − K)² N [1]_.

    Parameters
    ----------
    expected : float
        The figure before any bowl [-], above 0, in any unit.
    bowls : sequence of SeenBowl
        The bowls, by date.
    setting : Learning
        Standard deviations before and between bowls.

    Returns
    -------
    Lesson
        The posterior, and the far bowls in their order; they count in it all the same.

    Raises
    ------
    ValueError
        If a figure is not a number above 0.

    Notes
    -----
    Which are the furthest is seen at the likeliest scatter; how far each is, over all scatters, each
    as likely as the other bowls make it. Two slips of the same size may hide each other.

    Examples
    --------
    >>> from eggfold.reference.learning import ABSORBENCY
    >>> bowls = [SeenBowl(v) for v in (2.05, 1.98, 4.1, 2.1, 2.02)]
    >>> [(far.position, round(far.others, 2)) for far in learn(2.0, bowls, ABSORBENCY).far]
    [(2, 2.04)]

    References
    ----------
    .. [1] de Jong, P., "A cross-validation filter for time series models", Biometrika 75, 1988 (from
       memory).
    """
    posterior, steps = _filtered(before_bowls(expected, setting), bowls)
    return Lesson(posterior, tuple(_far(posterior, bowls, steps)))


@lru_cache(maxsize=256)  # mixes of which nothing is noted yet all have the same one
def bowl_range(posterior: Posterior, *, bowls: int = 1) -> BowlRange:
    """Return what the next bowl, or the next few together, will show.

    ``expected = exp(sum of weight * m)``; ``low`` and ``high`` are where the chance to lie below is 5 %
    and 95 %, by bisection: the sum over scatters s of weight × Φ((ln(value) − m) / sqrt(P + s²/bowls))
    [1]_.

    Parameters
    ----------
    posterior : Posterior
        What is known of the figure.
    bowls : int
        Bowls of the batch, 1 or more.

    Returns
    -------
    BowlRange
        Expected, low and high, in the figure's unit.

    Notes
    -----
    The bowls of a batch share the level and its doubt, and average their scatter; the drift within
    the batch is left out. A quantile of a mixture lies between the least and the greatest of its
    parts' own, where the bisection begins.

    Examples
    --------
    >>> from eggfold.reference.learning import ABSORBENCY
    >>> [round(x, 3) for x in bowl_range(before_bowls(2.0, ABSORBENCY))]
    [2.0, 1.642, 2.436]
    >>> [round(x, 3) for x in bowl_range(before_bowls(2.0, ABSORBENCY), bowls=4)]
    [2.0, 1.681, 2.379]

    References
    ----------
    .. [1] Gelman, A. et al., "Bayesian data analysis", 3rd edition, 2013, section 1.3 (from memory).
    """
    parts = _mixture(posterior, bowls)
    low = math.exp(_quantile(parts, RANGE_TAIL, -RANGE_Z))
    high = math.exp(_quantile(parts, 1 - RANGE_TAIL, RANGE_Z))
    return BowlRange(posterior.expected, low, high)


def _log(value: float) -> float:
    if not 0 < value < math.inf:
        raise ValueError(f"Nothing is learned from a figure of {value:g}.")
    return math.log(value)


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return math.fsum(map(mul, one, other))


def _normalised(logs: Sequence[float]) -> list[float]:
    most = max(logs)
    weights = [math.exp(log - most) for log in logs]
    total = sum(weights)
    return [weight / total for weight in weights]


def _filtered(known: Posterior, bowls: Sequence[SeenBowl]) -> tuple[Posterior, list[list[_Step]]]:
    """Return the posterior after bowls, and for each component how each bowl met it."""
    seen = [(_log(bowl.value), bowl.reading_sd**2) for bowl in bowls]
    drift = known.drift_sd**2
    passed = [_passed(component, seen, drift) for component in known.components]
    components = tuple([component for component, _ in passed])
    steps = [component_steps for _, component_steps in passed]
    return known._replace(components=components, bowls=known.bowls + len(bowls)), steps


def _passed(
    component: Component, seen: Sequence[tuple[float, float]], drift: float
) -> tuple[Component, list[_Step]]:
    scatter, log, m, p = component
    s2, twice, ln = scatter * scatter, 0.0, math.log
    steps = []
    for y, reading in seen:
        v = p + s2 + reading
        e = y - m
        k, u = p / v, e / v
        twice += ln(v) + e * u
        m += k * e
        p += drift - p * k
        steps.append((k, u, v))
    return Component(scatter, log - twice / 2, m, p), steps


def _far(
    known: Posterior, bowls: Sequence[SeenBowl], steps: Sequence[Sequence[_Step]]
) -> Iterator[FarBowl]:
    """Yield those of the three furthest bowls that the others do not predict."""
    places = _furthest(known, steps)
    off = [_off(one, places) for one in steps]
    for place in sorted(places):
        weights, distances, sds = _without(known, [one[place] for one in off])
        if min(_beyond(weights, sds, side) for side in (-1, 1)) < FAR_TAIL:
            value = bowls[place].value
            yield FarBowl(place, value, math.exp(math.log(value) - _dot(weights, distances)))


def _furthest(known: Posterior, steps: Sequence[Sequence[_Step]]) -> list[int]:
    """Return the places of the bowls furthest from all others, at the likeliest scatter."""
    likeliest = max(range(len(steps)), key=lambda i: known.components[i].log)
    off = _off(steps[likeliest], range(len(steps[likeliest])))
    return sorted(off, key=lambda i: off[i][0] ** 2 * off[i][1], reverse=True)[:MOST_FAR]


def _off(steps: Sequence[_Step], places: Collection[int]) -> dict[int, tuple[float, float]]:
    """Return how far bowls lie from what all others predict, and the precision of that."""
    found, r, n = {}, 0.0, 0.0
    for i in range(len(steps) - 1, min(places, default=0) - 1, -1):
        k, u, v = steps[i]
        if i in places:
            precision = 1 / v + k * k * n
            found[i] = (u - k * r) / precision, precision
        left = 1 - k
        r = u + left * r
        n = 1 / v + left * left * n
    return found


def _without(
    known: Posterior, off: Sequence[tuple[float, float]]
) -> tuple[list[float], list[float], list[float]]:
    """Return weights without a bowl, its distances from what the others say, and those in sds.

    Without it a scatter is as likely as it was, over how likely it made the bowl.
    """
    distances = [distance for distance, _ in off]
    sds = [distance * math.sqrt(precision) for distance, precision in off]
    logs = [
        component.log - math.log(precision) / 2 + z * z / 2
        for component, (_, precision), z in zip(known.components, off, sds, strict=True)
    ]
    return _normalised(logs), distances, sds


def _beyond(weights: Sequence[float], sds: Sequence[float], side: int) -> float:
    """Return the probability of a bowl still further out on one side."""
    return _dot(weights, [math.erfc(side * z * ROOT_HALF) / 2 for z in sds])


def _mixture(known: Posterior, bowls: int) -> list[tuple[float, float, float]]:
    """Return weight, mean and standard deviation of each part that matters, in logarithms."""
    return [
        (weight, mean, math.sqrt(variance + scatter * scatter / bowls))
        for weight, (scatter, _, mean, variance) in zip(
            known.weights, known.components, strict=True
        )
        if weight > NEGLIGIBLE
    ]


def _below(parts: Sequence[tuple[float, float, float]], y: float) -> float:
    return sum(w * math.erfc((m - y) / sd * ROOT_HALF) for w, m, sd in parts) / 2


def _quantile(parts: Sequence[tuple[float, float, float]], below: float, z: float) -> float:
    own = [m + z * sd for _, m, sd in parts]
    low, high = min(own), max(own)
    while high - low > CLOSE:
        middle = (low + high) / 2
        if _below(parts, middle) < below:
            low = middle
        else:
            high = middle
    return (low + high) / 2
