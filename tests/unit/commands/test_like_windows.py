"""What Windows does otherwise, played on this system: locks, open files, no terminal; CRLF throughout."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from running import TESTS, Outcome, copy_recipes, environment, run_python

pytestmark = pytest.mark.skipif(
    not Path("/proc/self/fd").is_dir(), reason="which files are open is read from /proc"
)
LOCK = Path("recipes", ".eggfold-lock")
BOUGHT = ("note", "bought", "Malt syrup", "450g", "--price", "3.60", "--shelf")


def like_windows(folder: Path, *args: str) -> Outcome:
    return run_python(str(TESTS / "like_windows.py"), *args, cwd=folder)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a folder whose recipes and shelf end their lines as Windows does."""
    copy_recipes(tmp_path)
    for file in (tmp_path / "recipes").iterdir():
        file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    return tmp_path


@pytest.mark.parametrize(
    "args",
    [
        ("batch", "recipes/osierfen-caraway.yaml", "--as", "freebie", "--eggs", "6"),
        ("shopping", "recipes", "--as", "freebie"),
        ("rolling", "recipes/weekend.yaml"),
        ("campaign", "recipes/season.yaml"),
        ("check", "recipes"),
        ("boil", "16mm", "--clock"),
    ],
)
def test_answers_are_those_of_other_systems(folder: Path, args: tuple[str, ...]) -> None:
    here = run_python("-m", "eggfold", *args, cwd=folder)
    assert here.exit == 0
    assert like_windows(folder, *args) == here


def test_notes_are_written_beside_a_lock_that_cannot_be_removed(folder: Path) -> None:
    shelf = folder / "recipes" / "shelf.yaml"
    seen = [shelf.read_bytes()]
    for _ in range(2):
        outcome = like_windows(folder, *BOUGHT, "recipes/shelf.yaml")
        assert (outcome.stderr, outcome.exit) == ("", 0)
        assert (folder / LOCK).stat().st_size == 0
        seen.append(shelf.read_bytes())
    assert len(set(seen)) == 3
    assert all(text.count(b"\n") == text.count(b"\r\n") for text in seen)


def test_a_new_folder_and_a_card_in_a_folder_are_written(folder: Path) -> None:
    assert like_windows(folder, "new", "bait").exit == 0
    outcome = like_windows(folder, "batch", "bait/trial", "--output", "cards\\")
    assert (outcome.stderr, outcome.exit) == ("wrote 1 file into cards\\\n", 0)


HOLDER = """
import os, sys, time
descriptor = os.open(sys.argv[1], os.O_RDWR | os.O_CREAT)
os.lockf(descriptor, os.F_LOCK, 1)
print("held", flush=True)
time.sleep(60)
"""
WAITER = """
from like_windows import become_windows
become_windows()
from eggfold.edit.commit import is_held, locked
assert is_held("recipes")
with locked(["recipes"], wait_s=0.1):
    raise SystemExit("the lock was not kept")
"""


def test_a_lock_of_another_run_is_waited_for(folder: Path) -> None:
    path = environment()["PYTHONPATH"]
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(folder / LOCK)], stdout=subprocess.PIPE, text=True
    ) as holder:
        assert holder.stdout
        assert holder.stdout.readline() == "held\n"
        done = subprocess.run(
            [sys.executable, "-c", WAITER],
            cwd=folder,
            env=environment() | {"PYTHONPATH": f"{path}:{TESTS}"},
            capture_output=True,
            text=True,
            check=False,
        )
        holder.kill()
    assert "another run of eggfold has been writing here" in done.stderr
