"""``eggfold boil``: seconds in the pan."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.options import (
    additives_option,
    amount_option,
    bench_option,
    page_options,
    strength_option,
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
@bench_option
@page_options
def boil(diameters: tuple[str, ...], form: str, why: bool, **given: Any) -> int:
    """Show how long each size boils, or what a given time reaches.

    \b
    eggfold boil
    eggfold boil --diameter 14mm --diameter 20mm
    eggfold boil --diameter 16mm --for 80s --altitude 800m
    """
    from eggfold.commands.paste_of import paste_of  # noqa: PLC0415
    from eggfold.formats.json import boil_document, dumps  # noqa: PLC0415
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.jobs.assumptions import Assumed  # noqa: PLC0415
    from eggfold.jobs.boil import DEFAULT_DIAMETERS_MM, AskedBoil, build_boil  # noqa: PLC0415
    from eggfold.pages.boil import boil_page  # noqa: PLC0415
    from eggfold.reference.boiling import TARGETS  # noqa: PLC0415

    asked = AskedBoil(
        tuple(amount_option("diameter", d, "length", "mm", 3, 80) for d in diameters)
        or DEFAULT_DIAMETERS_MM,
        (given["until"],) if given["until"] else tuple(TARGETS),
        amount_option("for", given["time"], "time", "s", 1, 7200) if given["time"] else None,
        amount_option("start", given["start"], "temperature", "degC", 0, 100)
        if given["start"]
        else None,
        amount_option("altitude", given["altitude"], "length", "m", 0, 5000)
        if given["altitude"]
        else None,
        amount_option("pan", given["pan"], "volume", "l", 0.5, 500) if given["pan"] else None,
    )
    assumed = Assumed()
    found = paste_of(given["recipe"], given["strength"] or "hookbait", given, assumed)
    if found.code:
        return found.code
    table = build_boil(asked, found.parts, found.name, assumed, found.bench)
    click.echo(
        dumps(boil_document(table))
        if form == "json"
        else page_text(boil_page(table, why=why)).rstrip()
    )
    return 0
