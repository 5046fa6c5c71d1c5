"""Checking and the shelf against the libraries that they cannot do without.

    python tests/benchmarks/bench_check.py PYTHON

PYTHON is the interpreter of a normal install without the test extra. One recipe with its register
is checked; the shelf is the demo folder's, of one recipe.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.bench_startup import BARE, FILES, units_file
from benchmarks.timing import ROOT, Check, interpreter, program, report, run_in_turns

ROUNDS = 25


def measure(python: str, folder: Path) -> list[Check]:
    """Run both commands and the bare imports in turns."""
    for file in (*FILES, "recipes/shelf.yaml"):
        shutil.copy(ROOT / file, folder)
    recipe = str(folder / Path(FILES[0]).name)
    bare, check, shelf = run_in_turns(
        [
            [python, "-c", BARE, units_file(python)],
            [program(python), "check", recipe],
            [program(python), "shelf", recipe],
        ],
        ROUNDS,
    )
    return [
        Check("check / bare imports, time", check.seconds / bare.seconds, 1.15),
        Check("shelf / bare imports, time", shelf.seconds / bare.seconds, 1.2),
    ]


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as folder:
        checks = measure(interpreter(), Path(folder))
    report(checks)


if __name__ == "__main__":
    main()
