"""Quantities: the only importer of pint.

A user's text never reaches pint's parser; amounts.py reads it, this module gives it a unit.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias, cast

import pint

from eggfold.amounts import Amount, DoseText, Measures
from eggfold.reference.eggs import LIQUID_EGG_G_ML
from eggfold.reference.measures import kitchen_measure

if TYPE_CHECKING:
    from collections.abc import Callable

Quantity: TypeAlias = "pint.Quantity[Any]"

REGISTRY: Any = pint.UnitRegistry(Path(__file__).with_name("kitchen_units.txt"), cache_folder=None)
make_quantity: Callable[[float, Any], Quantity] = REGISTRY.Quantity

EGG = REGISTRY.Unit("egg")
EGG_GRAM = REGISTRY.Unit("gram_of_egg")
GRAM = REGISTRY.Unit("gram")
KILOGRAM = REGISTRY.Unit("kilogram")
POUND = REGISTRY.Unit("pound")
MILLILITER = REGISTRY.Unit("milliliter")

_UNIT = {
    "g/ml": "gram/milliliter",
    "g/cm3": "gram/cubic_centimeter",
    "kg/m3": "kilogram/cubic_meter",
    "kW": "kilowatt",
    "%": "percent",
}


class NoSuchMeasureError(ValueError):
    """A kitchen measure whose size nobody stated."""


@lru_cache(maxsize=1024)
def unit_of(spelling: str, measures: Measures | None = None) -> Any:
    """Return the unit a spelling of amounts.py stands for.

    Parameters
    ----------
    spelling : str
        One of amounts.UNITS.
    measures : str, optional
        Whose spoons, cups and pints.

    Returns
    -------
    pint.Unit
        The unit; a temperature stays absolute (degree_Celsius, never delta).

    Raises
    ------
    NoSuchMeasureError
        If the country is needed and not given, or has no such measure.

    Notes
    -----
    The sizes stand in kitchen_units.txt; reference/measures.py names the source of each kitchen measure.
    Beyond that a look-up; no source.

    Examples
    --------
    >>> str(unit_of("tsp", "us")), str(unit_of("tsp"))
    ('us_teaspoon', 'metric_teaspoon')
    """
    if spelling in {"tsp", "tbsp", "cup", "floz", "pint"}:
        measure = kitchen_measure(spelling, measures)
        if measure is None:
            raise NoSuchMeasureError(spelling)
        return REGISTRY.Unit(measure.unit)
    return REGISTRY.Unit(_UNIT.get(spelling, spelling))


def quantity_of(amount: Amount, measures: Measures | None = None) -> Quantity:
    """Return an amount as a Quantity.

    Parameters
    ----------
    amount : Amount
        As read from a file or the command line.
    measures : str, optional
        Whose spoons, cups and pints.

    Returns
    -------
    Quantity
        In the unit as written.

    Raises
    ------
    NoSuchMeasureError
        If the unit is a kitchen measure without a size.

    Notes
    -----
    A number and its unit; no source.

    Examples
    --------
    >>> str(quantity_of(Amount(1.0, "tbsp"), "us").to("ml"))
    '14.78676478125 milliliter'
    """
    return make_quantity(amount.value, unit_of(amount.unit, measures))


@lru_cache(maxsize=4096)
def amount_in(amount: Amount, unit: str, measures: Measures | None = None) -> float:
    """Convert an amount to a plain number of a unit: the visible step from text to a solver.

    Parameters
    ----------
    amount : Amount
        As read from a file or the command line.
    unit : str
        One of amounts.UNITS, of the same dimension.
    measures : str, optional
        Whose spoons, cups and pints.

    Returns
    -------
    float
        The magnitude [unit]; for a temperature the absolute one.

    Raises
    ------
    NoSuchMeasureError
        If the unit is a kitchen measure without a size.

    Examples
    --------
    The pound of [1]_:

    >>> amount_in(Amount(1.0, "lb"), "g")
    453.59237
    >>> round(amount_in(Amount(68.0, "degF"), "degC"), 9)
    20.0

    References
    ----------
    .. [1] International Yard and Pound Agreement, 1959: one pound is 0.45359237 kg.
    """
    return cast("float", quantity_of(amount, measures).m_as(unit_of(unit, measures)))


@lru_cache(maxsize=4096)
def dose_quantity(dose: DoseText, measures: Measures | None = None) -> Quantity | None:
    """Return a dose as a Quantity per egg, or per mass of shelled egg, dry mix or finished bait.

    Parameters
    ----------
    dose : DoseText
        As read from a file.
    measures : str, optional
        Whose spoons, cups and pints.

    Returns
    -------
    Quantity or None
        [g/egg], [ml/egg], the same per gram of egg, [g/kg] or [ml/kg] in the unit as written (a share of
        the mix is dimensionless); None for ``none``.

    Raises
    ------
    NoSuchMeasureError
        If the unit is a kitchen measure without a size.

    Notes
    -----
    The grammar of a dose in units; no source.

    Examples
    --------
    >>> from eggfold.amounts import parse_dose
    >>> str(dose_quantity(parse_dose("5 ml per kg mix")))
    '5.0 milliliter / kilogram'
    >>> dose_quantity(parse_dose("none")) is None
    True
    """
    if dose.amount is None:
        return None
    amount = quantity_of(dose.amount, measures)
    if dose.basis == "share":
        return amount
    if dose.of_egg:
        egg_g = egg_mass_g(dose.of_egg, measures)
        return cast("Quantity", amount / make_quantity(egg_g, EGG_GRAM))
    per = EGG if dose.basis == "egg" else POUND if dose.basis.startswith("lb") else KILOGRAM
    return cast("Quantity", amount / make_quantity(dose.per, per))


def egg_mass_g(amount: Amount, measures: Measures | None = None) -> float:
    """Return the mass of an amount of shelled, beaten egg.

    ``mass = 1.03 * volume`` for a volume, else the mass itself.

    Parameters
    ----------
    amount : Amount
        A mass or a volume.
    measures : str, optional
        Whose spoons, cups and pints.

    Returns
    -------
    float
        Mass [g].

    Raises
    ------
    NoSuchMeasureError
        If the unit is a kitchen measure without a size.

    Notes
    -----
    The density is a house default of this package, without froth; no source.

    Examples
    --------
    >>> round(egg_mass_g(Amount(1.0, "pint"), "imperial"), 1)
    585.3
    """
    if amount.dimension == "mass":
        return amount_in(amount, "g")
    return LIQUID_EGG_G_ML * amount_in(amount, "ml", measures)
