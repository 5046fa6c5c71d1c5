"""Starting the program as a user does, with the width, the colour and the date fixed."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import eggfold

if TYPE_CHECKING:
    from collections.abc import Sequence

ROOT = Path(__file__).resolve().parents[1]
TESTS = ROOT / "tests"
RECIPES = ROOT / "recipes"

SOURCE_DATE = "1767225600"  # 2026-01-01

TIME_LIMIT_S = 120


class Outcome(NamedTuple):
    """What a run left behind."""

    stdout: str
    stderr: str
    exit: int


def run_python(*args: str, cwd: Path = ROOT, stdin: bytes = b"", merged: bool = False) -> Outcome:
    """Run this interpreter; ``merged`` puts both streams into stdout, as a terminal shows them."""
    done = subprocess.run(
        [sys.executable, *args],
        cwd=cwd,
        env=child_environment(),
        input=stdin,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT if merged else subprocess.PIPE,
        timeout=TIME_LIMIT_S,
        check=False,
    )
    return Outcome(done.stdout.decode(), (done.stderr or b"").decode(), done.returncode)


def run_eggfold(
    args: Sequence[str], cwd: Path, *, stdin: bytes = b"", merged: bool = False
) -> Outcome:
    """Run the program in a folder."""
    return run_python("-m", "eggfold", *args, cwd=cwd, stdin=stdin, merged=merged)


def copy_recipes(folder: Path) -> None:
    """Put a copy of the demo recipes into a folder."""
    shutil.copytree(RECIPES, folder / "recipes")


def child_environment() -> dict[str, str]:
    """Return the surroundings of a run: width, colour and date fixed."""
    # The child runs the package that these tests import, wherever that is installed.
    package = str(Path(eggfold.__file__).resolve().parents[1])
    fixed = {"COLUMNS": "80", "NO_COLOR": "1", "PYTHONUTF8": "1", "PYTHONPATH": package}
    return os.environ | fixed | {"SOURCE_DATE_EPOCH": SOURCE_DATE}
