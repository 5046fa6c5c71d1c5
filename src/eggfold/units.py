"""Amounts as plain numbers of a unit: the only importer of pint.

A user's text never reaches pint's parser; amounts.py has read it.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any, cast

import pint

from eggfold.amounts import Amount, Measures
from eggfold.reference.eggs import LIQUID_EGG_G_ML
from eggfold.reference.measures import KITCHEN_UNITS, kitchen_measure

REGISTRY: Any = pint.UnitRegistry(Path(__file__).with_name("kitchen_units.txt"), cache_folder=None)

_UNIT = {
    "g/ml": "gram/milliliter",
    "g/cm3": "gram/cubic_centimeter",
    "kg/m3": "kilogram/cubic_meter",
    "kW": "kilowatt",
    "%": "percent",
}


class NoSuchMeasureError(ValueError):
    """A kitchen measure whose size nobody stated."""


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
    quantity = REGISTRY.Quantity(amount.value, _unit(amount.unit, measures))
    return cast("float", quantity.m_as(_unit(unit, measures)))


@lru_cache(maxsize=1024)
def _unit(spelling: str, measures: Measures | None) -> Any:
    """Return the unit that a spelling stands for; a temperature stays absolute, never a difference."""
    if spelling in KITCHEN_UNITS:
        measure = kitchen_measure(spelling, measures)
        if measure is None:
            raise NoSuchMeasureError(spelling)
        return REGISTRY.Unit(measure.unit)
    return REGISTRY.Unit(_UNIT.get(spelling, spelling))


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
