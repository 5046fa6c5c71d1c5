"""``eggfold boil``: seconds in the pan, and the clock beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.options import (
    additives_option,
    amount_option,
    page_options,
    several,
    strength_option,
    whole_option,
)

if TYPE_CHECKING:
    from eggfold.jobs.boil import AskedBoil, BoilTable
    from eggfold.jobs.clock import Clock

MOST_LOADS = 200

kitchen_options = several(
    click.option("--start", metavar="TEMPERATURE", help="Paste before the boil, as in 20degC."),
    click.option("--altitude", metavar="HEIGHT", help="Height above the sea, as in 800m."),
    click.option("--pan", metavar="VOLUME", help="The pan, as in 5l."),
)
clock_options = several(
    click.option("--clock", "live", is_flag=True, help="Count each load down at the stove."),
    click.option("--loads", metavar="N", help="Loads of each size for the clock."),
    click.option("--eggs", metavar="N", help="Eggs of the recipe's batch for the clock (1)."),
)


@click.command()
@click.option(
    "--diameter", "diameters", metavar="SIZE", multiple=True, help="A size; give it again for more."
)
@click.option("--core", metavar="SIZE", help="The cork ball inside, as in 10mm.")
@click.option("--recipe", metavar="FILE", help="Use this recipe's paste.")
@strength_option
@click.option("--until", type=click.Choice(["just-set", "set", "cooked"]), help="One target only.")
@click.option("--for", "time", metavar="TIME", help="The centre that this time reaches, as in 80s.")
@kitchen_options
@clock_options
@additives_option
@page_options
def boil(recipe: str | None, additives: str | None, form: str, why: bool, **given: Any) -> int:
    """Show how long each size boils, or what a given time reaches.

    \b
    eggfold boil
    eggfold boil --diameter 14mm --diameter 20mm
    eggfold boil --core 10mm --diameter 15mm --altitude 800m
    eggfold boil --clock --diameter 16mm --loads 3
    eggfold boil --clock --recipe recipes/osierfen-caraway.yaml --as freebie --eggs 6
    """
    if given["live"]:
        if why:
            raise click.UsageError("--why shows the sums of the table; leave --clock out")
        return _clock(recipe, additives, form, given)
    for name in ("loads", "eggs"):
        if given[name]:
            raise click.UsageError(f"--{name} belongs to --clock")
    table, code = _table(recipe, additives, given)
    if table is None:
        return code
    _show(table, form, why=why)
    return 0


def _show(table: BoilTable, form: str, *, why: bool) -> None:
    from eggfold.formats.json import boil_document, dumps  # noqa: PLC0415
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.pages.boil import boil_page  # noqa: PLC0415

    if form == "json":
        click.echo(dumps(boil_document(table)))
    else:
        click.echo(page_text(boil_page(table, why=why)), nl=False)


def _table(
    recipe: str | None, additives: str | None, given: dict[str, Any]
) -> tuple[BoilTable | None, int]:
    from eggfold.commands.paste_of import paste_of  # noqa: PLC0415
    from eggfold.jobs.assumptions import Assumed  # noqa: PLC0415
    from eggfold.jobs.boil import build_boil  # noqa: PLC0415

    asked = _asked(given)
    assumed = Assumed()
    paste, name, code = paste_of(recipe, given["strength"] or "hookbait", additives, assumed)
    if code:
        return None, code
    return build_boil(asked, paste.parts if paste else None, name, assumed), 0


def _asked(given: dict[str, Any]) -> AskedBoil:
    from eggfold.jobs.boil import DEFAULT_DIAMETERS_MM, AskedBoil  # noqa: PLC0415
    from eggfold.reference.boiling import TARGETS  # noqa: PLC0415
    from eggfold.reference.floating import LEAST_CORE_MM, MOST_CORE_MM  # noqa: PLC0415

    until = given["until"]
    core = _amount(given, "core", "length", "mm", LEAST_CORE_MM, MOST_CORE_MM)
    stated = tuple(amount_option("diameter", d, "length", "mm", 3, 80) for d in given["diameters"])
    return AskedBoil(
        _around(core, stated, DEFAULT_DIAMETERS_MM),
        (until,) if until else tuple(TARGETS),
        amount_option("for", given["time"], "time", "s", 1, 7200) if given["time"] else None,
        _amount(given, "start", "temperature", "degC", 0, 100),
        _amount(given, "altitude", "length", "m", 0, 5000),
        _amount(given, "pan", "volume", "l", 0.5, 500),
        core,
    )


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


def _clock(recipe: str | None, additives: str | None, form: str, given: dict[str, Any]) -> int:
    from eggfold.commands.stove import can_run_live, run_live  # noqa: PLC0415
    from eggfold.formats.json import clock_document, dumps  # noqa: PLC0415
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.pages.clock import clock_page  # noqa: PLC0415

    clock, code = (
        _clock_of_batch(recipe, additives, given)
        if recipe and not given["diameters"]
        else _clock_of_sizes(recipe, additives, given)
    )
    if clock is None:
        return code
    if form == "json":
        click.echo(dumps(clock_document(clock)))
    elif can_run_live():
        run_live(clock)
    else:
        click.echo(page_text(clock_page(clock)), nl=False)
    return 0


def _clock_of_sizes(
    recipe: str | None, additives: str | None, given: dict[str, Any]
) -> tuple[Clock | None, int]:
    from eggfold.jobs.clock import baits_of_table, build_clock  # noqa: PLC0415
    from eggfold.reference.boiling import TARGET_OF  # noqa: PLC0415

    if not given["diameters"]:
        raise click.UsageError("--clock needs a size or a batch: --diameter 16mm, or --recipe FILE")
    if given["eggs"]:
        raise click.UsageError("--eggs sizes a recipe's own baits; with --diameter say --loads")
    until = given["until"] or TARGET_OF[given["strength"] or "hookbait"]
    table, code = _table(recipe, additives, {**given, "until": until})
    if table is None:
        return None, code
    loads = whole_option("loads", given["loads"] or "1", MOST_LOADS)
    baits = baits_of_table(table, loads)
    return build_clock(table.paste, baits, table.kitchen.wait_s, table.assumptions), 0


def _clock_of_batch(
    recipe: str, additives: str | None, given: dict[str, Any]
) -> tuple[Clock | None, int]:
    from eggfold.commands.run import answers, finish, need_strength, open_workspace  # noqa: PLC0415
    from eggfold.jobs.asked import Asked, Size  # noqa: PLC0415
    from eggfold.jobs.batch import build_batch  # noqa: PLC0415
    from eggfold.jobs.clock import baits_of_batch, build_clock  # noqa: PLC0415

    if given["core"]:
        raise click.UsageError("--core goes with --diameter; a recipe's baits have their own cores")
    eggs = whole_option("eggs", given["eggs"] or "1", 100_000)
    loads = whole_option("loads", given["loads"], MOST_LOADS) if given["loads"] else None
    sizes = _asked({**given, "core": None})
    workspace = open_workspace((recipe,), additives)
    wanted = Asked(
        "freebie" if given["strength"] == "freebie" else "hookbait",
        Size("eggs", eggs),
        until=given["until"],
        altitude_m=sizes.altitude_m,
        pan_l=sizes.pan_l,
        start_c=sizes.start_c,
    )
    asked = need_strength(workspace, wanted if given["strength"] or eggs == 1 else None)
    batches = list(answers(workspace, asked.strength, lambda opened: build_batch(opened, asked)))
    code = finish(workspace)
    if len(batches) > 1:
        raise click.UsageError("give one recipe here, not a folder of them")
    if not batches:
        return None, code or 1
    batch = batches[0]
    baits = baits_of_batch(batch, sizes.seconds, loads)
    return build_clock(batch.recipe, baits, batch.wait_s, batch.assumptions), code
