"""Notes killed at every step: each child writes notes until its step comes, then the files are read.

    python tests/killed_notes.py FOLDER

A step is anything that is opened, renamed, removed or put to disk. Every child begins with its own
copy of a seed folder, and dies one step later than the one before it, until one gets through. An
entry is acknowledged when the command has returned; what was acknowledged must be found, and the
eggs on the shelf must be those that no entry drew.
"""

from __future__ import annotations

import os
import shutil
import signal
import sys
from itertools import count
from pathlib import Path

from eggfold.__main__ import run
from eggfold.files.folder import interrupted
from eggfold.files.journal import mend
from eggfold.files.notebook import open_notebook
from eggfold.files.shelf_reading import open_shelf

EGGS = 1000
NOTES = 4
STEPS = {"open", "os.rename", "os.remove"}

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


def die_at(step: int) -> None:
    """Let this process be killed before its so many-th step from now."""
    left = count(step - 1, -1)

    def on_step() -> None:
        if not next(left):
            os.kill(os.getpid(), signal.SIGKILL)

    def on_event(event: str, _args: object) -> None:
        if event in STEPS:
            on_step()

    fsync = os.fsync

    def stepping_fsync(descriptor: int) -> None:
        on_step()
        fsync(descriptor)

    os.fsync = stepping_fsync  # type: ignore[assignment]
    sys.addaudithook(on_event)


def write_until_killed(folder: Path, acknowledge: int, step: int) -> None:
    """Note and acknowledge until the end comes."""
    die_at(step)
    for number in range(1, NOTES + 1):
        note(folder, number)
        os.write(acknowledge, f"{number} ".encode())
    os._exit(0)


def acknowledged_by(folder: Path, step: int) -> tuple[list[int], bool]:
    """Let a child write into a folder; return what it acknowledged and whether it was killed."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        os.close(reading)
        write_until_killed(folder, writing, step)
    os.close(writing)
    with os.fdopen(reading) as stream:
        numbers = [int(word) for word in stream.read().split()]
    _, status = os.waitpid(child, 0)
    code = os.waitstatus_to_exitcode(status)
    if code not in (0, -signal.SIGKILL):
        sys.exit(f"the child ended with {code}, after {numbers}")
    return numbers, code != 0


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


def main(base: str) -> None:
    """Kill the children, and print how many, and how often one was caught between the two files."""
    folder = Path(base)
    sys.stdout = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115 - for good
    seed_folder = folder / "seed"
    write_seed(seed_folder)
    shutil.copytree(seed_folder, folder / "warm")
    for number in (1, 2):
        note(folder / "warm", number)
    caught = 0
    for step in count(1):
        place = folder / str(step)
        shutil.copytree(seed_folder, place)
        numbers, killed = acknowledged_by(place, step)
        caught += check(place, numbers)
        shutil.rmtree(place)
        if not killed:
            break
    sys.__stdout__.write(f"{step - 1} {caught}\n")  # type: ignore[union-attr]


if __name__ == "__main__":
    main(*sys.argv[1:])
