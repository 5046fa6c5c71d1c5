"""A note into a long notebook against one into an empty one; a batch with notes against one without.

    python tests/benchmarks/bench_note.py PYTHON

PYTHON is the interpreter of a normal install without the test extra. Times are those of whole
processes. The long notebook is written once and grows by an entry with each run.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.timing import Check, program, report_in_folder, run_in_turns

ROUNDS = 15
ENTRIES = 5000
OUTINGS = 500
WEIGHINGS = 50

RECIPE = """\
name: Reed bed
base_mix: {name: Reed mix, amount: 130 g}
additives:
  - {name: Malt syrup, form: liquid, density: 1.35 g/ml, hookbait: 4 g per egg}
"""
OUTING = "  - {{date: 2025-05-{day:02}, recipe: Reed bed, rods: 3, hours: 8, takes: {takes}}}\n"
WEIGHED = """\
  - date: 2025-05-{day:02}
    recipe: Reed bed
    strength: hookbait
    eggs: 2
    egg: 60.52 g
    before: 2 kg
    after: {after} g
    base_mix: Reed mix
    wet: 129.04 g
    dry: {taken} g
"""


def write_folder(folder: Path, outings: int, weighings: int) -> Path:
    """Write a recipe and its notebook, and return the recipe."""
    folder.mkdir()
    (folder / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    fished = (OUTING.format(day=1 + i % 28, takes=i % 4) for i in range(outings))
    weighed = (
        WEIGHED.format(day=1 + i % 28, after=1740 + i % 7, taken=260 - i % 7)
        for i in range(weighings)
    )
    text = "# seasons\nfished:\n" + "".join(fished)
    text += "weighed:\n" + "".join(weighed) if weighings else ""
    (folder / "notebook.yaml").write_text(text, encoding="utf-8")
    return folder / "reed.yaml"


def measure(python: str, folder: Path) -> list[Check]:
    """Run both pairs."""
    empty = write_folder(folder / "empty", 0, 0)
    long = write_folder(folder / "long", ENTRIES, 0)
    kept = write_folder(folder / "kept", OUTINGS, WEIGHINGS)
    fished = ["--rods", "2", "--hours", "6", "--takes", "1", "--date", "2025-06-01"]
    note = [program(python), "note", "fished"]
    batch = [program(python), "batch", str(kept)]
    into_empty, into_long, with_notes, without = (
        run.seconds
        for run in run_in_turns(
            [
                [*note, str(empty), *fished],
                [*note, str(long), *fished],
                batch,
                [*batch, "--without-notes"],
            ],
            ROUNDS,
        )
    )
    return [
        Check(f"note into {ENTRIES} entries / into none", into_long / into_empty, 1.5),
        Check(f"batch beside {OUTINGS} outings / without", with_notes / without, 1.25),
    ]


def main() -> None:
    """Measure and print."""
    report_in_folder(measure)


if __name__ == "__main__":
    main()
