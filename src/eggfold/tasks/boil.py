"""``boil``: seconds in the pan, and the clock beside it."""

from __future__ import annotations

import os
import select
import shutil
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial

from eggfold.errors import OptionError
from eggfold.load.eggs import MOST_EGGS
from eggfold.pages.boil import CAUTIONS, bar_line, boil_page, clock_page, load_line
from eggfold.pages.figures import Units, units_in
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import build_batch
from eggfold.recipe.boil import (
    DEFAULT_DIAMETERS_MM,
    AskedBoil,
    BoilTable,
    PanClock,
    baits_of_batch,
    baits_of_table,
    build_boil,
    build_clock,
)
from eggfold.reference.boiling import DEFAULT_TARGET, TARGETS
from eggfold.tasks.asked import Given, altitude_and_pan, amount_option, bait_size, whole_option
from eggfold.tasks.delivery import Answer, Destination, deliver_alone, destination_of
from eggfold.tasks.powder import paste_of
from eggfold.tasks.run import answers, finish, need_strength, open_files

MOST_LOADS = 200
COLDEST_C = -40.0
"""No freezer at home is colder [degC]; house default."""


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
        deliver_alone(
            to,
            Answer("boil", table, partial(boil_page, units=units_in(given["units"])), given["why"]),
        )
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
        cuts=found.cuts,
        companions=found.companions,
    )
    return table, 0


def _asked(given: Given) -> AskedBoil:
    """Return what the options ask of the pan."""
    until, time, start = given["until"], given["time"], given["start"]
    sizes = [bait_size("SIZE", size) for size in _sizes(given)]
    return AskedBoil(
        tuple(dict.fromkeys(sizes)) or DEFAULT_DIAMETERS_MM,
        (until,) if until else tuple(TARGETS),
        amount_option("for", time, "time", "s", 1, 7200, or_unit="min") if time else None,
        None
        if start is None
        else amount_option("start", start, "temperature", "degC", COLDEST_C, 100, signed=True),
        *altitude_and_pan(given),
    )


def _sizes(given: Given) -> tuple[str, ...]:
    """Return the sizes that were typed, as arguments or options."""
    return (*given["sizes"], *given["diameters"])


def _show_clock(to: Destination, given: Given) -> int:
    """Run the clock on a terminal, or write its schedule; return the exit code."""
    clock, code = (
        _clock_of_batch(given) if given["recipe"] and not _sizes(given) else _clock_of_sizes(given)
    )
    if clock is None:
        return code
    units = units_in(given["units"])
    if to.form == "text" and to.output is None and _can_run_live():
        _run_live(clock, units)
    else:
        deliver_alone(to, Answer("clock", clock, partial(clock_page, units=units)))
    return 0


def _clock_of_sizes(given: Given) -> tuple[PanClock | None, int]:
    if not _sizes(given):
        raise OptionError("--clock needs a size or a batch: 16mm, or --recipe FILE")
    if given["eggs"]:
        raise OptionError("--eggs sizes a recipe's own baits; with a size say --loads")
    until = given["until"] or DEFAULT_TARGET
    table, code = _table({**given, "until": until})
    if table is None:
        return None, code
    loads = whole_option("loads", given["loads"] or "1", MOST_LOADS)
    baits = baits_of_table(table, loads)
    return build_clock(table.paste, baits, table.assumptions, table.companions), 0


def _clock_of_batch(given: Given) -> tuple[PanClock | None, int]:
    if given["time"]:
        raise OptionError("--for goes with a size; a recipe's baits have times of their own")
    eggs = whole_option("eggs", given["eggs"] or "1", MOST_EGGS)
    loads = whole_option("loads", given["loads"], MOST_LOADS) if given["loads"] else None
    sizes = _asked(given)
    workspace = open_files((given["recipe"],), given)
    wanted = Asked(
        "freebie" if given["strength"] == "freebie" else "hookbait",
        BatchSize("eggs", eggs),
        until=given["until"],
        altitude_m=sizes.altitude_m,
        pan_l=sizes.pan_l,
        start_c=sizes.start_c,
    )
    asked = need_strength(workspace, wanted if given["strength"] or eggs == 1 else None)
    batches, findings = answers(workspace, asked, build_batch)
    code = finish(findings)
    if len(batches) > 1:
        raise OptionError("give one recipe here, not a folder of them")
    if not batches:
        return None, code or 1
    batch = batches[0]
    baits = baits_of_batch(batch, loads)
    return build_clock(batch.recipe, baits, batch.assumptions, batch.companions), code


TICK_S = 0.2
"""How often the countdown is drawn; house default."""


def _can_run_live() -> bool:
    """Tell whether there is a terminal to draw on and a keyboard to listen to."""
    try:
        import termios  # noqa: F401, PLC0415 - only where there are such terminals
    except ImportError:
        return False
    return sys.stdin.isatty() and sys.stdout.isatty()


class Terminal:
    """A terminal with one line that is drawn over, and a keyboard read key by key."""

    def __init__(self, keyboard: int, screen: int, now: Callable[[], float]) -> None:
        self.now = now
        self._keyboard = keyboard
        self._screen = screen
        self._drawn = 0

    @property
    def width(self) -> int:
        """Columns that can be drawn over without a line break."""
        try:
            columns = os.get_terminal_size(self._screen).columns
        except OSError:
            columns = 0
        return (columns or shutil.get_terminal_size().columns) - 1

    def draw(self, line: str) -> None:
        """Write a line over the one drawn before."""
        shown = line[: self.width]
        over = shown.ljust(min(self._drawn, self.width))
        self._drawn = len(shown)
        self._write(f"\r{over}")

    def say(self, line: str) -> None:
        """Write a line that stays."""
        self._write("\r" + line.ljust(self._drawn) + "\n")
        self._drawn = 0

    def ring(self) -> None:
        """Ring the bell."""
        self._write("\a")

    def key(self, within_s: float) -> str:
        """Return a key pressed within some time, or nothing; a keyboard that is gone interrupts."""
        ready, _, _ = select.select([self._keyboard], [], [], within_s)
        if not ready:
            return ""
        pressed = os.read(self._keyboard, 1)
        if not pressed:
            raise KeyboardInterrupt
        return pressed.decode("latin-1")

    def _write(self, text: str) -> None:
        os.write(self._screen, text.encode())

    @contextmanager
    def keys(self) -> Iterator[None]:
        """Read keys as they are pressed, and leave the terminal as it was found."""
        import termios  # noqa: PLC0415 - only where there are such terminals
        import tty  # noqa: PLC0415

        before = termios.tcgetattr(self._keyboard)
        try:
            tty.setcbreak(self._keyboard)
            yield
        finally:
            if self._drawn:
                self._write("\n")
            termios.tcsetattr(self._keyboard, termios.TCSAFLUSH, before)


def _run_live(clock: PanClock, units: Units) -> None:
    """Run a clock on this process's terminal."""
    sys.stdout.flush()
    run_clock(clock, Terminal(sys.stdin.fileno(), sys.stdout.fileno(), time.monotonic), units)


def run_clock(clock: PanClock, terminal: Terminal, units: Units) -> None:
    """Count every load down; space starts one, and ends a wait when the pan boils sooner."""
    with terminal.keys():
        for caution in CAUTIONS:
            terminal.say(caution)
        for load in clock.loads:
            terminal.say(load_line(load, len(clock.loads), units))
            _await_space(terminal, "  space when it goes in")
            _count_down(terminal, "  boil", load.bait.seconds)
            terminal.ring()
            terminal.say("  take it out")
            if load.wait_s:
                _count_down(
                    terminal, "  wait for the boil, space if it boils", load.wait_s, skip=True
                )
                terminal.ring()
        terminal.say("All loads are out. Cool and dry them in one layer.")


def _await_space(terminal: Terminal, line: str) -> None:
    terminal.draw(line)
    while terminal.key(TICK_S) != " ":
        pass


def _count_down(terminal: Terminal, what: str, whole_s: float, *, skip: bool = False) -> None:
    end = terminal.now() + whole_s
    while (left := end - terminal.now()) > 0:
        terminal.draw(bar_line(what, left, whole_s, terminal.width))
        if terminal.key(min(TICK_S, left)) == " " and skip:
            return
