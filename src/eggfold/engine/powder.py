"""How much dry mix a bowl takes, when doses per kilogram feed back on the mix itself."""

from __future__ import annotations

from collections.abc import Iterable

from eggfold.errors import NoAnswerError
from eggfold.records import NamedTuple


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
