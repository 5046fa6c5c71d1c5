"""The clock at the stove, driven through a pseudo-terminal."""

from __future__ import annotations

import os
import pty
import select
import subprocess
import sys
import termios
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import NamedTuple

import pytest

from eggfold.pages.boil import bar_line, clock_page
from eggfold.pages.figures import METRIC
from eggfold.recipe.boil import Boiled, PanClock, build_clock
from eggfold.tasks.boil import Terminal, run_clock
from running import ROOT, environment

BAIT = Boiled("bottom", 16.0, None, 70.0, 2, 520.0, 60.0)
POP_UP = Boiled("popup", 14.0, 10.0, 75.0, 1, 40.0, 30.0)
CLOCK = build_clock("Reed Bed", [BAIT, POP_UP])
SPEED = 200.0
PATIENCE_S = 20.0

ON_ITS_TERMINAL = """
import fcntl, signal, termios
signal.signal(signal.SIGINT, signal.default_int_handler)  # jobs behind a shell ignore ctrl-c
fcntl.ioctl(0, termios.TIOCSCTTY, 0)  # so that its ctrl-c comes here
from eggfold.__main__ import main
main()
"""


class Cook:
    """The cook's end of a pseudo-terminal: what was shown and not yet looked at, and the keys."""

    def __init__(self, descriptor: int) -> None:
        self.descriptor = descriptor
        self.unread = ""

    def see(self, wanted: str) -> str:
        """Return what is shown up to and with a text; what comes after it stays for later."""
        end = time.monotonic() + PATIENCE_S
        while wanted not in self.unread:
            ready, _, _ = select.select([self.descriptor], [], [], end - time.monotonic())
            assert ready, f"no {wanted!r} after {self.unread[-300:]!r}"
            self.unread += os.read(self.descriptor, 4096).decode()
        before, _, self.unread = self.unread.partition(wanted)
        return before + wanted

    def press(self, keys: bytes) -> None:
        """Press keys."""
        os.write(self.descriptor, keys)


class Stove(NamedTuple):
    """The two ends of a pseudo-terminal."""

    cook: Cook
    program: int


@pytest.fixture
def stove() -> Iterator[Stove]:
    cook, program = pty.openpty()
    yield Stove(Cook(cook), program)
    os.close(cook)
    os.close(program)


def start(stove: Stove, clock: PanClock) -> threading.Thread:
    """Run the clock on the program's side, its time two hundred times as fast."""
    terminal = Terminal(stove.program, stove.program, lambda: time.monotonic() * SPEED)
    thread = threading.Thread(target=run_clock, args=(clock, terminal, METRIC), daemon=True)
    thread.start()
    return thread


def test_every_load_is_counted_down(stove: Stove) -> None:
    before = termios.tcgetattr(stove.program)
    thread = start(stove, CLOCK)
    for number, what in enumerate(("16 mm bottom", "16 mm bottom", "14 mm pop-up"), start=1):
        assert f"Load {number} of 3: {what}" in stove.cook.see("space when it goes in")
        stove.cook.press(b"x ")
        shown = stove.cook.see("take it out")
        assert "boil [" in shown
        assert "\a" in shown
        if number < 3:
            assert "wait for the boil" in stove.cook.see("\a")
    stove.cook.see("All loads are out")
    thread.join(PATIENCE_S)
    assert not thread.is_alive()
    assert termios.tcgetattr(stove.program) == before


def test_space_ends_a_wait_and_never_a_boil(stove: Stove) -> None:
    thread = start(stove, build_clock("Reed Bed", [BAIT._replace(wait_s=1e6)]))
    stove.cook.see("space when it goes in")
    stove.cook.press(b" ")
    stove.cook.see("boil [")
    stove.cook.press(b" ")
    assert "left" in stove.cook.see("\a")
    stove.cook.see("wait for the boil")
    stove.cook.press(b" ")
    stove.cook.see("Load 2 of 2")
    stove.cook.see("space when it goes in")
    stove.cook.press(b" ")
    stove.cook.see("All loads are out")
    thread.join(PATIENCE_S)
    assert not thread.is_alive()


@pytest.mark.parametrize("boiling", [False, True])
def test_ctrl_c_ends_at_once(stove: Stove, *, boiling: bool) -> None:
    before = termios.tcgetattr(stove.program)
    with clock_on(stove.program) as program:
        assert "scald" in stove.cook.see("space when it goes in")
        if boiling:
            stove.cook.press(b" ")
            stove.cook.see("boil [")
        stove.cook.press(b"\x03")
        assert program.wait(PATIENCE_S) == 130
    assert termios.tcgetattr(stove.program) == before
    os.write(stove.program, b"prompt")
    rest = stove.cook.see("prompt")
    assert rest.endswith("\nprompt")
    assert "Traceback" not in rest


@contextmanager
def clock_on(terminal: int) -> Iterator[subprocess.Popen[bytes]]:
    """Run the whole program on a terminal of its own."""
    with subprocess.Popen(
        [sys.executable, "-c", ON_ITS_TERMINAL, "boil", "--clock", "--diameter", "16mm"],
        cwd=ROOT,
        env=environment(),
        stdin=terminal,
        stdout=terminal,
        stderr=terminal,
        start_new_session=True,
    ) as program:
        try:
            yield program
        finally:
            program.kill()


def test_loads_follow_one_another() -> None:
    times = [(load.number, load.in_s, load.out_s, load.wait_s) for load in CLOCK.loads]
    assert times == [(1, 0, 70, 60), (2, 130, 200, 60), (3, 260, 335, 0)]
    assert CLOCK.total_s == 335
    assert "5:35" in str(clock_page(CLOCK, METRIC))


@pytest.mark.parametrize("width", [5, 12, 20, 40, 79, 200])
@pytest.mark.parametrize("left_s", [0.0, 0.1, 35.0, 70.0])
def test_a_bar_fits_its_line(width: int, left_s: float) -> None:
    line = bar_line("  boil", left_s, 70.0, width)
    assert len(line) <= width
    if width >= 40:
        done, to_do = line.count("#"), line.count("-")
        assert done / (done + to_do) == pytest.approx(1 - left_s / 70, abs=0.04)
