"""One press of TAB against importing click.

    python tests/benchmarks/bench_completion.py PYTHON

PYTHON is the interpreter of a normal install without the test extra.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[1]))

from benchmarks.timing import Check, interpreter, program, report, run_in_turns

ROUNDS = 25

WORDS = {"a command": ["eggfold", "ba"], "an option": ["eggfold", "batch", "--al"]}
NAMES = {
    "a recipe": ["eggfold", "batch", "recipes/osier"],
    "an item": ["eggfold", "note", "bought", "--shelf", "recipes/shelf.yaml", "m"],
}
"""Names in files, for which the YAML library has to load."""


def question(words: list[str]) -> list[str]:
    """Return the settings with which bash asks."""
    line = "\n".join(words)
    return [
        "_EGGFOLD_COMPLETE=bash_complete",
        f"COMP_WORDS={line}",
        f"COMP_CWORD={len(words) - 1}",
    ]


def main() -> None:
    """Measure and print."""
    python = interpreter()
    eggfold = program(python)
    asked = [*WORDS.values(), *NAMES.values()]
    tabs = [["env", *question(words), eggfold] for words in asked]
    click, *answered = run_in_turns([["env", python, "-c", "import click"], *tabs], ROUNDS)
    ratios = [tab.seconds / click.seconds for tab in answered]
    words, names = ratios[: len(WORDS)], ratios[len(WORDS) :]
    report(
        [
            *(
                Check(f"TAB for {what} / import click, time", ratio, 1.6)
                for what, ratio in zip(WORDS, words, strict=True)
            ),
            *(
                Check(f"TAB for {what} / import click, time", ratio, 2.5)
                for what, ratio in zip(NAMES, names, strict=True)
            ),
        ]
    )


if __name__ == "__main__":
    main()
