"""Two hundred cards onto paper: as one text file against composing the recipes, and as PDF.

    python tests/benchmarks/bench_paper.py PYTHON

PYTHON is the interpreter of a normal install with the extra pdf and without the test extra.
Start-up is what one recipe takes, and is subtracted on both sides.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.bench_many import COMPOSE, write_recipes
from benchmarks.timing import Check, program, report_in_folder, run_in_turns

ROUNDS = 5
MANY = 200
CARD_S = 0.010
"""What a card may take as PDF after start-up, of a processor's time: other programs do not count."""


def measure(python: str, folder: Path) -> list[Check]:
    """Run text, PDF and composing over one and over all recipes."""
    one, many = (write_recipes(folder / str(n), n) for n in (1, MANY))
    compose = [python, "-c", COMPOSE]

    def batch(recipes: str, ending: str) -> list[str]:
        output = str(folder / f"cards{ending}")
        return [program(python), "batch", recipes, "--output", output, "--force"]

    compose_one, compose_many, text_one, text_many, pdf_one, pdf_many = run_in_turns(
        [
            [*compose, one],
            [*compose, many],
            batch(one, ".txt"),
            batch(many, ".txt"),
            batch(one, ".pdf"),
            batch(many, ".pdf"),
        ],
        ROUNDS,
    )
    composing = compose_many.seconds - compose_one.seconds
    text = text_many.seconds - text_one.seconds
    card_s = (pdf_many.cpu_s - pdf_one.cpu_s) / (MANY - 1)
    return [
        Check("text of 200 / compose, time", text / composing, 2.6),
        Check("a card as PDF, reading included / 10 ms", card_s / CARD_S, 1.0),
    ]


def main() -> None:
    """Measure and print."""
    report_in_folder(measure)


if __name__ == "__main__":
    main()
