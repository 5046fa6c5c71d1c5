"""How much dry mix a bowl takes, when doses per kilogram feed back on the mix, and a blend of it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from operator import mul

from eggfold.errors import NoAnswerError
from eggfold.records import NamedTuple
from eggfold.reference.learning import (
    BLEND_SD,
    BLEND_SD_LIMITS,
    INGREDIENT_SD,
    LEAST_MIX_SD,
    LONE_BLEND_SD_LIMITS,
    WET_LIMITS,
)


class Rates(NamedTuple):
    """What the additives bring, per egg and per gram of dry mix.

    ``powder_per_egg_g`` [g/egg] and ``powder_per_dry`` [g/g] of powder additives;
    ``wet_per_egg_g`` [g/egg] and ``wet_per_dry`` [g/g] of liquids and oils, times their wetting.
    """

    powder_per_egg_g: float = 0.0
    powder_per_dry: float = 0.0
    wet_per_egg_g: float = 0.0
    wet_per_dry: float = 0.0


def sum_rates(parts: Iterable[Rates]) -> Rates:
    """Add the rates of several additives: ``sum(r)`` of each of the four.

    Parameters
    ----------
    parts : iterable of Rates
        One for each additive.

    Returns
    -------
    Rates
        Their sum.

    Notes
    -----
    A sum; no source.

    Examples
    --------
    >>> sum_rates([Rates(powder_per_egg_g=3.0), Rates(wet_per_egg_g=4.0)]).wet_per_egg_g
    4.0
    """
    a = b = c = d = 0.0
    for r in parts:
        a += r.powder_per_egg_g
        b += r.powder_per_dry
        c += r.wet_per_egg_g
        d += r.wet_per_dry
    return Rates(a, b, c, d)


def trial_dry_g(amount_g: float, eggs: float, rates: Rates) -> float:
    """Return all dry mix of a trial from what left the bag.

    ``P_ref = (amount_g + eggs * powder_per_egg_g) / (1 - powder_per_dry)``

    Parameters
    ----------
    amount_g : float
        Base mix out of the bag [g], positive.
    eggs : float
        Eggs of the trial [egg], above 0.
    rates : Rates
        The trial's doses.

    Returns
    -------
    float
        Dry mix [g].

    Raises
    ------
    NoAnswerError
        If the powder additives alone are the whole mix.

    Notes
    -----
    A mass balance: dry mix is base mix and powder additives; no source.

    Examples
    --------
    A bag that lost 134 g, beside 3 g of powder for the one egg:

    >>> trial_dry_g(134.0, 1, Rates(powder_per_egg_g=3.0))
    137.0
    """
    if rates.powder_per_dry >= 1:
        raise NoAnswerError(
            "the powder additives add up to the whole mix or more; lower a dose per kg or per cent"
        )
    return (amount_g + eggs * rates.powder_per_egg_g) / (1 - rates.powder_per_dry)


def absorbency(dry_g: float, eggs: float, egg_g: float, rates: Rates) -> float:
    """Return grams of dry mix per gram of wet.

    ``a = dry_g / (eggs * (egg_g + wet_per_egg_g) + wet_per_dry * dry_g)``

    Parameters
    ----------
    dry_g : float
        All dry mix [g], 0 or more.
    eggs : float
        Eggs [egg], above 0.
    egg_g : float
        One shelled egg [g], above 0.
    rates : Rates
        The doses.

    Returns
    -------
    float
        Absorbency [-].

    Notes
    -----
    The definition of absorbency; no source. That one figure serves every bowl of a base mix is the
    assumption; a wet mass of 0 has none. Without a weighing 130 g for one EU large egg and 4 g of liquids, as
    below, are common practice, from 110 to 150 g.

    Examples
    --------
    >>> round(absorbency(130.0, 1, 60.52, Rates(wet_per_egg_g=4.0)), 3)
    2.015
    """
    return dry_g / (eggs * (egg_g + rates.wet_per_egg_g) + rates.wet_per_dry * dry_g)


def dry_mix_g(a: float, eggs: float, egg_g: float, rates: Rates) -> float:
    """Return all dry mix that a bowl is expected to take.

    ``P = a * eggs * (egg_g + wet_per_egg_g) / (1 - a * wet_per_dry)``

    Parameters
    ----------
    a : float
        Absorbency [-], 0 or more.
    eggs : float
        Eggs [egg], above 0.
    egg_g : float
        One shelled egg [g], above 0.
    rates : Rates
        The doses.

    Returns
    -------
    float
        Dry mix [g].

    Raises
    ------
    NoAnswerError
        If the liquids per kg wet more mix than they belong to.

    Notes
    -----
    A dose per kg wets mix that asks for more of the dose; the closed form is the sum of that series.
    The absorbency's definition solved for the dry mix; no source.

    Examples
    --------
    5 % of the mix as liquid: 120 g for the egg, then 12 g for 6 g more, then 1.2 g … in all 120/(1 − 0.1):

    >>> round(dry_mix_g(2.0, 1, 60.0, Rates(wet_per_dry=0.05)), 3)
    133.333
    """
    feedback = a * rates.wet_per_dry
    if feedback >= 1:
        raise NoAnswerError(
            "the liquids dosed per kg of mix wet more mix than they belong to "
            f"(1 kg of mix gets {rates.wet_per_dry * 1000:.0f} g, which wets {feedback:.2f} kg); "
            "lower a liquid dose per kg"
        )
    return a * eggs * (egg_g + rates.wet_per_egg_g) / (1 - feedback)


def base_mix_g(dry_g: float, eggs: float, rates: Rates) -> float:
    """Return the base mix in the dry mix, beside the powder additives.

    ``base = dry_g * (1 - powder_per_dry) - eggs * powder_per_egg_g``

    Parameters
    ----------
    dry_g : float
        All dry mix [g], 0 or more.
    eggs : float
        Eggs [egg], above 0.
    rates : Rates
        The doses.

    Returns
    -------
    float
        Base mix [g].

    Raises
    ------
    NoAnswerError
        If the powder additives leave no room for base mix.

    Notes
    -----
    A mass balance, trial_dry_g turned round; no source.

    Examples
    --------
    >>> base_mix_g(137.0, 1, Rates(powder_per_egg_g=3.0))
    134.0
    """
    base = dry_g * (1 - rates.powder_per_dry) - eggs * rates.powder_per_egg_g
    if base <= 0:
        raise NoAnswerError(
            f"the powder additives ({dry_g - base:.0f} g) leave no room for base mix "
            f"in {dry_g:.0f} g of dry mix; lower a powder dose"
        )
    return base


def wet_g(eggs: float, egg_g: float, dry_g: float, rates: Rates) -> float:
    """Return the wet mass that the dry mix takes up.

    ``W = eggs * (egg_g + wet_per_egg_g) + wet_per_dry * dry_g``

    Parameters
    ----------
    eggs : float
        Eggs [egg], above 0.
    egg_g : float
        One shelled egg [g], above 0.
    dry_g : float
        All dry mix [g], 0 or more.
    rates : Rates
        The doses.

    Returns
    -------
    float
        Wet mass [g], liquids times their wetting.

    Notes
    -----
    A sum of what is wet; no source. Egg and liquids are taken to wet alike, unless a liquid has a wetting of
    its own.

    Examples
    --------
    >>> wet_g(6, 60.5, 800.0, Rates(wet_per_egg_g=4.0, wet_per_dry=0.01))
    395.0
    """
    return eggs * (egg_g + rates.wet_per_egg_g) + rates.wet_per_dry * dry_g


LEAST_WET = 1e-4
"""The doubt about a mix [-] is worked out as if its wet were at least this of the default's, so that
the sums stay within reach of rounding."""


class KnownMix(NamedTuple):
    """A mix that met the scale: its parts, grams of wet per gram of dry, and the doubt as a share."""

    name: str
    parts: Mapping[str, float]
    wet_per_dry: float
    sd: float


class Neighbour(NamedTuple):
    """What a known mix does to a prediction: σ of the mix, its element of k, and its pull.

    The predicted wet is the default's plus, for each neighbour, pull × (its wet less the default's).
    """

    mix: KnownMix
    sigma: float
    shared: float
    pull: float


class WetTaken(NamedTuple):
    """Grams of wet per gram of dry, the doubt as a share of it, and whether a limit cut it."""

    wet_per_dry: float
    sd: float
    cut: bool = False


class BlendEstimate(NamedTuple):
    """What a blend takes before its first bowl, what each ingredient seems to, and the sums behind."""

    taken: WetTaken
    mean: float
    """Grams of wet per gram of dry before any limit."""
    variance: float
    ingredients: Mapping[str, WetTaken]
    neighbours: tuple[Neighbour, ...]
    matrix: tuple[tuple[float, ...], ...]
    """K, a row and a column for each neighbour."""
    default: float
    learned: bool
    """Whether a known mix shares an ingredient with it."""

    @property
    def absorbency(self) -> float:
        """Grams of dry mix per gram of wet."""
        return 1 / self.taken.wet_per_dry


def predict_blend(
    parts: Mapping[str, float], known: Sequence[KnownMix], default_wet_per_dry: float
) -> BlendEstimate:
    """Predict what a blend takes from the mixes that met the scale.

    Grams of wet per gram of dry are linear in the blend, κ = Σ w_i κ_i, with κ_i ~ N(κ0, τ²) for each
    ingredient, τ = 0.25 κ0. With the shares W of the known mixes: K = τ² W Wᵀ + diag(σ²),
    k = τ² W w, mean = κ0 + kᵀ K⁻¹ (κ − κ0), variance = τ² wᵀw − kᵀ K⁻¹ k + (0.05 κ0)² [1]_.

    Parameters
    ----------
    parts : mapping of str to float
        Shares of the blend's ingredients, 0 or more, in any unit; they are scaled to 1.
    known : sequence of KnownMix
        Mixes with a blend that met the scale, each once, 50 at the most.
    default_wet_per_dry : float
        κ0, wet of the default [g/g], above 0.

    Returns
    -------
    BlendEstimate
        The prediction; of a blend that shares nothing with any known mix, the default and its doubt.

    Raises
    ------
    ValueError
        If the shares of a blend add up to nothing, or a wet is not a number above 0.

    Notes
    -----
    σ is κ × sd, at least 0.02 κ. The mean is kept within 0.5 and 2 κ0, the doubt within 5 and 25 %,
    within 10 and 25 % where nothing was learned; where the mean was cut it is 25 %. The same limits
    hold for each ingredient, whose variance is τ² − (K⁻¹-weighed squares of what it shares), without
    the 5 % by which blends stray. Powders that hinder or help each other are not thought of.

    Examples
    --------
    Five equal ingredients and one alone, of which nothing is known:

    >>> five = dict.fromkeys("abcde", 20.0)
    >>> [round(predict_blend(p, [], 0.5).taken.sd, 2) for p in (five, {"a": 100.0})]
    [0.12, 0.25]

    A mix of a alone that takes 0.6 g/g, known to 2 %, leaves b to be guessed:

    >>> found = predict_blend({"a": 50, "b": 50}, [KnownMix("a alone", {"a": 1}, 0.6, 0.0)], 0.5)
    >>> round(found.taken.wet_per_dry, 4), round(found.neighbours[0].pull, 4)
    (0.5495, 0.4954)

    References
    ----------
    .. [1] Rasmussen, C. E. and Williams, C. K. I., "Gaussian processes for machine learning", 2006,
       equations 2.25 and 2.26 (from memory).
    """
    k0, tau2 = _checked(default_wet_per_dry), (INGREDIENT_SD * default_wet_per_dry) ** 2
    w, rows = _shares(parts), [_shares(mix.parts) for mix in known]
    sigmas = [max(LEAST_MIX_SD, mix.sd) * max(mix.wet_per_dry, LEAST_WET * k0) for mix in known]
    matrix = [[tau2 * _overlap(one, other) for other in rows] for one in rows]
    for i, sigma in enumerate(sigmas):
        matrix[i][i] += sigma * sigma
    root = _cholesky(matrix)
    off = [_checked(mix.wet_per_dry) - k0 for mix in known]
    shared = [tau2 * _overlap(row, w) for row in rows]
    pulls = _solved(root, shared)
    mean = k0 + _dot(pulls, off)
    variance = tau2 * _overlap(w, w) - _dot(pulls, shared) + (BLEND_SD * k0) ** 2
    learned = any(shared)
    limits = BLEND_SD_LIMITS if learned else LONE_BLEND_SD_LIMITS
    return BlendEstimate(
        taken=_kept(mean, variance, k0, limits),
        mean=mean,
        variance=variance,
        ingredients={name: _ingredient(name, rows, root, off, k0) for name in w},
        neighbours=tuple(map(Neighbour, known, sigmas, shared, pulls)),
        matrix=tuple(map(tuple, matrix)),
        default=k0,
        learned=learned,
    )


def _checked(wet_per_dry: float) -> float:
    if not 0 < wet_per_dry < math.inf:
        raise ValueError(f"No mix takes {wet_per_dry:g} g of wet per g of dry.")
    return wet_per_dry


def _shares(parts: Mapping[str, float]) -> dict[str, float]:
    total = math.fsum(parts.values())
    if not 0 < total < math.inf:
        raise ValueError(f"The shares of a blend add up to {total:g}.")
    return {name: part / total for name, part in parts.items()}


def _overlap(one: Mapping[str, float], other: Mapping[str, float]) -> float:
    return math.fsum(share * other.get(name, 0.0) for name, share in one.items())


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return math.fsum(map(mul, one, other))


def _ingredient(
    name: str,
    rows: Sequence[Mapping[str, float]],
    root: Sequence[Sequence[float]],
    off: Sequence[float],
    k0: float,
) -> WetTaken:
    """Return what one ingredient seems to take: the prediction of a blend of it alone."""
    tau2 = (INGREDIENT_SD * k0) ** 2
    shared = [tau2 * row.get(name, 0.0) for row in rows]
    pulls = _solved(root, shared)
    return _kept(k0 + _dot(pulls, off), tau2 - _dot(pulls, shared), k0, BLEND_SD_LIMITS)


def _kept(mean: float, variance: float, k0: float, limits: tuple[float, float]) -> WetTaken:
    """Return a prediction within its limits: widest where the mean itself was cut."""
    least, most = limits
    within = min(max(mean, WET_LIMITS[0] * k0), WET_LIMITS[1] * k0)
    if within != mean:
        return WetTaken(within, most, cut=True)
    sd = math.sqrt(max(0.0, variance)) / mean
    return WetTaken(mean, min(max(sd, least), most))


def _cholesky(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    """Return the lower triangle L with L Lᵀ = matrix, row by row up to the diagonal."""
    root: list[list[float]] = []
    for i, given in enumerate(matrix):
        row: list[float] = []
        for j in range(i):
            row.append((given[j] - sum(map(mul, row, root[j]))) / root[j][j])
        row.append(math.sqrt(given[i] - sum(map(mul, row, row))))
        root.append(row)
    return root


def _solved(root: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """Return x of L Lᵀ x = right: forward through L, then back through its transpose."""
    forward: list[float] = []
    for row, value in zip(root, right, strict=True):
        forward.append((value - sum(map(mul, row, forward))) / row[-1])
    found = forward
    for i in range(len(root) - 1, -1, -1):
        found[i] /= root[i][i]
        for j in range(i):
            found[j] -= root[i][j] * found[i]
    return found
