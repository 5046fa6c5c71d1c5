"""Start-up against the libraries that it cannot do without.

    python tests/benchmarks/bench_startup.py PYTHON

PYTHON is the interpreter of a normal install without the test extra.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.timing import Check, interpreter, program, report, run_in_turns

ROUNDS = 25
RECIPE = "recipes/osierfen-caraway.yaml"

BARE = """
import sys
import click
from pydantic import BaseModel
from ruamel.yaml import YAML
import pint
class Recipe(BaseModel):
    name: str
pint.UnitRegistry(sys.argv[1], cache_folder=None)
"""

UNITS_FILE = """
from importlib.util import find_spec
print(find_spec("eggfold").submodule_search_locations[0] + "/kitchen_units.txt")
"""


def units_file(python: str) -> str:
    """Return where the install keeps its units."""
    return subprocess.check_output([python, "-c", UNITS_FILE], text=True).strip()


def main() -> None:
    """Measure and print."""
    python = interpreter()
    eggfold = program(python)
    units = units_file(python)
    click, shown, version = run_in_turns(
        [[python, "-c", "import click"], [eggfold, "--help"], [eggfold, "--version"]], ROUNDS
    )
    bare, batch = run_in_turns([[python, "-c", BARE, units], [eggfold, "batch", RECIPE]], ROUNDS)
    report(
        [
            Check("--help / import click, time", shown.seconds / click.seconds, 1.3),
            Check("--version / import click, time", version.seconds / click.seconds, 1.3),
            Check("batch / bare imports, time", batch.seconds / bare.seconds, 1.15),
            Check("batch / bare imports, memory", batch.peak_kib / bare.peak_kib, 1.2),
        ]
    )


if __name__ == "__main__":
    main()
