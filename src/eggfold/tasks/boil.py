"""``boil``: seconds in the pan, and the clock beside it."""

from __future__ import annotations

from typing import Any

from eggfold.errors import OptionError
from eggfold.pages.boil import boil_page
from eggfold.pages.clock import clock_page
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import build_batch
from eggfold.recipe.boil import DEFAULT_DIAMETERS_MM, AskedBoil, BoilTable, build_boil
from eggfold.recipe.boil_clock import PanClock, baits_of_batch, baits_of_table, build_clock
from eggfold.reference.boiling import TARGET_OF, TARGETS
from eggfold.reference.floating import LEAST_CORE_MM, MOST_CORE_MM
from eggfold.tasks.asked import Given, amount_option, whole_option
from eggfold.tasks.delivery import Answer, Destination, deliver_alone, destination_of
from eggfold.tasks.powder import paste_of
from eggfold.tasks.run import answers, finish, need_strength, open_workspace
from eggfold.tasks.stove import can_run_live, run_live

MOST_LOADS = 200


def run_boil(given: Given) -> int:
    """Write the table or run the clock; return the exit code."""
    if given["time"] and given["until"]:
        raise OptionError("--for says how long and --until how hot; leave one of them out")
    to = destination_of(given)
    if given["live"]:
        if given["why"]:
            raise OptionError("--why shows the sums of the table; leave --clock out")
        return _show_clock(to, given)
    for name in ("loads", "eggs"):
        if given[name]:
            raise OptionError(f"--{name} belongs to --clock")
    table, code = _table(given)
    if table is not None:
        deliver_alone(to, Answer("boil", table, boil_page, given["why"]))
    return code


def _table(given: Given) -> tuple[BoilTable | None, int]:
    """Return the table that the options ask for, or None and the exit code."""
    asked = _asked(given)
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


def _asked(given: Given) -> AskedBoil:
    """Return what the options ask of the pan."""
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
    given: Given, name: str, dimension: Any, unit: str, low: float, high: float
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
            raise OptionError(f"--core: a {core_mm:g} mm cork does not fit into {d:g} mm")
    sizes = stated or tuple(d for d in default if d > core_mm)
    if not sizes:
        raise OptionError(f"--core: say how big the bait on a {core_mm:g} mm cork is: --diameter")
    return sizes


def _show_clock(to: Destination, given: Given) -> int:
    """Run the clock on a terminal, or write its schedule; return the exit code."""
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
        deliver_alone(to, Answer("clock", clock, clock_page))
    return 0


def _clock_of_sizes(given: Given) -> tuple[PanClock | None, int]:
    if not given["diameters"]:
        raise OptionError("--clock needs a size or a batch: --diameter 16mm, or --recipe FILE")
    if given["eggs"]:
        raise OptionError("--eggs sizes a recipe's own baits; with --diameter say --loads")
    until = given["until"] or TARGET_OF[given["strength"] or "hookbait"]
    table, code = _table({**given, "until": until})
    if table is None:
        return None, code
    loads = whole_option("loads", given["loads"] or "1", MOST_LOADS)
    baits = baits_of_table(table, loads)
    return build_clock(table.paste, baits, table.assumptions, table.companions), 0


def _clock_of_batch(given: Given) -> tuple[PanClock | None, int]:
    for name, own in (("core", "cores"), ("time", "times")):
        if given[name]:
            option = "for" if name == "time" else name
            text = f"--{option} goes with --diameter; a recipe's baits have {own} of their own"
            raise OptionError(text)
    eggs = whole_option("eggs", given["eggs"] or "1", 100_000)
    loads = whole_option("loads", given["loads"], MOST_LOADS) if given["loads"] else None
    sizes = _asked(given)
    workspace = open_workspace((given["recipe"],), given)
    wanted = Asked(
        "freebie" if given["strength"] == "freebie" else "hookbait",
        BatchSize("eggs", eggs),
        until=given["until"],
        altitude_m=sizes.altitude_m,
        pan_l=sizes.pan_l,
        start_c=sizes.start_c,
    )
    asked = need_strength(workspace, wanted if given["strength"] or eggs == 1 else None)
    batches = list(answers(workspace, asked, build_batch))
    code = finish(workspace)
    if len(batches) > 1:
        raise OptionError("give one recipe here, not a folder of them")
    if not batches:
        return None, code or 1
    batch = batches[0]
    baits = baits_of_batch(batch, loads)
    return build_clock(batch.recipe, baits, batch.assumptions, batch.companions), code
