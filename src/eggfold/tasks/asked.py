"""What was typed, as amounts, numbers, eggs and sizes; what cannot be read is an OptionError."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from eggfold.amounts import AmountError, Dimension, parse_amount
from eggfold.errors import OptionError
from eggfold.load.fields import in_range
from eggfold.recipe.asked import Asked, AskedEgg, BatchSize, parse_egg
from eggfold.units import amount_in

Given = Mapping[str, Any]
"""Options and arguments by name, as they were typed."""


def amount_option(
    name: str,
    text: str,
    dimension: Dimension,
    unit: str,
    low: float,
    high: float,
    *,
    or_unit: str | None = None,
    signed: bool = False,
) -> float:
    """Read an amount given on the command line; OptionError names the option and what to try.

    An argument is named in capitals, as the help has it. A number alone is answered with ``or_unit``, where that may be meant as well, and ``unit``.
    Only a ``signed`` one may be below 0.
    """
    sign, bare = _signed(text) if signed else (1.0, text)
    try:
        amount = parse_amount(bare, dimension, usual=(or_unit, unit) if or_unit else (unit,))
        amount = amount._replace(value=sign * amount.value)
        return amount_in(in_range(amount, unit, low, high), unit)
    except AmountError as error:
        raise amount_error(name if name.isupper() else f"--{name}", error) from error


def _signed(text: str) -> tuple[float, str]:
    """Return the sign of an amount, a hyphen or a true minus, and the rest of it."""
    stripped = text.strip()
    minus = stripped[:1] in ("-", "\N{MINUS SIGN}")
    return -1.0 if minus else 1.0, stripped[1:] if minus or stripped[:1] == "+" else stripped


def whole_option(name: str, text: str, most: int, *, least: int = 1) -> int:
    """Read a whole number given on the command line."""
    if text.isascii() and text.isdecimal() and len(text) < 12 and least <= int(text) <= most:
        return int(text)
    raise OptionError(f"--{name}: '{text[:40]}' is not a whole number from {least} to {most}")


def amount_error(where: str, error: AmountError) -> OptionError:
    """Return the error of an option or argument that could not be read, with what to try."""
    hint = f"; try: {error.hint}" if error.hint else ""
    return OptionError(f"{where}: {error.message}{hint}")


def egg_option(text: str | None) -> AskedEgg | None:
    """Read the eggs given on the command line, None where they are not."""
    try:
        return parse_egg(text) if text else None
    except AmountError as error:
        raise amount_error("--egg", error) from error


def asked_of(given: Given) -> Asked | None:
    """Return what the size options ask; None for the strength where it must be given and is not."""
    size = size_of(given)
    strength = given["strength"] or ("hookbait" if size.by == "eggs" and size.value == 1 else None)
    egg = egg_option(given["egg"])
    if strength is None:
        return None
    diameter, altitude, pan = given["diameter"], given["altitude"], given["pan"]
    return Asked(
        "freebie" if strength == "freebie" else "hookbait",
        size,
        egg,
        amount_option("diameter", diameter, "length", "mm", 3, 80) if diameter else None,
        given["until"],
        amount_option("altitude", altitude, "length", "m", 0, 5000) if altitude else None,
        amount_option("pan", pan, "volume", "l", 0.5, 500) if pan else None,
    )


def size_of(given: Given) -> BatchSize:
    """Return the one size that is given; two are wrong usage."""
    named = [n for n in ("eggs", "powder", "bait", "count") if given[n] is not None]
    if len(named) > 1:
        raise OptionError(f"size by one of --{' and --'.join(named)}, not by both")
    by = named[0] if named else "eggs"
    text = given[by] if named else "1"
    if by == "eggs":
        return BatchSize("eggs", whole_option(by, text, 100_000))
    if by == "count":
        return BatchSize("count", whole_option(by, text, 100_000_000))
    grams = amount_option(by, text, "mass", "g", 0.001, 1e9, or_unit="kg")
    return BatchSize("powder" if by == "powder" else "bait", grams)
