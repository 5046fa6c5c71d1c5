"""Notes killed at every step: each child writes notes until its step comes, then the note is repeated.

    python tests/killed_notes.py FOLDER

A step is anything that is opened, renamed, removed, made or put to disk. Every child begins with its
own copy of a seed folder, and dies one step later than the one before it, until one gets through. A
note is acknowledged when its answer can be read. The next command of a reader's changes nothing, and
the same note given once more is booked if it was not, and only then: every note is found once, and
the eggs on the shelf are those that no bowl drew.
"""

from __future__ import annotations

import os
import shutil
import signal
import sys
from contextlib import redirect_stderr
from io import StringIO
from itertools import count
from pathlib import Path

from eggfold.__main__ import run
from eggfold.load.folder import interrupted
from eggfold.load.notebook import open_notebook
from eggfold.load.shelf import open_shelf

EGGS = 1000
NOTES = 4
STEPS = {"open", "os.rename", "os.remove", "os.mkdir"}

RECIPE = "name: Reed bed\nbase_mix: Reed mix\n"
SHELF = f"# eggs only\nitems:\n  EU large eggs: {{left: {EGGS}}}\n"
NOTEBOOK = "# kept by hand\nfished:\n  - {date: 2025-05-01, recipe: Reed bed, rods: 1, hours: 1, takes: 0}\n"


def write_seed(folder: Path) -> None:
    """Write what every child begins with."""
    folder.mkdir(parents=True)
    (folder / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    (folder / "shelf.yaml").write_text(SHELF, encoding="utf-8")
    (folder / "notebook.yaml").write_text(NOTEBOOK, encoding="utf-8")


def kind(number: int) -> str:
    """Return what is noted under a number."""
    return "fished" if number % 2 else "rolled"


def note(folder: Path, number: int) -> int:
    """Note one thing that carries a number, by turns a session and a bowl; return the exit code."""
    recipe = str(folder / "reed.yaml")
    if kind(number) == "fished":
        args = ["fished", recipe, "--rods", "1", "--hours", "1", "--takes", str(number)]
    else:
        args = ["rolled", recipe, "--eggs", "1", "--finished", f"{number + 100}g"]
    return run(["note", *args, "--date", "2025-06-01", "--format", "json"])


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


def write_until_killed(folder: Path, answers: int, step: int) -> None:
    """Note until the end comes; the answers go into a pipe."""
    sys.stdout = os.fdopen(answers, "w")
    die_at(step)
    for number in range(1, NOTES + 1):
        if code := note(folder, number):
            os._exit(code)
    os._exit(0)


def acknowledged_by(folder: Path, step: int) -> tuple[int, bool]:
    """Let a child write into a folder; return how many notes it answered, and whether it was killed."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        os.close(reading)
        write_until_killed(folder, writing, step)
    os.close(writing)
    with os.fdopen(reading) as stream:
        answered = stream.read().count('"kind": "note"')
    _, status = os.waitpid(child, 0)
    code = os.waitstatus_to_exitcode(status)
    if code not in (0, -signal.SIGKILL):
        sys.exit(f"the child ended with {code}, after {answered}")
    return answered, code != 0


def texts(folder: Path) -> list[bytes]:
    """Return what stands in a folder."""
    return [path.read_bytes() for path in sorted(folder.iterdir())]


def check(folder: Path, answered: int) -> int:
    """Read, repeat the note that had no answer, and read both files; return 1 if it was half done."""
    half_done = interrupted(str(folder))
    before = texts(folder)
    told = StringIO()
    with redirect_stderr(told):
        if run(["batch", str(folder / "reed.yaml")]) or texts(folder) != before:
            sys.exit(f"{folder} was written by a command that reads")
        booked = min(answered + 1, NOTES)
        code = note(folder, booked) if half_done or answered < NOTES else 0
    if code != (4 if half_done else 0):
        sys.exit(f"{folder}: the note once more ended with {code}, half done {half_done}")
    if half_done and f"was finished ({kind(booked)} Reed bed" not in told.getvalue():
        booked = answered  # it was the one before, and its answer was out
    notebook, problems = open_notebook(str(folder / "notebook.yaml"))
    shelf, found = open_shelf(str(folder / "shelf.yaml"))
    if problems or found or shelf is None:
        sys.exit(f"{folder} does not read: {problems + found}")
    numbers = [entry.takes for entry in notebook.fished]
    bowls = [int(entry.finished.value) - 100 for entry in notebook.rolled if entry.finished]
    if sorted(numbers + bowls) != list(range(booked + 1)):
        sys.exit(f"{folder} has {numbers} and {bowls} after {answered} answers and {code}")
    left = shelf.shelf.items["EU large eggs"].left
    if left is None or left.number != EGGS - len(bowls):
        sys.exit(f"{folder}: {left} eggs are left after {len(bowls)} bowls")
    return int(half_done)


def main(base: str) -> None:
    """Kill the children, and print how many, and how often a note was caught half done."""
    folder = Path(base)
    os.environ["XDG_STATE_HOME"] = str(folder / "state")
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
        answered, killed = acknowledged_by(place, step)
        caught += check(place, answered)
        shutil.rmtree(place)
        if not killed:
            break
    sys.__stdout__.write(f"{step - 1} {caught}\n")  # type: ignore[union-attr]


if __name__ == "__main__":
    main(*sys.argv[1:])
