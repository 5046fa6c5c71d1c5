"""The comparison of trial mixes against the libraries that it cannot do without.

    python tests/benchmarks/bench_trials.py PYTHON

PYTHON is the interpreter of a normal install without the test extra. Three demo recipes are
compared over twelve outings.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.bench_startup import BARE, units_file
from benchmarks.timing import ROOT, Check, program, report_in_folder, run_in_turns

ROUNDS = 25
NAMES = ("Osierfen Caraway", "Osierfen Millet", "Osierfen Weir")
ENTRY = (
    "  - {{date: 2025-05-{day:02}, recipe: {name}, rods: {rods}, hours: {hours}, takes: {takes}}}\n"
)


def write_notebook(folder: Path) -> None:
    """Write twelve outings, no two days alike."""
    entries = (
        ENTRY.format(day=1 + n % 28, name=NAMES[n % 3], rods=2 + n % 2, hours=12 + n, takes=n % 4)
        for n in range(12)
    )
    (folder / "notebook.yaml").write_text("fished:\n" + "".join(entries), encoding="utf-8")


def measure(python: str, folder: Path) -> list[Check]:
    """Run both in turns."""
    recipes = shutil.copytree(ROOT / "recipes", folder / "recipes")
    write_notebook(folder)
    files = [str(recipes / f"osierfen-{name}.yaml") for name in ("caraway", "millet", "weir-us")]
    bare, trials = run_in_turns(
        [[python, "-c", BARE, units_file(python)], [program(python), "trials", *files]], ROUNDS
    )
    return [Check("trials / bare imports, time", trials.seconds / bare.seconds, 1.15)]


def main() -> None:
    """Measure and print."""
    report_in_folder(measure)


if __name__ == "__main__":
    main()
