"""Notes killed at random moments: each child writes notes until it dies, then the files are read.

    python tests/killing.py FOLDER SEED CHILDREN

Every child begins with its own copy of a seed folder. An entry is acknowledged when the command has
returned; what was acknowledged must be found, and the eggs on the shelf must be those that no entry
drew.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import sys
import time
from itertools import count
from pathlib import Path

from eggfold.__main__ import run
from eggfold.files.folder import interrupted
from eggfold.files.journal import mend
from eggfold.files.notebook import open_notebook
from eggfold.files.shelf import open_shelf

EGGS = 1000
LONGEST_S = 0.045
"""About four notes: some children die in the first, some between two."""

RECIPE = "name: Reed bed\nbase_mix: Reed mix\n"
SHELF = f"# eggs only\nitems:\n  EU large eggs: {{left: {EGGS}}}\n"
NOTEBOOK = "# kept by hand\nfished:\n  - {date: 2025-05-01, recipe: Reed bed, rods: 1, hours: 1, takes: 0}\n"


def write_seed(folder: Path) -> None:
    """Write what every child begins with."""
    folder.mkdir(parents=True)
    (folder / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    (folder / "shelf.yaml").write_text(SHELF, encoding="utf-8")
    (folder / "notebook.yaml").write_text(NOTEBOOK, encoding="utf-8")


def note(folder: Path, number: int) -> None:
    """Note one thing that carries a number: by turns a session and a bowl."""
    recipe = str(folder / "reed.yaml")
    if number % 2:
        args = ["fished", recipe, "--rods", "1", "--hours", "1", "--takes", str(number)]
    else:
        args = ["rolled", recipe, "--eggs", "1", "--finished", f"{number + 100}g"]
    code = run(["note", *args, "--date", "2025-06-01"])
    if code:
        os._exit(code)


def write_until_killed(folder: Path, acknowledge: int) -> None:
    """Note and acknowledge until the end comes."""
    for number in count(1):
        note(folder, number)
        os.write(acknowledge, f"{number} ".encode())


def acknowledged_by(folder: Path, moment_s: float) -> list[int]:
    """Let a child write into a folder, kill it, and return what it acknowledged."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        os.close(reading)
        write_until_killed(folder, writing)
    os.close(writing)
    time.sleep(moment_s)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    with os.fdopen(reading) as stream:
        numbers = [int(word) for word in stream.read().split()]
    if os.waitstatus_to_exitcode(status) != -signal.SIGKILL:
        sys.exit(f"the child ended by itself, after {numbers}")
    return numbers


def check(folder: Path, numbers: list[int]) -> int:
    """Read both files; return 1 if a run was found interrupted between them."""
    stopped_between = interrupted(str(folder))
    mend([str(folder)])
    notebook, problems = open_notebook(str(folder / "notebook.yaml"))
    shelf, found = open_shelf(str(folder / "shelf.yaml"))
    if problems or found or shelf is None:
        sys.exit(f"{folder} does not read: {problems + found}")
    sessions = {entry.takes for entry in notebook.fished}
    bowls = {int(entry.finished.value) - 100 for entry in notebook.rolled if entry.finished}
    lost = set(numbers) - sessions - bowls
    if lost or 0 not in sessions:
        sys.exit(f"{folder} has lost {lost or 'what was there before'}")
    left = shelf.shelf.items["EU large eggs"].left
    if left is None or left.number != EGGS - len(bowls):
        sys.exit(f"{folder}: {left} eggs are left after {len(bowls)} bowls")
    return int(stopped_between)


def main(base: str, seed: str, children: str) -> None:
    """Kill the children, and print how often one was caught between the two files."""
    folder = Path(base)
    sys.stdout = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115 - for good
    seed_folder = folder / "seed"
    write_seed(seed_folder)
    shutil.copytree(seed_folder, folder / "warm")
    for number in (1, 2):
        note(folder / "warm", number)
    chance = random.Random(int(seed))  # noqa: S311 - moments, not secrets
    caught = acknowledged = 0
    for i in range(int(children)):
        place = folder / str(i)
        shutil.copytree(seed_folder, place)
        numbers = acknowledged_by(place, chance.uniform(0, LONGEST_S))
        caught += check(place, numbers)
        acknowledged += len(numbers)
        shutil.rmtree(place)
    sys.__stdout__.write(f"{caught} {acknowledged}\n")  # type: ignore[union-attr]


if __name__ == "__main__":
    main(*sys.argv[1:])
