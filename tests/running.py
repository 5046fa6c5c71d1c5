"""Running the program as a user does, with the width, the colour and the date fixed."""

from __future__ import annotations

import atexit
import json
import os
import shutil
import subprocess
import sys
from contextlib import chdir
from functools import cache
from io import BytesIO, TextIOWrapper
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, NamedTuple
from unittest.mock import patch

import eggfold
from eggfold.__main__ import run

if TYPE_CHECKING:
    from collections.abc import Sequence

ROOT = Path(__file__).resolve().parents[1]
TESTS = ROOT / "tests"
RECIPES = ROOT / "recipes"

SOURCE_DATE = "1767225600"  # 2026-01-01
FIXED = {"COLUMNS": "80", "NO_COLOR": "1", "SOURCE_DATE_EPOCH": SOURCE_DATE}

TIME_LIMIT_S = 120

OUTINGS = """\
fished:
  - {date: 2025-11-15, recipe: Osierfen Caraway, rods: 3, hours: 8, takes: 2}
  - {date: 2025-11-16, recipe: Osierfen Millet, rods: 3, hours: 8, takes: 1}
"""


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
        env=environment(),
        input=stdin,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT if merged else subprocess.PIPE,
        timeout=TIME_LIMIT_S,
        check=False,
    )
    return Outcome(readable(done.stdout), (done.stderr or b"").decode(), done.returncode)


def start_eggfold(
    args: Sequence[str], cwd: Path, *, stdin: bytes = b"", merged: bool = False
) -> Outcome:
    """Run the program in a folder, in a process of its own; where it can be forked, sooner there."""
    if not hasattr(os, "fork"):
        return run_python("-m", "eggfold", *args, cwd=cwd, stdin=stdin, merged=merged)
    server = _fork_server()
    with TemporaryDirectory() as folder:
        streams = [Path(folder, name) for name in ("stdin", "stdout", "stderr")]
        for stream, data in zip(streams, (stdin, b"", b""), strict=True):
            stream.write_bytes(data)
        into = [streams[0], streams[1], streams[1 if merged else 2]]
        wanted = {
            "args": list(args),
            "folder": str(cwd),
            "environment": environment(),
            "streams": [str(stream) for stream in into],
        }
        assert server.stdin is not None
        assert server.stdout is not None
        server.stdin.write(json.dumps(wanted) + "\n")
        server.stdin.flush()
        code = int(server.stdout.readline())
        return Outcome(readable(streams[1].read_bytes()), streams[2].read_text("utf-8"), code)


@cache
def _fork_server() -> subprocess.Popen[str]:
    """Start the process whose forks are the runs; it ends with the tests, as its input does."""
    server = subprocess.Popen(
        [sys.executable, str(TESTS / "fork_server.py")],
        env=environment(),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    atexit.register(server.communicate)  # closes its input and waits
    return server


def run_eggfold(args: Sequence[str], cwd: Path, *, stdin: bytes = b"") -> Outcome:
    """Run the program in a folder, in this process: what it prints is the same, and sooner there."""
    given, out, err = (
        TextIOWrapper(BytesIO(data), "utf-8", newline="") for data in (stdin, b"", b"")
    )
    with (
        chdir(cwd),
        patch.dict(os.environ, FIXED),
        patch.multiple(sys, stdin=given, stdout=out, stderr=err),
    ):
        code = run(list(args))
    stdout, stderr = (written(stream) for stream in (out, err))
    return Outcome(readable(stdout), stderr.decode(), code)


def written(stream: TextIOWrapper) -> bytes:
    stream.flush()
    buffer = stream.detach()
    assert isinstance(buffer, BytesIO)
    return buffer.getvalue()


def readable(output: bytes) -> str:
    """Return what a reader sees: the text itself, or that of a PDF."""
    if not output.startswith(b"%PDF"):
        return output.decode()
    from pypdf import PdfReader  # noqa: PLC0415 - few runs print one

    sheets = PdfReader(BytesIO(output)).pages
    return "".join(f"{sheet.extract_text()}\n" for sheet in sheets)


def copy_recipes(folder: Path, *, outings: bool = False) -> None:
    """Put a copy of the demo recipes into a folder, where asked with a notebook of outings."""
    shutil.copytree(RECIPES, folder / "recipes")
    if outings:
        (folder / "recipes" / "notebook.yaml").write_text(OUTINGS, encoding="utf-8")


def environment() -> dict[str, str]:
    """Return what a child runs with."""
    # The child runs the package that these tests import, wherever that is installed.
    package = str(Path(eggfold.__file__).resolve().parents[1])
    return os.environ | FIXED | {"PYTHONUTF8": "1", "PYTHONPATH": package}
