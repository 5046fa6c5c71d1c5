"""What was typed, as amounts, numbers, eggs and sizes; what cannot be read is an OptionError."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from eggfold.amounts import AmountError, Dimension, parse_amount
from eggfold.errors import OptionError, in_quotes
from eggfold.load.eggs import LEAST_LIQUID, MOST_EGGS, MOST_LIQUID
from eggfold.load.fields import in_range
from eggfold.recipe.asked import Asked, AskedEgg, BatchSize, parse_egg, parse_eggs
from eggfold.reference.boiling import LEAST_BAIT_MM, MOST_BAIT_MM
from eggfold.reference.session import ENOUGH
from eggfold.units import amount_in, egg_mass_g

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
    raise OptionError(f"--{name}: {in_quotes(text)} is not a whole number from {least} to {most}")


def amount_error(where: str, error: AmountError) -> OptionError:
    """Return the error of an option or argument that could not be read, with what to try."""
    hint = f"; try: {error.hint}" if error.hint else ""
    return OptionError(f"{where}: {error.message}{hint}")


def egg_option(text: str | None) -> AskedEgg | None:
    """Read one kind of egg given on the command line, None where there is none."""
    try:
        return parse_egg(text) if text else None
    except AmountError as error:
        raise amount_error("--egg", error) from error


def eggs_option(given: Given) -> tuple[AskedEgg, ...]:
    """Read the eggs given on the command line; boxes say how many, so no size stands beside them."""
    try:
        eggs = parse_eggs(given["egg"])
    except AmountError as error:
        raise amount_error("--egg", error) from error
    if any(egg.number for egg in eggs):
        if beside := next((name for name in SIZES if given.get(name) is not None), None):
            raise OptionError(f"--egg says how many eggs there are, so leave --{beside} out")
        if sum(egg.number or 0 for egg in eggs) > MOST_EGGS:
            raise OptionError(f"--egg: at most {MOST_EGGS} eggs in all")
    return eggs


def liquid_option(text: str) -> tuple[float, bool]:
    """Read an amount of liquid egg [g], and whether it was measured by volume."""
    try:
        amount = parse_amount(text, "mass", "volume", usual=("g", "ml"))
        unit = "g" if amount.dimension == "mass" else "ml"
        in_range(amount, unit, LEAST_LIQUID, MOST_LIQUID)
    except AmountError as error:
        raise amount_error("--liquid", error) from error
    return egg_mass_g(amount), unit == "ml"


def asked_of(given: Given) -> Asked | None:
    """Return what the size options ask; None for the strength where it must be given and is not."""
    size = size_of(given)
    one = size.by == "trial" or (size.by == "eggs" and size.value == 1)
    strength = given["strength"] or ("hookbait" if one else None)
    if strength is None:
        return None
    diameter = given["diameter"]
    return Asked(
        "freebie" if strength == "freebie" else "hookbait",
        size,
        eggs_option(given),
        bait_size("diameter", diameter) if diameter else None,
        given["until"],
        *altitude_and_pan(given),
    )


def bait_size(name: str, text: str) -> float:
    """Read the size of a bait [mm]."""
    return amount_option(name, text, "length", "mm", LEAST_BAIT_MM, MOST_BAIT_MM)


def altitude_and_pan(given: Given) -> tuple[float | None, float | None]:
    """Return the height above the sea [m] and the water in the pan [l], None where they are not given."""
    altitude, pan = given["altitude"], given["pan"]
    return (
        None if altitude is None else amount_option("altitude", altitude, "length", "m", 0, 5000),
        None if pan is None else amount_option("pan", pan, "volume", "l", 0.5, 500),
    )


SIZES = ("eggs", "powder", "liquid", "bait", "count")


def size_of(given: Given) -> BatchSize:
    """Return the one size that is given; two are wrong usage."""
    named = [n for n in SIZES if given[n] is not None]
    if len(named) > 1:
        raise OptionError(f"size by one of --{' and --'.join(named)}, not by both")
    by = named[0] if named else ""
    text = given[by] if named else ""
    if given["whole_eggs"] and by != "powder":
        raise OptionError(
            "--whole-eggs goes with --powder: the whole eggs that a bag is enough for"
        )
    if by == "eggs":
        return BatchSize("eggs", whole_option(by, text, MOST_EGGS))
    if by == "count":
        return BatchSize("count", whole_option(by, text, 100_000_000), enough=ENOUGH)
    if by == "liquid":
        grams, by_volume = liquid_option(text)
        return BatchSize("liquid", grams, by_volume=by_volume)
    if not by:
        boxes = sum(egg.number or 0 for egg in eggs_option(given))
        return BatchSize("eggs", boxes) if boxes else BatchSize("trial")
    grams = amount_option(by, text, "mass", "g", 0.001, 1e9, or_unit="kg")
    if by == "powder":
        return BatchSize("powder", grams, whole_eggs=given["whole_eggs"])
    return BatchSize("bait", grams, enough=ENOUGH)
