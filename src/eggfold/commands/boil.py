"""``eggfold boil``: seconds in the pan."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.display import display_options
from eggfold.commands.options import (
    additives_option,
    amount_option,
    delivery_options,
    strength_option,
    why_option,
)


@click.command()
@click.option(
    "--diameter", "diameters", metavar="SIZE", multiple=True, help="A size; give it again for more."
)
@click.option("--recipe", metavar="FILE", help="Use this recipe's paste.")
@strength_option
@click.option("--until", type=click.Choice(["just-set", "set", "cooked"]), help="One target only.")
@click.option("--for", "time", metavar="TIME", help="The centre that this time reaches, as in 80s.")
@click.option("--start", metavar="TEMPERATURE", help="Paste before the boil, as in 20degC.")
@click.option("--altitude", metavar="HEIGHT", help="Height above the sea, as in 800m.")
@click.option("--pan", metavar="VOLUME", help="The pan, as in 5l.")
@additives_option
@delivery_options
@why_option
@display_options
def boil(
    diameters: tuple[str, ...],
    recipe: str | None,
    strength: str | None,
    until: str | None,
    time: str | None,
    start: str | None,
    altitude: str | None,
    pan: str | None,
    additives: str | None,
    why: bool,
    **given: Any,
) -> int:
    """Show how long each size boils, or what a given time reaches.

    \b
    eggfold boil
    eggfold boil --diameter 14mm --diameter 20mm
    eggfold boil --diameter 16mm --for 80s --altitude 800m
    """
    from eggfold.commands.delivery import Part, deliver, destination_of  # noqa: PLC0415
    from eggfold.commands.paste_of import paste_of  # noqa: PLC0415
    from eggfold.formats.json import boil_document  # noqa: PLC0415
    from eggfold.jobs.assumptions import Assumed  # noqa: PLC0415
    from eggfold.jobs.boil import DEFAULT_DIAMETERS_MM, AskedBoil, build_boil  # noqa: PLC0415
    from eggfold.pages.boil import boil_page  # noqa: PLC0415
    from eggfold.reference.boiling import TARGETS  # noqa: PLC0415

    to = destination_of(given)
    asked = AskedBoil(
        tuple(amount_option("diameter", d, "length", "mm", 3, 80) for d in diameters)
        or DEFAULT_DIAMETERS_MM,
        (until,) if until else tuple(TARGETS),
        amount_option("for", time, "time", "s", 1, 7200) if time else None,
        amount_option("start", start, "temperature", "degC", 0, 100) if start else None,
        amount_option("altitude", altitude, "length", "m", 0, 5000) if altitude else None,
        amount_option("pan", pan, "volume", "l", 0.5, 500) if pan else None,
    )
    assumed = Assumed()
    parts, paste, code = paste_of(recipe, strength or "hookbait", additives, assumed)
    if code:
        return code
    table = build_boil(asked, parts, paste, assumed)
    whole = Part("boil", lambda: (boil_page(table, why=why),), lambda: boil_document(table))
    for failure in deliver(to, whole):
        raise failure
    return 0
