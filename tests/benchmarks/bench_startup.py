"""Start-up against the libraries that it cannot do without.

    python tests/benchmarks/bench_startup.py PYTHON

PYTHON is the interpreter of a normal install without the test extra.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.timing import Check, interpreter, program, report, run_in_turns

ROUNDS = 25
RECIPE = "recipes/osierfen-caraway.yaml"
FILES = (RECIPE, "recipes/additives.yaml")
"""A recipe and its register; the demo folder has a shelf besides, which is measured apart."""

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
    with tempfile.TemporaryDirectory() as folder:
        for file in FILES:
            shutil.copy(file, folder)
        alone = str(Path(folder) / Path(RECIPE).name)
        bare, batch, stocked = run_in_turns(
            [
                [python, "-c", BARE, units],
                [eggfold, "batch", alone],
                [eggfold, "batch", RECIPE],
            ],
            ROUNDS,
        )
    report(
        [
            Check("--help / import click, time", shown.seconds / click.seconds, 1.3),
            Check("--version / import click, time", version.seconds / click.seconds, 1.3),
            Check("batch / bare imports, time", batch.seconds / bare.seconds, 1.15),
            Check("batch beside a shelf / bare imports, time", stocked.seconds / bare.seconds, 1.2),
            Check("batch / bare imports, memory", batch.peak_kib / bare.peak_kib, 1.2),
        ]
    )


if __name__ == "__main__":
    main()
