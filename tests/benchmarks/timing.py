"""Child processes timed in turns, so that a slow moment of the machine meets all of them."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

ROOT = Path(__file__).resolve().parents[2]

WARM_UPS = 2


class Run(NamedTuple):
    """One child: its time, its peak memory, and the time that a processor gave it."""

    seconds: float
    peak_kib: int
    cpu_s: float


class Check(NamedTuple):
    """One line of the table: a ratio and what it may be at most."""

    what: str
    ratio: float
    limit: float


def run_once(command: Sequence[str]) -> Run:
    """Run a command in the project's folder, its output thrown away."""
    start = time.perf_counter()
    child = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    seconds = time.perf_counter() - start
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        sys.exit(f"exit {child.returncode}: {' '.join(command)}")
    return Run(seconds, usage.ru_maxrss, usage.ru_utime + usage.ru_stime)


def run_in_turns(commands: Sequence[Sequence[str]], rounds: int) -> list[Run]:
    """Return the medians of each command."""
    runs = [[run_once(c) for c in commands] for _ in range(rounds + WARM_UPS)][WARM_UPS:]
    return [
        Run(
            median(r.seconds for r in of_one),
            int(median(r.peak_kib for r in of_one)),
            median(r.cpu_s for r in of_one),
        )
        for of_one in zip(*runs, strict=True)
    ]


def interpreter() -> str:
    """Return the interpreter to measure: the first argument, else this one."""
    python = sys.argv[1] if len(sys.argv) > 1 else sys.executable
    numpy = subprocess.run([python, "-c", "import numpy"], capture_output=True, check=False)
    if not numpy.returncode:
        print("numpy is installed there and slows pint down: use an install without test extra")
    return python


def program(python: str) -> str:
    """Return the installed command beside an interpreter."""
    return str(Path(python).with_name("eggfold"))


def report(checks: Sequence[Check]) -> None:
    """Print the table; the exit tells whether every ratio holds."""
    width = max(len(check.what) for check in checks)
    print(f"{'what':{width}}  ratio  limit")
    for check in checks:
        mark = "" if check.ratio <= check.limit else "  over"
        print(f"{check.what:{width}}  {check.ratio:5.2f}  {check.limit:5.2f}{mark}")
    sys.exit(any(check.ratio > check.limit for check in checks))


def report_in_folder(measure: Callable[[str, Path], Sequence[Check]]) -> None:
    """Measure in a folder of its own, which goes again, and print the table."""
    with tempfile.TemporaryDirectory() as folder:
        checks = measure(interpreter(), Path(folder))
    report(checks)
