"""What holds of every command: its help, its streams, what it may not overwrite, and plain terminals."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from typing import TYPE_CHECKING

import click
import pytest

from eggfold.__main__ import run
from eggfold.commands.root import SUMMARIES, root
from running import copy_recipes, environment

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

CARAWAY, MILLET = "recipes/osierfen-caraway.yaml", "recipes/osierfen-millet.yaml"
MALT = ("Malt syrup", "450g", "--price", "3.60", "--shelf", "recipes/shelf.yaml")
RUNS = {
    "batch": ("batch", CARAWAY, "--why"),
    "shopping": ("shopping", CARAWAY, MILLET, "--as", "freebie", "--eggs", "24"),
    "doses": ("doses", CARAWAY),
    "boil": ("boil", "15mm", "--why"),
    "buoyancy": ("buoyancy", "--core", "12mm", "--skin", "2mm", "--why"),
    "powder": ("powder", MILLET, "--why"),
    "labels": ("labels", CARAWAY),
    "shelf": ("shelf", "recipes"),
    "note": ("note", "bought", *MALT, "--dry-run"),
    "trials": ("trials", CARAWAY, MILLET),
    "rolling": ("rolling", "recipes/weekend.yaml"),
    "campaign": ("campaign", "recipes/season.yaml", "--date", "2026-01-01"),
    "check": ("check", "recipes"),
    "new": ("new", "start"),
    "schema": ("schema", "recipe"),
}


def with_output() -> list[str]:
    """Return the commands that can write their answer into a file."""
    context = click.Context(root)
    commands = {name: root.get_command(context, name) for name in SUMMARIES}
    return [n for n, c in commands.items() if c and any(p.name == "output" for p in c.params)]


PAGES = with_output()


def plain(encoding: str) -> dict[str, str]:
    """Return the plainest locale, with streams of an encoding."""
    given = {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    return given | {"PYTHONIOENCODING": encoding}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    copy_recipes(tmp_path, outings=True)
    return tmp_path


def started(
    folder: Path, *args: str, stdout: int = subprocess.PIPE, given: dict[str, str] | None = None
) -> subprocess.CompletedProcess[bytes]:
    """Run this interpreter with an output and an environment of its own."""
    return subprocess.run(
        [sys.executable, *args],
        cwd=folder,
        env=environment() | (given or {}),
        stdout=stdout,
        stderr=subprocess.PIPE,
        check=False,
    )


def run_into(descriptor: int, args: tuple[str, ...], patch: pytest.MonkeyPatch) -> int:
    """Run the program in this process with a standard output of its own."""
    with os.fdopen(descriptor, "w", encoding="utf-8") as stream, patch.context() as patched:
        patched.setattr(sys, "stdout", stream)
        return run(list(args))


def without_reader() -> int:
    """Return the end of a pipe that nobody reads."""
    reading, writing = os.pipe()
    os.close(reading)
    return writing


def on_a_full_disk() -> int:
    return os.open("/dev/full", os.O_WRONLY)


def test_every_command_is_run() -> None:
    assert RUNS.keys() == SUMMARIES.keys()


@pytest.mark.parametrize("command", RUNS)
def test_help_that_is_asked_for_is_an_answer(
    command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run([command, "--help"]) == 0
    shown = capsys.readouterr()
    assert shown.out.startswith(f"Usage: eggfold {command} ")
    assert shown.err == ""


ALL = """
import sys
from eggfold.__main__ import run
for line in sys.argv[1:]:
    assert run(line.split("|")) == 0, line
"""


def answers(folder: Path, seed: str) -> dict[str, bytes]:
    """Run every command, with strings hashed by a seed, and return what was printed and written."""
    copy_recipes(folder, outings=True)
    given = {name: ("--format", "pdf", "--output", f"{name}.pdf") for name in PAGES}
    lines = ["|".join((*args, *given.get(name, ()))) for name, args in RUNS.items()]
    done = started(folder, "-c", ALL, *lines, given={"PYTHONHASHSEED": seed})
    assert done.returncode == 0, done.stderr
    files = [path for path in folder.rglob("*") if path.is_file()]
    return {"": done.stdout} | {str(p.relative_to(folder)): p.read_bytes() for p in files}


def test_the_same_questions_have_the_same_bytes(tmp_path: Path) -> None:
    one, other = (answers(tmp_path / seed, seed) for seed in ("1", "2"))
    assert {f"{name}.pdf" for name in PAGES} <= one.keys() == other.keys()
    assert [name for name in one if one[name] != other[name]] == []


@pytest.mark.parametrize("command", RUNS)
def test_a_reader_that_has_gone_and_a_full_disk_end_every_command(
    command: str,
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(folder)
    assert run_into(without_reader(), RUNS[command], monkeypatch) == 0
    assert capsys.readouterr().err == ""
    shutil.rmtree(folder / "start", ignore_errors=True)
    assert run_into(on_a_full_disk(), RUNS[command], monkeypatch) == 4
    assert capsys.readouterr().err == "eggfold: cannot write: No space left on device\n"


@pytest.mark.parametrize("form", ["text", "json", "pdf"])
@pytest.mark.parametrize(
    ("stdout", "ends"),
    [
        (without_reader, (0, b"")),
        (on_a_full_disk, (4, b"eggfold: cannot write: No space left on device\n")),
    ],
)
def test_the_interpreter_adds_nothing_to_such_an_end(
    folder: Path, form: str, stdout: Callable[[], int], ends: tuple[int, bytes]
) -> None:
    descriptor = stdout()
    batch = ("-m", "eggfold", *RUNS["batch"], "--format", form)
    done = started(folder, *batch, stdout=descriptor)
    os.close(descriptor)
    assert (done.returncode, done.stderr) == ends


@pytest.mark.parametrize("command", PAGES)
def test_what_is_there_is_written_over_by_force_only(
    command: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder)
    file = folder / "mine.txt"
    file.write_text("mine", encoding="utf-8")
    args = [*RUNS[command], "--output", file.name]
    assert run(args) == 4
    assert file.read_text("utf-8") == "mine"
    assert run([*args, "--force"]) == 0
    assert file.read_text("utf-8") != "mine"


@pytest.mark.parametrize("command", RUNS)
def test_ascii_gets_every_answer(command: str, folder: Path) -> None:
    done = started(folder, "-m", "eggfold", *RUNS[command], given=plain("ascii"))
    assert done.returncode == 0, done.stderr
    assert done.stdout.isascii()
    assert done.stdout.strip()


def test_a_code_page_gets_what_it_has(folder: Path) -> None:
    done = started(folder, "-m", "eggfold", *RUNS["buoyancy"], given=plain("cp437"))
    assert done.returncode == 0
    assert "°".encode("cp437") in done.stdout


def test_an_error_finds_its_way_too(folder: Path) -> None:
    done = started(folder, "-m", "eggfold", "batch", "köder.yaml", given=plain("ascii"))
    assert done.returncode == 4
    assert b"Traceback" not in done.stderr
    assert b"fault in the program" not in done.stderr
