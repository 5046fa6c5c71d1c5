"""What ``eggfold boil`` is asked, from its options."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.options import amount_option

if TYPE_CHECKING:
    from eggfold.recipe.boil import AskedBoil, BoilTable


def boil_table(given: dict[str, Any]) -> tuple[BoilTable | None, int]:
    """Return the table that the options ask for, or None and the exit code."""
    from eggfold.commands.paste_of import paste_of  # noqa: PLC0415
    from eggfold.recipe.boil import build_boil  # noqa: PLC0415

    asked = asked_boil(given)
    found = paste_of(given["recipe"], given["strength"] or "hookbait", given)
    if found.code:
        return None, found.code
    table = build_boil(
        asked,
        found.paste,
        found.name,
        defaults=found.defaults,
        bench=found.bench,
        companions=found.companions,
    )
    return table, 0


def asked_boil(given: dict[str, Any]) -> AskedBoil:
    """Return what the options ask of the pan."""
    from eggfold.recipe.boil import DEFAULT_DIAMETERS_MM, AskedBoil  # noqa: PLC0415
    from eggfold.reference.boiling import TARGETS  # noqa: PLC0415
    from eggfold.reference.floating import LEAST_CORE_MM, MOST_CORE_MM  # noqa: PLC0415

    until = given["until"]
    core = _amount(given, "core", "length", "mm", LEAST_CORE_MM, MOST_CORE_MM)
    stated = [amount_option("diameter", d, "length", "mm", 3, 80) for d in given["diameters"]]
    return AskedBoil(
        _around(core, tuple(dict.fromkeys(stated)), DEFAULT_DIAMETERS_MM),
        (until,) if until else tuple(TARGETS),
        _for_s(given["time"]) if given["time"] else None,
        _amount(given, "start", "temperature", "degC", 0, 100),
        _amount(given, "altitude", "length", "m", 0, 5000),
        _amount(given, "pan", "volume", "l", 0.5, 500),
        core,
    )


def _for_s(text: str) -> float:
    return amount_option("for", text, "time", "s", 1, 7200, or_unit="min")


def _amount(
    given: dict[str, Any], name: str, dimension: Any, unit: str, low: float, high: float
) -> float | None:
    text = given[name]
    return amount_option(name, text, dimension, unit, low, high) if text is not None else None


def _around(
    core_mm: float | None, stated: tuple[float, ...], default: tuple[float, ...]
) -> tuple[float, ...]:
    """Return the sizes that can hold the core; UsageError names one that cannot."""
    if core_mm is None:
        return stated or default
    for d in stated:
        if d <= core_mm:
            raise click.UsageError(f"--core: a {core_mm:g} mm cork does not fit into {d:g} mm")
    sizes = stated or tuple(d for d in default if d > core_mm)
    if not sizes:
        raise click.UsageError(
            f"--core: say how big the bait on a {core_mm:g} mm cork is: --diameter"
        )
    return sizes
