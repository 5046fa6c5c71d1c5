"""How long a ball of paste boils, and how warm its centre gets in the pan and after it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from operator import mul

from eggfold.engine.sphere import (
    LAST_EXPONENT,
    MOST_STEPS,
    Sphere,
    centre_fraction,
    roots_needed,
    sphere_roots,
)
from eggfold.records import NamedTuple
from eggfold.reference.boiling import (
    CONDUCTIVITY_DOUBT_SHARE,
    CUSTOM,
    FACTOR_POINTS,
    FACTOR_REACH,
    SET_THROUGH_C,
    SET_THROUGH_SD_K,
)

COOLING_ROOTS = 10
SOONEST_PEAK = LAST_EXPONENT / ((COOLING_ROOTS - 1) * math.pi) ** 2
"""Fourier number after lifting, 0.02, before which the centre does not notice the air; the series of
the cooling is not summed any earlier."""

FIRST_GUESS = 0.7
"""The boil is about this part of what the centre would need to get as hot in the pan itself."""

CLOSE_ENOUGH = 1e-4
"""Newton's method stops at a step of this part: the next one would be of its square."""


class Course(NamedTuple):
    """What a ball goes through: from its start into boiling water, then out into the air.

    Temperatures in °C, the film between a wet, steaming ball and the air in W/(m² K).
    """

    start_c: float
    water_c: float
    air_c: float
    cooling_film_w_m2k: float


class TimeRange(NamedTuple):
    """From how long to how long [s]."""

    low_s: float
    high_s: float


class _Modes(NamedTuple):
    """What does not change with the time: decays in water and air, D_j, and E_ij by rows of j."""

    water_decays: tuple[float, ...]
    air_decays: tuple[float, ...]
    uniform: tuple[float, ...]
    carried: tuple[tuple[float, ...], ...]


class _Peak(NamedTuple):
    """The most the centre reaches, and how that changes with the Fourier number of the boil."""

    centre_c: float
    slope_c: float


def fourier_number(ball: Sphere, time_s: float) -> float:
    """Give the time in the water as a Fourier number.

    Fo = diffusivity_m2_s time_s / (diameter_m / 2)², the first and the last of ball [1]_.

    Parameters
    ----------
    ball : Sphere
        The ball and the film of the boiling water.
    time_s : float
        Time in the water, 0 or more, [s]

    Returns
    -------
    float
        Fourier number on the radius, [-]

    Raises
    ------
    ValueError
        If the time is below 0.

    Notes
    -----
    The length is the radius, as in the Biot number.

    Examples
    --------
    The boiled egg of [1]_ has 0.209 at its printed 865 s:

    >>> egg = Sphere(diameter_m=0.05, conductivity_w_mk=0.627, diffusivity_m2_s=0.151e-6,
    ...              film_w_m2k=1200.0)
    >>> round(fourier_number(egg, 865.0), 3)
    0.209

    References
    ----------
    .. [1] Çengel, Y. A. and Ghajar, A. J., "Heat and mass transfer", 4th edition, 2011
       (edition from memory), Example 4-3.
    """
    if not time_s >= 0:
        raise ValueError(f"The time in the water must be 0 or more, not {time_s:g} s.")
    return ball.diffusivity_m2_s * time_s / ball.radius_m**2


def lifted_c(ball: Sphere, course: Course, time_s: float) -> float:
    """Give the temperature of the centre as a ball leaves the pan.

    T = water − (water − start) θ(time_s), θ the centre's series of ball, the rest from course [1]_.

    Parameters
    ----------
    ball : Sphere
        The ball and the film of the boiling water.
    course : Course
        Start, water and air.
    time_s : float
        Time in the water, 0 or more, [s]

    Returns
    -------
    float
        Temperature at the centre, [degC]

    Raises
    ------
    ValueError
        If the time is below 0 or the Biot number lies outside 0.001 to 1 000 000.

    Notes
    -----
    The water keeps its temperature and the properties do not change on the way. Balls that touch
    one another, or a pan that goes off the boil, heat more slowly. Heat keeps flowing in from the
    shell after this: see ``peak_c``.

    Examples
    --------
    The boiled egg of [1]_ reaches 70 degC at its printed 865 s:

    >>> egg = Sphere(diameter_m=0.05, conductivity_w_mk=0.627, diffusivity_m2_s=0.151e-6,
    ...              film_w_m2k=1200.0)
    >>> round(lifted_c(egg, Course(5.0, 95.0, 20.0, 150.0), 865.0))
    70

    References
    ----------
    .. [1] Çengel, Y. A. and Ghajar, A. J., "Heat and mass transfer", 4th edition, 2011
       (edition from memory), Example 4-3.
    """
    left = centre_fraction(ball.biot, fourier_number(ball, time_s))
    return course.water_c - (course.water_c - course.start_c) * left


def peak_c(ball: Sphere, course: Course, time_s: float) -> float:
    """Give the most that the centre reaches after a ball was lifted.

    The largest over Fo' ≥ 0 of T = air + Σ B_j exp(−y_j² Fo'), with ball, course and time_s in the
    B_j of the notes [1]_.

    Parameters
    ----------
    ball : Sphere
        The ball and the film of the boiling water.
    course : Course
        Start, below the water, and water and air.
    time_s : float
        Time in the water, 0 or more, [s]

    Returns
    -------
    float
        Temperature at the centre, at least that at lifting, [degC]

    Raises
    ------
    ValueError
        If the time is below 0, the start is not below the water or a Biot number lies outside 0.001
        to 1 000 000.

    Notes
    -----
    *Derivation.* Let x be the distance from the centre over the radius r, T_0, T_b and T_a the start,
    the water and the air. In the pan the excess over T_b obeys the heat equation of a ball with
    −∂T/∂x = Bi (T − T_b) at x = 1, Bi = h r / k. Its eigenfunctions are sin(z x) / (z x), z the roots of
    1 − z cot z = Bi; they are orthogonal with the weight x². A uniform T_0 − T_b expands to
    (T_0 − T_b) C_i, and after Fo

        T(x) = T_b + Σ A_i sin(z_i x)/(z_i x),    A_i = (T_0 − T_b) C_i exp(−z_i² Fo),
        C_i = 4 (sin z_i − z_i cos z_i) / (2 z_i − sin 2 z_i).

    In the air the same holds with T_a and the cooling film; its eigenfunctions sin(y x) / (y x) have
    the roots y_j of 1 − y cot y = Bi'. This T(x) is their start, so that the weight of the j-th is the
    projection ∫ x² (T(x) − T_a) sin(y_j x)/(y_j x) dx over ∫ x² (sin(y_j x)/(y_j x))² dx, from 0 to 1:

        of 1              (sin y − y cos y) / y³
        of sin(z x)/(z x)   ½ (sin(z − y)/(z − y) − sin(z + y)/(z + y)) / (z y), as sin z x sin y x is
                          ½ (cos (z − y) x − cos (z + y) x); sin(d)/d is 1 at d = 0
        of itself         (½ − sin 2y / (4 y)) / y²
        B_j = [(T_b − T_a) · first + Σ_i A_i · second] / third.

    At the centre every eigenfunction is 1. With T_b, T_a and T_0 taken out, B_j = (T_b − T_a) D_j −
    (T_b − T_0) Σ_i E_ij exp(−z_i² Fo), where D and E depend on the two Biot numbers alone.

    The rate of change ∂T/∂Fo' obeys the heat equation too. At lifting it changes sign once along the
    radius, at the shell that begins to cool, and the number of such changes never grows; so the centre
    warms, turns once and cools. The turn is found by Newton's method on the logarithm of warming over
    cooling. Before Fo' = 0.02 nothing of the air has reached the centre, and the turn is not looked for
    any earlier. For a boil of no time the peak is the start. Paste that is on the whole still colder
    than the air has no peak; then it is the temperature at lifting.

    The ball lies free in air that keeps its temperature. In a heap it cools more slowly and gets
    hotter; tipped into cold water it stays cooler.

    Examples
    --------
    A ball of 16 mm, boiled for 70 s, gets 17 K hotter after it was lifted:

    >>> bait = Sphere(0.016, 0.3639, 1.2372e-7, 1200.0)
    >>> kitchen = Course(20.0, 99.974, 20.0, 150.0)
    >>> round(lifted_c(bait, kitchen, 70.0), 1), round(peak_c(bait, kitchen, 70.0), 1)
    (54.9, 72.2)

    References
    ----------
    .. [1] Carslaw, H. S. and Jaeger, J. C., "Conduction of heat in solids", 2nd edition, 1959,
       section 9.4 (section from memory).
    """
    return _peak(ball, course, fourier_number(ball, time_s)).centre_c


def boil_time_s(ball: Sphere, course: Course, target_c: float) -> float | None:
    """Find how long a ball must boil for its centre to reach a temperature, in the pan or after it.

    The time at which ``peak_c`` of ball and course is target_c [1]_.

    Parameters
    ----------
    ball : Sphere
        The ball and the film of the boiling water.
    course : Course
        Start, water and air.
    target_c : float
        The most that the centre is to reach, [degC]

    Returns
    -------
    float or None
        Time in the water, 0 where the paste is as warm before, None where the water is not hotter
        than the target, [s]

    Raises
    ------
    ValueError
        If a Biot number lies outside 0.001 to 1 000 000.

    Notes
    -----
    Newton's method on the logarithm of what is left between peak and water, which is nearly straight
    in the time; the turn after lifting moves with the time, but as the centre stands still there, the
    slope of the peak is that at a fixed turn. Steps outside of what is known are halved. The rest as
    for ``peak_c``.

    Examples
    --------
    >>> bait = Sphere(0.016, 0.3639, 1.2372e-7, 1200.0)
    >>> kitchen = Course(20.0, 99.974, 20.0, 150.0)
    >>> round(boil_time_s(bait, kitchen, 73.0))
    72
    >>> boil_time_s(bait, kitchen, 20.0)
    0.0
    >>> boil_time_s(bait, kitchen, 99.974) is None
    True

    References
    ----------
    .. [1] Carslaw, H. S. and Jaeger, J. C., "Conduction of heat in solids", 2nd edition, 1959,
       section 9.4 (section from memory).
    """
    if target_c >= course.water_c:
        return None
    if target_c <= course.start_c:
        return 0.0
    return _fourier_for(ball, course, target_c) * ball.radius_m**2 / ball.diffusivity_m2_s


def boil_range_s(
    ball: Sphere, course: Course, target_c: float, *, spread_m: float, conductivity_share: float
) -> TimeRange | None:
    """Give the range of a boil: balls are not all of one size, and pastes conduct differently.

    From ``boil_time_s`` of ball, course and target_c with spread_m less of diameter and 1 +
    conductivity_share times the conductivity, to that with spread_m more and 1 − conductivity_share
    times.

    Parameters
    ----------
    ball : Sphere
        The ball and the film of the boiling water.
    course : Course
        Start, water and air.
    target_c : float
        The most that the centre is to reach, [degC]
    spread_m : float
        How far the rolled size strays either way, 0 or more, [m]
    conductivity_share : float
        Doubt about the conductivity, 0 or more and below 1: 0.1, or the standard deviation that cut
        baits have left, [-]

    Returns
    -------
    TimeRange or None
        Shortest and longest time, None where the water is not hotter than the target, [s]

    Raises
    ------
    ValueError
        If the doubt is not below 1 or a Biot number lies outside 0.001 to 1 000 000.

    Notes
    -----
    A rule of the house; no source. Both ends are taken at once, so the range is wider than either
    alone; what a paste holds of heat stays.

    Examples
    --------
    >>> bait = Sphere(0.016, 0.3639, 1.2372e-7, 1200.0)
    >>> kitchen = Course(20.0, 99.974, 20.0, 150.0)
    >>> low_s, high_s = boil_range_s(bait, kitchen, 73.0, spread_m=0.0003, conductivity_share=0.10)
    >>> round(low_s), round(high_s)
    (63, 83)
    """
    if not 0 <= conductivity_share < 1:
        raise ValueError(
            f"A share of doubt must lie between 0 and 1, not be {conductivity_share:g}."
        )
    low_s = 0.0
    if ball.diameter_m > spread_m:
        narrower = ball.sized(ball.diameter_m - spread_m).conducting(1 + conductivity_share)
        low_s = boil_time_s(narrower, course, target_c) or 0.0
    wider = ball.sized(ball.diameter_m + spread_m).conducting(1 - conductivity_share)
    high_s = boil_time_s(wider, course, target_c)
    return None if high_s is None else TimeRange(low_s, high_s)


def customary_s(diameter_mm: float) -> float | None:
    """Return how long bottom baits of a size are boiled by custom.

    90 s at 16 mm to 120 s at 20 mm, linear in diameter_mm between.

    Parameters
    ----------
    diameter_mm : float
        Diameter of the bait, above 0, [mm]

    Returns
    -------
    float or None
        Time in the pan, None outside 16 to 20 mm, [s]

    Notes
    -----
    Common practice from memory; no source. It stands beside what was worked out and lengthens nothing.

    Examples
    --------
    >>> customary_s(18.0), customary_s(14.0)
    (105.0, None)
    """
    (low_mm, low_s), (high_mm, high_s) = CUSTOM
    if not low_mm - 1e-6 <= diameter_mm <= high_mm + 1e-6:
        return None
    return low_s + (diameter_mm - low_mm) / (high_mm - low_mm) * (high_s - low_s)


def _overlap(one: float, other: float) -> float:
    """Return the integral of x² sin(one x)/(one x) sin(other x)/(other x) from 0 to 1."""
    apart = one - other
    near = math.sin(apart) / apart if apart else 1.0
    return (near - math.sin(one + other) / (one + other)) / (2 * one * other)


@lru_cache(maxsize=1024)
def _modes(water_biot: float, air_biot: float, count: int) -> _Modes:
    in_water, in_air = sphere_roots(water_biot, count), sphere_roots(air_biot, COOLING_ROOTS)
    weights = [4 * (math.sin(z) - z * math.cos(z)) / (2 * z - math.sin(2 * z)) for z in in_water]
    squares = [(0.5 - math.sin(2 * y) / (4 * y)) / y**2 for y in in_air]
    ones = [(math.sin(y) - y * math.cos(y)) / y**3 for y in in_air]
    return _Modes(
        tuple(z * z for z in in_water),
        tuple(y * y for y in in_air),
        tuple(map(lambda one, square: one / square, ones, squares)),
        tuple(
            tuple(c * _overlap(z, y) / square for c, z in zip(weights, in_water, strict=True))
            for y, square in zip(in_air, squares, strict=True)
        ),
    )


def _peak(ball: Sphere, course: Course, fourier: float) -> _Peak:
    start_c, water_c, air_c, cooling_film = course
    gap_c = water_c - start_c
    if not gap_c > 0:
        raise ValueError("The paste must be colder than the water when it goes in.")
    lifted = water_c - gap_c * centre_fraction(ball.biot, fourier)
    air_biot = cooling_film * ball.radius_m / ball.conductivity_w_mk
    modes = _modes(ball.biot, air_biot, roots_needed(fourier))
    left = [math.exp(-decay * fourier) for decay in modes.water_decays]
    weights = [
        (water_c - air_c) * uniform - gap_c * sum(map(mul, row, left))
        for uniform, row in zip(modes.uniform, modes.carried, strict=True)
    ]
    if weights[0] <= 0:
        return _Peak(lifted, 0.0)
    turn = _turn(weights, modes.air_decays)
    cooled = [math.exp(-decay * turn) for decay in modes.air_decays]
    leaving = list(map(mul, modes.water_decays, left))
    slope_c = gap_c * sum(
        share * sum(map(mul, row, leaving))
        for share, row in zip(cooled, modes.carried, strict=True)
    )
    return _Peak(max(lifted, air_c + sum(map(mul, weights, cooled))), slope_c)


def _turn(weights: list[float], decays: tuple[float, ...]) -> float:
    """Return the Fourier number after lifting at which the centre stops to warm.

    The first term cools, which is −∂T/∂Fo' = Σ weight × decay × e^(−decay × Fo'); all others together
    warm. The logarithm of their ratio is nearly straight.
    """
    rates = list(map(mul, weights, decays))
    if rates[1] >= 0:
        return SOONEST_PEAK
    turn = max(SOONEST_PEAK, math.log(-rates[1] / rates[0]) / (decays[1] - decays[0]))
    for _ in range(MOST_STEPS):
        cooling, *others = (
            rate * math.exp(-d * turn) for rate, d in zip(rates, decays, strict=True)
        )
        warming = -sum(others)
        fall: float = -sum(map(mul, others, decays[1:])) - decays[0] * warming
        if warming <= 0 or fall <= 0:
            return SOONEST_PEAK
        later: float = max(SOONEST_PEAK, turn + math.log(warming / cooling) * warming / fall)
        if abs(later - turn) <= 1e-3 * turn:
            return later
        turn = later
    return turn


def _fourier_for(ball: Sphere, course: Course, target_c: float) -> float:
    gap_c = course.water_c - course.start_c
    wanted = math.log((course.water_c - target_c) / gap_c)
    low, high = 0.0, _in_the_pan(ball, wanted)
    fourier = FIRST_GUESS * high
    for _ in range(MOST_STEPS):
        centre_c, slope_c = _peak(ball, course, fourier)
        short = course.water_c - centre_c
        miss = math.log(short / gap_c) - wanted
        low, high = (fourier, high) if miss > 0 else (low, fourier)
        nearer = fourier + miss * short / slope_c if slope_c > 0 else math.nan
        if not low <= nearer <= high:
            nearer = (low + high) / 2
        if abs(nearer - fourier) <= CLOSE_ENOUGH * fourier:
            return nearer
        fourier = nearer
    return fourier


def _in_the_pan(ball: Sphere, wanted: float) -> float:
    """Return the Fourier number at which the first term alone is there: never too early."""
    ((first, decay),) = ball.terms(1)
    return (math.log(first) - wanted) / decay


POINTS_BETWEEN = 4
"""The peak is worked out at every fourth point of the grid and taken as straight between, which is
within 0.05 K: a sixtieth of the doubt about what shows."""


class CutBait(NamedTuple):
    """A bait that was cut open: as worked out before any cut, how it was boiled, whether it was set."""

    ball: Sphere
    course: Course
    time_s: float
    set_through: bool


class Factor(NamedTuple):
    """How many times as well a paste conducts as worked out, and the doubt as a share of that."""

    mean: float
    sd: float


def conductivity_factor(cuts: Sequence[CutBait]) -> Factor:
    """Return by how much a paste conducts better than worked out, after baits were cut open.

    Weight of f ∝ exp(−(ln f)² / (2 · 0.10²)) Π over cuts of Φ((peak(f) − 65) / 3) for a bait that was
    set through, of 1 − Φ for one that was raw; ln f on 41 points from −0.4 to 0.4 [1]_.

    Parameters
    ----------
    cuts : sequence of CutBait
        All of one paste, of any sizes; may be empty.

    Returns
    -------
    Factor
        The exponential of the posterior mean of ln f, 1 where nothing was cut, and the posterior
        standard deviation of ln f, about 0.10 where nothing was cut, [-]

    Raises
    ------
    ValueError
        If a time is below 0, a start is not below the water or a Biot number is out of range.

    Notes
    -----
    Conductivity and diffusivity share the factor: what a paste holds of heat is known better. Cuts
    are taken as independent, and a core without raw, shiny paste as a peak of 65 ± 3 °C, a house
    default. A bait that was sure to be set, or sure to be raw, says next to nothing.

    Examples
    --------
    A 20 mm ball that was raw after 100 s, though worked out to peak at 70 °C:

    >>> bait = Sphere(0.020, 0.3639, 1.2372e-7, 1200.0)
    >>> kitchen = Course(20.0, 99.974, 20.0, 150.0)
    >>> mean, sd = conductivity_factor([CutBait(bait, kitchen, 100.0, False)])
    >>> round(mean, 2), round(sd, 3)
    (0.89, 0.078)

    References
    ----------
    .. [1] Gelman, A. et al., "Bayesian data analysis", 3rd edition, 2013, section 3.7 (from memory).
    """
    step = 2 * FACTOR_REACH / (FACTOR_POINTS - 1)
    logs = [step * i - FACTOR_REACH for i in range(FACTOR_POINTS)]
    scores = [-0.5 * (log / CONDUCTIVITY_DOUBT_SHARE) ** 2 for log in logs]
    for cut in cuts:
        scores = [
            score + _log_chance(cut, peak)
            for score, peak in zip(scores, _peaks(cut, logs), strict=True)
        ]
    weights = [math.exp(score - max(scores)) for score in scores]
    total = sum(weights)
    mean = sum(w * log for w, log in zip(weights, logs, strict=True)) / total
    spread = sum(w * (log - mean) ** 2 for w, log in zip(weights, logs, strict=True)) / total
    return Factor(math.exp(mean), math.sqrt(spread))


def _peaks(cut: CutBait, logs: Sequence[float]) -> list[float]:
    knots = [
        peak_c(cut.ball.conducting(math.exp(log)), cut.course, cut.time_s)
        for log in logs[::POINTS_BETWEEN]
    ]
    peaks = [
        low + (high - low) * part / POINTS_BETWEEN
        for low, high in pairwise(knots)
        for part in range(POINTS_BETWEEN)
    ]
    return [*peaks, knots[-1]]


def _log_chance(cut: CutBait, peak: float) -> float:
    distance = (peak - SET_THROUGH_C) / SET_THROUGH_SD_K
    sign = -1.0 if cut.set_through else 1.0
    return math.log(max(0.5 * math.erfc(sign * distance / math.sqrt(2)), 1e-300))
