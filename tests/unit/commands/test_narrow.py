"""A terminal of a narrow code page gets stand-ins, whichever command writes to it."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from eggfold.commands.root import SUMMARIES
from running import ROOT

CARAWAY = "recipes/osierfen-caraway.yaml"
RUNS = {
    "batch": ("batch", CARAWAY, "--why"),
    "shopping": ("shopping", "recipes", "--as", "freebie", "--eggs", "24"),
    "doses": ("doses", CARAWAY),
    "boil": ("boil", "--core", "10mm", "--diameter", "15mm", "--why"),
    "buoyancy": ("buoyancy", "--core", "12mm", "--skin", "2mm", "--why"),
    "powder": ("powder", "recipes/osierfen-millet.yaml", "--why"),
    "labels": ("labels", CARAWAY),
    "shelf": ("shelf", "recipes"),
    "note": (
        "note",
        "bought",
        "Caraway honey flavour",
        "10ml",
        "--shelf",
        "recipes/shelf.yaml",
        "--dry-run",
    ),
    "trials": ("trials", "--help"),
    "rolling": ("rolling", "recipes/weekend.yaml"),
    "campaign": ("campaign", "recipes/season.yaml", "--date", "2026-01-01"),
    "check": ("check", "recipes"),
    "new": ("new", "--help"),
    "schema": ("schema", "recipe"),
}


def narrow(encoding: str, *args: str) -> subprocess.CompletedProcess[bytes]:
    """Run the program under the plainest locale, with streams of an encoding."""
    plain = {"LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    return subprocess.run(
        [sys.executable, "-m", "eggfold", *args],
        cwd=ROOT,
        env={**os.environ, **plain, "PYTHONIOENCODING": encoding},
        capture_output=True,
        check=False,
    )


def test_every_command_is_run() -> None:
    assert RUNS.keys() == SUMMARIES.keys()


@pytest.mark.parametrize("command", RUNS)
def test_ascii_gets_every_answer(command: str) -> None:
    done = narrow("ascii", *RUNS[command])
    assert done.returncode == 0, done.stderr
    assert done.stdout.isascii()
    assert done.stdout.strip()


def test_a_code_page_gets_what_it_has() -> None:
    done = narrow("cp437", *RUNS["buoyancy"])
    assert done.returncode == 0
    assert "°".encode("cp437") in done.stdout


def test_an_error_finds_its_way_too() -> None:
    done = narrow("ascii", "batch", "köder.yaml")
    assert done.returncode == 4
    assert b"Traceback" not in done.stderr
    assert b"fault in the program" not in done.stderr
