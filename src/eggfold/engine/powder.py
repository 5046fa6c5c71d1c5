"""How much dry mix a bowl takes, when doses per kilogram feed back on the mix itself."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from eggfold.errors import NoAnswerError

Z_90 = 1.645
"""Standard deviations either side of the mean that hold 90 % of a normal distribution."""


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
    """Add the rates of several additives.

    Parameters
    ----------
    parts : iterable of Rates
        One for each additive.

    Returns
    -------
    Rates
        Their sum.
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
        Eggs of the trial [egg].
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
        All dry mix [g].
    eggs : float
        Eggs [egg].
    egg_g : float
        One shelled egg [g].
    rates : Rates
        The doses.

    Returns
    -------
    float
        Absorbency [-].

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
        Absorbency [-].
    eggs : float
        Eggs [egg].
    egg_g : float
        One shelled egg [g].
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
        All dry mix [g].
    eggs : float
        Eggs [egg].
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
        Eggs [egg].
    egg_g : float
        One shelled egg [g].
    dry_g : float
        All dry mix [g].
    rates : Rates
        The doses.

    Returns
    -------
    float
        Wet mass [g], liquids times their wetting.
    """
    return eggs * (egg_g + rates.wet_per_egg_g) + rates.wet_per_dry * dry_g


def dry_mix_range_g(a: float, wet_mass_g: float, sd: float, bowl_sd: float) -> tuple[float, float]:
    """Return the 90 % range of the dry mix of one bowl.

    ``(a -+ 1.645 * sqrt(sd**2 + bowl_sd**2)) * wet_mass_g``

    Parameters
    ----------
    a : float
        Absorbency [-].
    wet_mass_g : float
        Wet mass at the expected dry mix [g].
    sd : float
        Doubt about the absorbency, one standard deviation [-].
    bowl_sd : float
        Bowl-to-bowl standard deviation of the absorbency [-].

    Returns
    -------
    tuple of float
        Low and high [g]; low is never below 0.
    """
    both = math.hypot(sd, bowl_sd)
    return max(0.0, (a - Z_90 * both) * wet_mass_g), (a + Z_90 * both) * wet_mass_g
