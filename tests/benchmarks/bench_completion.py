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
LIMIT = 1.3
LIMIT_IN_FILES = 1.8
"""For names that stand in files: ruamel.yaml's import alone takes half as long as click's."""
IN_FILES = ("a recipe", "an item")

TABS = {
    "a command": ["eggfold", "ba"],
    "an option": ["eggfold", "batch", "--al"],
    "a recipe": ["eggfold", "batch", "recipes/osier"],
    "an item": ["eggfold", "note", "bought", "--shelf", "recipes/shelf.yaml", "m"],
}


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
    tabs = [["env", *question(words), eggfold] for words in TABS.values()]
    click, *answered = run_in_turns([["env", python, "-c", "import click"], *tabs], ROUNDS)
    report(
        [
            Check(
                f"TAB for {what} / import click, time",
                tab.seconds / click.seconds,
                LIMIT_IN_FILES if what in IN_FILES else LIMIT,
            )
            for what, tab in zip(TABS, answered, strict=True)
        ]
    )


if __name__ == "__main__":
    main()
