"""``eggfold doses``: which dose belongs in which batch."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.completion import complete_recipes
from eggfold.commands.display import display_options
from eggfold.commands.option_types import OneOf
from eggfold.commands.options import (
    additives_option,
    amount_error,
    bench_option,
    delivery_options,
    notes_options,
    whole_option,
    why_option,
)

if TYPE_CHECKING:
    from eggfold.recipe.doses import DoseColumn


@click.command()
@click.argument("recipes", nargs=-1, metavar="[RECIPE...]", shell_complete=complete_recipes)
@click.option("--eggs", metavar="N", help="Eggs of the freebie bowl (6 if not given).")
@click.option(
    "--columns",
    metavar="LIST",
    help="Own columns instead, as in 1,2,4,6,12 or 1h,6f,1kg.",
)
@click.option(
    "--by",
    type=OneOf(["recipe", "name"]),
    default="recipe",
    show_default=True,
    help="Recipe by recipe as given, or by the additive's name.",
)
@additives_option
@bench_option
@notes_options
@delivery_options
@why_option
@display_options
def doses(
    recipes: tuple[str, ...],
    eggs: str | None,
    columns: str | None,
    by: str,
    additives: str | None,
    *,
    why: bool,
    **given: Any,
) -> int:
    """Show every additive's dose for a trial, a bowl and a kilo of dry mix.

    In --columns a number is eggs: one egg shows the hookbait dose, more show the freebie dose. h or
    f behind it asks for the other (1f, 6h), kg means dry mix (1kg, 2.5kg, 1kgh).

    \b
    eggfold doses --additives recipes/additives.yaml
    eggfold doses recipes/osierfen-caraway.yaml --eggs 12
    eggfold doses recipes --columns 1,2,4,6,12 --by name
    """
    from eggfold.commands.delivery import Part, deliver, destination_of  # noqa: PLC0415
    from eggfold.commands.run import finish, open_workspace  # noqa: PLC0415
    from eggfold.files.companions import open_companions  # noqa: PLC0415
    from eggfold.pages.doses import doses_page  # noqa: PLC0415
    from eggfold.recipe.doses import recipe_sheet, register_sheet  # noqa: PLC0415
    from eggfold.tasks.doses import doses_document  # noqa: PLC0415

    to, asked = destination_of(given), _columns(eggs, columns)
    workspace = open_workspace(recipes, additives, given)
    if recipes:
        sheet = recipe_sheet(workspace.good_recipes(), asked)
    else:
        companions, workspace.problems = open_companions([], additives, given["bench"])
        if companions.register.file is None:
            raise click.UsageError("there is no additives.yaml here; name one with --additives")
        workspace.seen = 1
        sheet = register_sheet(companions, asked)
    if by == "name":
        sheet = sheet.ordered_by_name()
    whole = Part("doses", lambda: (doses_page(sheet, why=why),), lambda: doses_document(sheet))
    workspace.failures += deliver(to, whole)
    return finish(workspace)


def _columns(eggs: str | None, columns: str | None) -> tuple[DoseColumn, ...]:
    from eggfold.amounts import AmountError  # noqa: PLC0415
    from eggfold.recipe.doses import default_columns, parse_columns  # noqa: PLC0415

    if columns is None:
        return default_columns(whole_option("eggs", eggs or "6", 100_000))
    if eggs is not None:
        raise click.UsageError("--columns says all columns; leave --eggs out or add it to the list")
    try:
        return parse_columns(columns)
    except AmountError as error:
        raise amount_error("--columns", error) from error
