"""Doses times eggs or dry mix, on Quantities, so that the two cannot be confused."""

from __future__ import annotations

from typing import NamedTuple, cast

from eggfold.units import (
    EGG,
    GRAM,
    GRAM_PER_ML,
    KILOGRAM,
    MILLILITER,
    Quantity,
    is_per_egg,
    is_volume,
    make_quantity,
)


class Measure(NamedTuple):
    """How much of one additive: its mass [g] and, where a density is known, its volume [ml]."""

    g: float
    ml: float | None


class DoseRates(NamedTuple):
    """What one egg and one gram of dry mix bring of an additive: [g/egg] and [g/g]."""

    per_egg_g: float = 0.0
    per_dry: float = 0.0


def dose_rates(dose: Quantity, density_g_ml: float | None) -> DoseRates:
    """Return a dose as mass per egg or per mass of dry mix.

    ``rate = dose * density_g_ml`` for a dose by volume, else the dose itself.

    Parameters
    ----------
    dose : Quantity
        [g/egg], [ml/egg], or mass or volume per mass of dry mix.
    density_g_ml : float, optional
        Density [g/ml], above 0; needed for a dose by volume.

    Returns
    -------
    DoseRates
        One of its two members is 0.

    Raises
    ------
    ValueError
        If a dose by volume has no density.

    Notes
    -----
    The definition of a dose; no source.

    Examples
    --------
    >>> from eggfold.amounts import parse_dose
    >>> from eggfold.units import dose_quantity
    >>> dose_rates(dose_quantity(parse_dose("5 ml per kg mix")), 1.2)
    DoseRates(per_egg_g=0.0, per_dry=0.006)
    >>> dose_rates(dose_quantity(parse_dose("4 g per egg")), None)
    DoseRates(per_egg_g=4.0, per_dry=0.0)
    """
    mass = dose
    if is_volume(dose):
        if density_g_ml is None:
            raise ValueError("a dose by volume needs a density")
        mass = dose * make_quantity(density_g_ml, GRAM_PER_ML)
    if is_per_egg(dose):
        return DoseRates(per_egg_g=mass.m_as(GRAM / EGG))
    return DoseRates(per_dry=mass.m_as(GRAM / GRAM))


def scale_dose(dose: Quantity, eggs: float, dry_g: float) -> Quantity:
    """Return what a batch takes of an additive.

    ``amount = dose * eggs`` for a dose per egg, ``dose * dry_g`` for a dose per mass of dry mix.

    Parameters
    ----------
    dose : Quantity
        Per egg or per mass of dry mix.
    eggs : float
        Eggs in the batch [egg], 0 or more.
    dry_g : float
        All dry mix of the batch [g], 0 or more.

    Returns
    -------
    Quantity
        [g] or [ml], as the dose was written.

    Raises
    ------
    pint.DimensionalityError
        If the dose is neither.

    Notes
    -----
    The definition of a dose; no source.

    Examples
    --------
    >>> from eggfold.amounts import parse_dose
    >>> from eggfold.units import dose_quantity
    >>> round(scale_dose(dose_quantity(parse_dose("5 ml per kg mix")), 6, 780.0).m_as("ml"), 9)
    3.9
    """
    extent = make_quantity(eggs, EGG) if is_per_egg(dose) else make_quantity(dry_g / 1000, KILOGRAM)
    return cast("Quantity", (dose * extent).to(MILLILITER if is_volume(dose) else GRAM))


def measure_of(amount: Quantity, density_g_ml: float | None) -> Measure:
    """Return an amount as mass and volume.

    ``g = ml * density_g_ml``.

    Parameters
    ----------
    amount : Quantity
        [g] or [ml].
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
    Mass is density times volume; no source.

    Examples
    --------
    >>> from eggfold.units import Amount, quantity_of
    >>> measure_of(quantity_of(Amount(5.0, "ml")), 1.35)
    Measure(g=6.75, ml=5.0)
    """
    if is_volume(amount):
        if density_g_ml is None:
            raise ValueError("a volume needs a density")
        ml = amount.m_as(MILLILITER)
        return Measure(ml * density_g_ml, ml)
    g = amount.m_as(GRAM)
    return Measure(g, None if density_g_ml is None else g / density_g_ml)
