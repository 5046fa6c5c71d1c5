"""Boil, buoyancy and powder against the bare imports; the whole boil table inside the process.

    python tests/benchmarks/bench_boil.py PYTHON

PYTHON is the interpreter of a normal install without the test extra. The table is measured cold:
every run has an altitude of its own, so that no root is remembered from the run before. Its limit
is in milliseconds, on the machine the project is measured on.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.bench_startup import BARE, UNITS_FILE
from benchmarks.timing import Check, interpreter, program, report, run_in_turns

ROUNDS = 25
TABLE_MS = 15.0

TABLE = """
from statistics import median
from time import perf_counter
from eggfold.recipe.composition import Composition
from eggfold.recipe.boil import AskedBoil, build_boil
from eggfold.reference.boiling import TYPICAL_MIX
def run(altitude_m):
    asked = AskedBoil(altitude_m=altitude_m)
    start = perf_counter()
    build_boil(asked, Composition(TYPICAL_MIX))
    return 1000 * (perf_counter() - start)
print(median(run(float(altitude_m)) for altitude_m in range(1, 60)))
"""

ALONE_LIMIT = 1.15
STOCKED_LIMIT = 1.2
ALONE = (("boil",), ("buoyancy", "--core", "12mm", "--lift", "0.1g", "--hook", "0.3g"))
STOCKED = (
    ("powder", "recipes/osierfen-reedmace.yaml"),
    ("batch", "recipes/osierfen-reedmace.yaml"),
)
"""These read the demo's shelf as well."""


def named(command: tuple[str, ...]) -> str:
    """Return what a row is of."""
    return f"{' '.join(command)} / bare, time"


def main() -> None:
    """Measure and print."""
    python = interpreter()
    units = subprocess.check_output([python, "-c", UNITS_FILE], text=True).strip()
    table_ms = float(subprocess.check_output([python, "-c", TABLE]))
    commands = [[program(python), *command] for command in (*ALONE, *STOCKED)]
    bare, *runs = run_in_turns([[python, "-c", BARE, units], *commands], ROUNDS)
    report(
        [
            Check("table of 8 to 24 mm, ms", table_ms, TABLE_MS),
            *(
                Check(named(command), run.seconds / bare.seconds, ALONE_LIMIT)
                for command, run in zip(ALONE, runs[: len(ALONE)], strict=True)
            ),
            *(
                Check(named(command), run.seconds / bare.seconds, STOCKED_LIMIT)
                for command, run in zip(STOCKED, runs[len(ALONE) :], strict=True)
            ),
        ]
    )


if __name__ == "__main__":
    main()
