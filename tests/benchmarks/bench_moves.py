"""What moves a card, in a processor's time: for the demo's cards and for one of 200 additives.

    python tests/benchmarks/bench_moves.py

Runs in its own process: give it the interpreter of a normal install.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from statistics import median
from time import process_time

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.timing import ROOT, Check, report
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import Batch, build_batch
from eggfold.recipe.moves import build_moves
from recipe_files import recipes_of

ROUNDS = 25
MANY = 200


def batches_of(*files: str) -> list[Batch]:
    """Return a freebie bowl of six eggs of each recipe."""
    asked = Asked("freebie", BatchSize("eggs", 6))
    return [build_batch(opened, asked) for opened in recipes_of(*files)]


def crowded(folder: str) -> str:
    """Write a recipe of many additives and return its file."""
    lines = [
        f"  - {{name: Syrup {i}, form: liquid, freebie: 0.1 ml per egg, hookbait: none}}"
        for i in range(MANY)
    ]
    text = "name: Reeds\nbase_mix: {name: Mix, amount: 130 g}\nadditives:\n" + "\n".join(lines)
    file = Path(folder, "reeds.yaml")
    file.write_text(f"{text}\n", encoding="utf-8")
    return str(file)


def ms_of(batch: Batch) -> float:
    """Return the median time of a processor [ms]."""
    times = []
    for _ in range(ROUNDS):
        start = process_time()
        build_moves(batch)
        times.append(process_time() - start)
    return 1000 * median(times)


def main() -> None:
    """Measure and print."""
    demo = batches_of(str(ROOT / "recipes"))
    checks = [Check("moves of the slowest demo card, ms", max(map(ms_of, demo)), 5.0)]
    with tempfile.TemporaryDirectory() as folder:
        (many,) = batches_of(crowded(folder))
    checks.append(Check("moves of a card of 200 additives, ms", ms_of(many), 5.0))
    report(checks)


if __name__ == "__main__":
    main()
