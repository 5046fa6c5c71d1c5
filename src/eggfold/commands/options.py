"""Options that several commands share, and what their texts mean."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

import click

from eggfold.commands.completion import (
    complete_eggs,
    complete_files,
    complete_recipes,
    complete_recipes_and_plans,
    complete_words,
)
from eggfold.commands.dates import read_date
from eggfold.commands.option_types import OneOf, read_format, read_output, read_paper

if TYPE_CHECKING:
    from eggfold.amounts import AmountError, Dimension
    from eggfold.recipe.asked import Asked, AskedEgg, BatchSize

F = TypeVar("F", bound=Callable[..., Any])


def several(*options: Callable[[F], F]) -> Callable[[F], F]:
    """Join options into one decorator, shown in the order given."""

    def decorate(function: F) -> F:
        for option in reversed(options):
            function = option(function)
        return function

    return decorate


format_option = click.option(
    "--format",
    "form",
    type=OneOf(["text", "json"]),
    default="text",
    show_default=True,
    help="How the answer is written.",
)
why_option = click.option("--why", is_flag=True, help="Show how each figure came about.")
date_option = click.option(
    "--date", callback=read_date, metavar="DATE", help="The day to take as today, as in 2026-01-31."
)
output_option = click.option(
    "--output",
    callback=read_output,
    metavar="PATH",
    help="A file, or a folder for one file per recipe (a/ or a).",
)
writing_options = several(
    click.option("--force", is_flag=True, help="Write over files that are there."),
    click.option(
        "--paper",
        callback=read_paper,
        metavar="[a6|a5|a4|letter]",
        shell_complete=complete_words,
        help="For HTML and PDF; a card takes A5 where it fits, a sheet A4.",
    ),
    date_option,
)
delivery_options = several(
    click.option(
        "--format",
        "form",
        callback=read_format,
        metavar="[text|json|csv|markdown|html|pdf]",
        shell_complete=complete_words,
        help="How the answer is written; text, or what the ending of --output says.",
    ),
    output_option,
    writing_options,
)
additives_option = click.option(
    "--additives",
    metavar="FILE",
    help="The register of additives to use.",
    shell_complete=complete_files,
)
bench_option = click.option(
    "--bench", metavar="FILE", help="The bench file to use.", shell_complete=complete_files
)
shelf_option = click.option(
    "--shelf", metavar="FILE", help="The shelf to use.", shell_complete=complete_files
)
recipe_option = click.option(
    "--recipe", metavar="FILE", help="Use this recipe's paste.", shell_complete=complete_recipes
)
notes_options = several(
    click.option(
        "--notebook",
        metavar="FILE",
        help="The notebook to learn from.",
        shell_complete=complete_files,
    ),
    click.option("--without-notes", is_flag=True, help="Leave the notebook out."),
)
strength_option = click.option(
    "--as",
    "strength",
    type=OneOf(["hookbait", "freebie"]),
    help="Which doses; hookbait if you do not say.",
)
sized_strength_option = click.option(
    "--as",
    "strength",
    type=OneOf(["hookbait", "freebie"]),
    help="Which doses; hookbait for one egg, else needed.",
)
until_option = click.option(
    "--until",
    type=OneOf(["just-set", "set", "cooked"]),
    help="How hot the centre gets: 62, 73 or 90 degC.",
)
altitude_option = click.option(
    "--altitude", metavar="HEIGHT", help="Height above the sea, as in 800m."
)
pan_option = click.option("--pan", metavar="VOLUME", help="Water in the pan, as in 5l.")
size_options = several(
    click.option("--eggs", metavar="N", help="Size by eggs (1 if no size is given)."),
    click.option(
        "--powder", metavar="AMOUNT", help="Size by base mix in the bag: the most whole eggs."
    ),
    click.option("--bait", metavar="AMOUNT", help="Size by finished bait, whole eggs rounded up."),
    click.option("--count", metavar="N", help="Size by all baits, whole eggs rounded up."),
    click.option(
        "--egg",
        metavar="EGG",
        shell_complete=complete_eggs,
        help="This batch's eggs: eu-medium, us-large or 52g.",
    ),
    click.option("--diameter", metavar="SIZE", help="One bottom bait of this size instead."),
    until_option,
    altitude_option,
    pan_option,
)

batch_options = several(
    sized_strength_option,
    size_options,
    additives_option,
    bench_option,
    notes_options,
    shelf_option,
)

sized_recipes = several(
    click.argument(
        "recipes", nargs=-1, required=True, metavar="RECIPE...", shell_complete=complete_recipes
    ),
    batch_options,
)

recipes_and_plans = click.argument(
    "recipes",
    nargs=-1,
    required=True,
    metavar="RECIPE|PLAN...",
    shell_complete=complete_recipes_and_plans,
)


def amount_option(
    name: str,
    text: str,
    dimension: Dimension,
    unit: str,
    low: float,
    high: float,
    *,
    or_unit: str | None = None,
) -> float:
    """Read an amount given on the command line; UsageError names the option and what to try.

    A number alone is answered with ``or_unit``, where that may be meant as well, and ``unit``.
    """
    from eggfold.amounts import AmountError, parse_amount  # noqa: PLC0415
    from eggfold.load.fields import in_range  # noqa: PLC0415
    from eggfold.units import amount_in  # noqa: PLC0415

    try:
        amount = parse_amount(text, dimension, usual=(or_unit, unit) if or_unit else (unit,))
        return amount_in(in_range(amount, unit, low, high), unit)
    except AmountError as error:
        raise amount_error(f"--{name}", error) from error


def whole_option(name: str, text: str, most: int, *, least: int = 1) -> int:
    """Read a whole number given on the command line."""
    if text.isascii() and text.isdecimal() and len(text) < 12 and least <= int(text) <= most:
        return int(text)
    raise click.UsageError(f"--{name}: '{text[:40]}' is not a whole number from {least} to {most}")


def amount_error(where: str, error: AmountError) -> click.UsageError:
    """Return the error of an option or argument that could not be read, with what to try."""
    hint = f"; try: {error.hint}" if error.hint else ""
    return click.UsageError(f"{where}: {error.message}{hint}")


def egg_option(text: str | None) -> AskedEgg | None:
    """Read the eggs given on the command line, None where they are not."""
    from eggfold.amounts import AmountError  # noqa: PLC0415
    from eggfold.recipe.asked import parse_egg  # noqa: PLC0415

    try:
        return parse_egg(text) if text else None
    except AmountError as error:
        raise amount_error("--egg", error) from error


def asked_of(given: dict[str, Any]) -> Asked | None:
    """Return what the size options ask; None for the strength where it must be given and is not."""
    from eggfold.recipe.asked import Asked  # noqa: PLC0415

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


def size_of(given: dict[str, Any]) -> BatchSize:
    """Return the one size that is given; two are wrong usage."""
    from eggfold.recipe.asked import BatchSize  # noqa: PLC0415

    named = [n for n in ("eggs", "powder", "bait", "count") if given[n] is not None]
    if len(named) > 1:
        raise click.UsageError(f"size by one of --{' and --'.join(named)}, not by both")
    by = named[0] if named else "eggs"
    text = given[by] if named else "1"
    if by == "eggs":
        return BatchSize("eggs", whole_option(by, text, 100_000))
    if by == "count":
        return BatchSize("count", whole_option(by, text, 100_000_000))
    grams = amount_option(by, text, "mass", "g", 0.001, 1e9, or_unit="kg")
    return BatchSize("powder" if by == "powder" else "bait", grams)
