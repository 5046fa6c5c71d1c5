"""The clock at the stove: a live countdown of every load on a terminal."""

from __future__ import annotations

import os
import select
import shutil
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from eggfold.pages.boil import CAUTIONS
from eggfold.pages.clock import bar_line, load_line

if TYPE_CHECKING:
    from eggfold.recipe.boil_clock import PanClock

TICK_S = 0.2
"""How often the countdown is drawn; house default."""


def can_run_live() -> bool:
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


def run_live(clock: PanClock) -> None:
    """Run a clock on this process's terminal."""
    sys.stdout.flush()
    run_clock(clock, Terminal(sys.stdin.fileno(), sys.stdout.fileno(), time.monotonic))


def run_clock(clock: PanClock, terminal: Terminal) -> None:
    """Count every load down; space starts one, and ends a wait when the pan boils sooner."""
    with terminal.keys():
        for caution in CAUTIONS:
            terminal.say(caution)
        for load in clock.loads:
            terminal.say(load_line(load, len(clock.loads)))
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
