"""Doses for a batch, and the egg as the bowl sees it: shelled."""

from __future__ import annotations

from eggfold.records import NamedTuple
from eggfold.reference.eggs import EU_GRADE_MID_WEIGHT_G, US_EDIBLE_G
from eggfold.units import EGG, EGG_GRAM, GRAM, KILOGRAM, MILLILITER, Quantity


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


def dose_of(quantity: Quantity) -> Dose:
    """Return a dose in plain numbers.

    Parameters
    ----------
    quantity : Quantity
        [g/egg], [ml/egg], or mass or volume per mass of shelled egg or of dry mix.

    Returns
    -------
    Dose
        One of its numbers is not 0.

    Raises
    ------
    pint.DimensionalityError
        If the quantity is none of these.

    Notes
    -----
    The one step from the units of a dose to numbers; no source.

    Examples
    --------
    >>> from eggfold.amounts import parse_dose
    >>> from eggfold.units import dose_quantity
    >>> dose_of(dose_quantity(parse_dose("5 ml per kg mix"))).per_kg
    5.0
    >>> dose_of(dose_quantity(parse_dose("4 g per egg"))).per_egg
    4.0
    >>> dose_of(dose_quantity(parse_dose("5 g per 500 g eggs"))).of_egg(60.0).per_egg
    0.6
    """
    dimensions = quantity.dimensionality
    by_volume = dimensions.get("[length]") == 3
    unit = MILLILITER if by_volume else GRAM
    if "[egg]" in dimensions:
        return Dose(per_egg=quantity.m_as(unit / EGG), by_volume=by_volume)
    if "[egg_mass]" in dimensions:
        return Dose(per_egg_g=quantity.m_as(unit / EGG_GRAM), by_volume=by_volume)
    return Dose(per_kg=quantity.m_as(unit / KILOGRAM), by_volume=by_volume)


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
