"""Doses for a batch, the egg as the bowl sees it, shelled, and the bowls that a batch is split into."""

from __future__ import annotations

import math
from functools import lru_cache

from eggfold.amounts import Amount, DoseText
from eggfold.records import NamedTuple
from eggfold.reference.eggs import EU_GRADE_MID_WEIGHT_G, US_EDIBLE_G
from eggfold.reference.session import LONGEST_LOAD_S
from eggfold.units import amount_in, egg_mass_g


def shelled_egg_g(standard: str, grade: str, shell_share: float) -> float:
    """Return the shelled mass of one egg of a grade.

    EU and UK: ``mid-weight(grade) * (1 - shell_share)``, the middle of the class [1]_; US: the published
    edible mass [2]_.

    Parameters
    ----------
    standard : str
        ``eu`` or ``us``.
    grade : str
        A grade of that standard.
    shell_share : float
        Shell as a share of the whole egg [-], 0 to 1; the US figures are shelled already.

    Returns
    -------
    float
        Mass [g].

    Raises
    ------
    KeyError
        If the standard has no such grade.

    Notes
    -----
    The middle of the class stands for the egg; a tray may lie anywhere in its class.

    Examples
    --------
    >>> round(shelled_egg_g("eu", "large", 0.11), 2)
    60.52
    >>> shelled_egg_g("us", "large", 0.11)
    50.0

    References
    ----------
    .. [1] Regulation (EC) 589/2008, 2008, Art. 4.
    .. [2] USDA, "National Nutrient Database for Standard Reference", Release 28, 2015, record 01123.
    """
    if standard == "us":
        return US_EDIBLE_G[grade]
    return EU_GRADE_MID_WEIGHT_G[grade] * (1 - shell_share)


class Dose(NamedTuple):
    """What one egg and one kilo of dry mix take: [g/egg] and [g/kg], ``by_volume`` [ml/egg], [ml/kg].

    One of the two is 0. What is dosed ``per_egg_g``, by the gram of shelled egg [g/g], [ml/g], is a dose
    per egg once that egg is known.
    """

    per_egg: float = 0.0
    per_kg: float = 0.0
    by_volume: bool = False
    per_egg_g: float = 0.0

    def share(self, share: float) -> Dose:
        """Return a part of the dose."""
        per_egg, per_kg, _, per_egg_g = self
        return Dose(per_egg * share, per_kg * share, self.by_volume, per_egg_g * share)

    def of_egg(self, egg_g: float) -> Dose:
        """Return the dose where one egg weighs so much, shelled [g]."""
        return self._replace(per_egg=self.per_egg_g * egg_g) if self.per_egg_g else self


class Measure(NamedTuple):
    """How much of one additive: its mass [g] and, where a density is known, its volume [ml]."""

    g: float
    ml: float | None


@lru_cache(maxsize=4096)
def dose_of(dose: DoseText) -> Dose | None:
    """Return a written dose in plain numbers.

    ``number = amount / per``: for each egg, gram of shelled egg, or kilo of dry mix or finished bait; of a
    share of the mix ``per_kg = 10 * percent``.

    Parameters
    ----------
    dose : DoseText
        As read from a file.

    Returns
    -------
    Dose or None
        One of its numbers is not 0; None for ``none``.

    Raises
    ------
    NoSuchMeasureError
        If the unit is a kitchen measure without a size.

    Notes
    -----
    The grammar of a dose in numbers; no source.

    Examples
    --------
    >>> from eggfold.amounts import parse_dose
    >>> dose_of(parse_dose("5 ml per kg mix")).per_kg
    5.0
    >>> dose_of(parse_dose("4 g per egg")).per_egg
    4.0
    >>> dose_of(parse_dose("5 g per 500 g eggs")).of_egg(60.0).per_egg
    0.6
    >>> dose_of(parse_dose("none")) is None
    True
    """
    amount = dose.amount
    if amount is None:
        return None
    if dose.basis == "share":
        return Dose(per_kg=10 * amount.value)
    per = egg_mass_g(dose.of_egg, dose.measures) if dose.of_egg else dose.per
    unit = "ml" if dose.by_volume else "g"
    number = amount_in(Amount(amount.value / per, amount.unit), unit, dose.measures)
    if dose.of_egg:
        return Dose(per_egg_g=number, by_volume=dose.by_volume)
    if dose.basis == "egg":
        return Dose(per_egg=number, by_volume=dose.by_volume)
    if dose.basis.startswith("lb"):
        number /= amount_in(Amount(1.0, "lb"), "kg")
    return Dose(per_kg=number, by_volume=dose.by_volume)


def dose_by_mass(dose: Dose, density_g_ml: float | None) -> Dose:
    """Return a dose as mass per egg or per mass of dry mix.

    ``mass = dose * density_g_ml`` for a dose by volume, else the dose itself.

    Parameters
    ----------
    dose : Dose
        By mass or by volume.
    density_g_ml : float, optional
        Density [g/ml], above 0; needed for a dose by volume.

    Returns
    -------
    Dose
        By mass [g/egg] or [g/kg].

    Raises
    ------
    ValueError
        If a dose by volume has no density.

    Notes
    -----
    Mass is density times volume; no source.

    Examples
    --------
    >>> dose_by_mass(Dose(per_kg=5.0, by_volume=True), 1.2).per_kg
    6.0
    """
    if not dose.by_volume:
        return dose
    if density_g_ml is None:
        raise ValueError("a dose by volume needs a density")
    per_egg, per_kg, _, per_egg_g = dose
    return Dose(per_egg * density_g_ml, per_kg * density_g_ml, per_egg_g=per_egg_g * density_g_ml)


def scale_dose(dose: Dose, eggs: float, dry_g: float, density_g_ml: float | None) -> Measure:
    """Return what a batch takes of an additive.

    ``amount = dose * eggs`` for a dose per egg, ``dose * dry_g / 1000`` for one per kilo of dry mix;
    ``g = ml * density_g_ml``.

    Parameters
    ----------
    dose : Dose
        Per egg or per kilo of dry mix, by mass or by volume.
    eggs : float
        Eggs in the batch [egg], 0 or more.
    dry_g : float
        All dry mix of the batch [g], 0 or more.
    density_g_ml : float, optional
        Density [g/ml], above 0; without it a mass has no volume.

    Returns
    -------
    Measure
        Mass [g] and volume [ml] or None.

    Raises
    ------
    ValueError
        If a volume has no density.

    Notes
    -----
    The definition of a dose; mass is density times volume; no source.

    Examples
    --------
    >>> scale_dose(Dose(per_kg=5.0, by_volume=True), 6, 800.0, 1.35)
    Measure(g=5.4, ml=4.0)
    """
    amount = dose.per_egg * eggs + dose.per_kg * (dry_g / 1000)
    if not dose.by_volume:
        return Measure(amount, None if density_g_ml is None else amount / density_g_ml)
    if density_g_ml is None:
        raise ValueError("a volume needs a density")
    return Measure(amount * density_g_ml, amount)


class BowlGroup(NamedTuple):
    """So many bowls of so many eggs each."""

    number: int
    eggs: int


def split_eggs(
    eggs: int, paste_of_one_g: float, bowl_g: float, *, more: int = 0
) -> tuple[BowlGroup, ...]:
    """Return the fewest equal bowls that a batch fits into, the odd one last.

    ``most = floor(bowl_g / paste_of_one_g)``, ``bowls = ceil(eggs / most) + more``,
    ``each = ceil(eggs / bowls)``; the last bowl takes what is left over.

    Parameters
    ----------
    eggs : int
        Eggs of the batch [egg], 1 or more.
    paste_of_one_g : float
        Paste that one egg makes [g], above 0.
    bowl_g : float
        Paste that the bowl takes [g], above 0.
    more : int
        How many smaller bowls are made beyond the fewest [-], 0 or more.

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
    each = math.ceil(eggs / (math.ceil(eggs / most) + more))
    full, rest = divmod(eggs, each)
    groups = (BowlGroup(full, each),)
    return (*groups, BowlGroup(1, rest)) if rest else groups


def equal_bowls(paste_g: float, bowl_g: float) -> int:
    """Return the fewest equal bowls that hold a paste which can be divided anywhere.

    ``n = paste_g / bowl_g``, rounded up.

    Parameters
    ----------
    paste_g : float
        Paste of the batch [g], 0 or more.
    bowl_g : float
        Paste that the bowl takes [g], above 0.

    Returns
    -------
    int
        Bowls, 1 or more.

    Notes
    -----
    Liquid egg and base mix are weighed, so no bowl need hold whole eggs; no source.

    Examples
    --------
    >>> equal_bowls(11_000.0, 5000.0), equal_bowls(40.0, 5000.0)
    (3, 1)
    """
    return max(1, math.ceil(paste_g / bowl_g - 1e-9))


def loads_needed(paste_g: float, load_g: float, roll_s: float) -> int:
    """Return how many loads the baits of one size in one bowl are boiled in.

    ``n = max(paste_g / load_g, roll_s / 1800)``, rounded up.

    Parameters
    ----------
    paste_g : float
        Paste of the size in the bowl [g], 0 or more.
    load_g : float
        What the smallest pan takes at once [g], above 0.
    roll_s : float
        How long one person rolls all of it [s], 0 or more.

    Returns
    -------
    int
        Loads, 1 or more.

    Notes
    -----
    No load is rolled for longer than LONGEST_LOAD_S, so that baits moulded by hand do not wait for a full
    pan; no source.

    Examples
    --------
    >>> loads_needed(2184.0, 525.0, 5242.0), loads_needed(240.0, 525.0, 3 * 3600.0)
    (5, 6)
    """
    by_pan = math.ceil(paste_g / load_g - 1e-9)
    return max(1, by_pan, math.ceil(roll_s / LONGEST_LOAD_S - 1e-9))
