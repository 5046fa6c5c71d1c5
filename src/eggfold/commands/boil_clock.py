"""The clock of ``eggfold boil``: from its options to the stove, or to a schedule."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.boil_asked import asked_boil, boil_table
from eggfold.commands.delivery import Destination, deliver_page
from eggfold.commands.options import whole_option

if TYPE_CHECKING:
    from eggfold.recipe.boil_clock import PanClock

MOST_LOADS = 200


def show_clock(to: Destination, given: dict[str, Any]) -> int:
    """Run the clock on a terminal, or write its schedule; return the exit code."""
    from eggfold.commands.stove import can_run_live, run_live  # noqa: PLC0415
    from eggfold.formats.json import document  # noqa: PLC0415
    from eggfold.pages.clock import clock_page  # noqa: PLC0415

    clock, code = (
        _clock_of_batch(given)
        if given["recipe"] and not given["diameters"]
        else _clock_of_sizes(given)
    )
    if clock is None:
        return code
    if to.form == "text" and to.output is None and can_run_live():
        run_live(clock)
    else:
        deliver_page(to, "clock", lambda: clock_page(clock), lambda: document("clock", clock))
    return 0


def _clock_of_sizes(given: dict[str, Any]) -> tuple[PanClock | None, int]:
    from eggfold.recipe.boil_clock import baits_of_table, build_clock  # noqa: PLC0415
    from eggfold.reference.boiling import TARGET_OF  # noqa: PLC0415

    if not given["diameters"]:
        raise click.UsageError("--clock needs a size or a batch: --diameter 16mm, or --recipe FILE")
    if given["eggs"]:
        raise click.UsageError("--eggs sizes a recipe's own baits; with --diameter say --loads")
    until = given["until"] or TARGET_OF[given["strength"] or "hookbait"]
    table, code = boil_table({**given, "until": until})
    if table is None:
        return None, code
    loads = whole_option("loads", given["loads"] or "1", MOST_LOADS)
    baits = baits_of_table(table, loads)
    return build_clock(table.paste, baits, table.assumptions, table.companions), 0


def _clock_of_batch(given: dict[str, Any]) -> tuple[PanClock | None, int]:
    from eggfold.commands.run import answers, finish, need_strength, open_workspace  # noqa: PLC0415
    from eggfold.recipe.asked import Asked, BatchSize  # noqa: PLC0415
    from eggfold.recipe.batch import build_batch  # noqa: PLC0415
    from eggfold.recipe.boil_clock import baits_of_batch, build_clock  # noqa: PLC0415

    for name, own in (("core", "cores"), ("time", "times")):
        if given[name]:
            option = "for" if name == "time" else name
            text = f"--{option} goes with --diameter; a recipe's baits have {own} of their own"
            raise click.UsageError(text)
    eggs = whole_option("eggs", given["eggs"] or "1", 100_000)
    loads = whole_option("loads", given["loads"], MOST_LOADS) if given["loads"] else None
    sizes = asked_boil(given)
    workspace = open_workspace((given["recipe"],), given["additives"], given)
    wanted = Asked(
        "freebie" if given["strength"] == "freebie" else "hookbait",
        BatchSize("eggs", eggs),
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
    baits = baits_of_batch(batch, loads)
    return build_clock(batch.recipe, baits, batch.assumptions, batch.companions), code
