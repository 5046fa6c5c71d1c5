"""Whole runs compared with what they printed before: a case is a folder.

A case holds ``args`` (one line, as typed behind ``eggfold``), what the run must leave (``stdout``,
``stderr``, ``exit``), and files of its own, one of them ``stdin`` if it reads that. It runs in a
copy of itself, with a copy of the demo ``recipes`` beside. ``--update-golden`` writes the three.
"""

from __future__ import annotations

import csv
import json
import math
import shlex
import shutil
from io import StringIO
from typing import TYPE_CHECKING, Any

import pytest

from running import TESTS, Outcome, copy_recipes, start_eggfold

if TYPE_CHECKING:
    from pathlib import Path

CASES = sorted(path.parent for path in TESTS.glob("golden/*/args"))
RESULTS = ("stdout", "stderr", "exit")
SAME = 1e-12
"""JSON and CSV are unrounded, and from Python 3.12 on sum() adds floats more exactly: last digits differ."""


def run_case(case: Path, folder: Path) -> Outcome:
    shutil.copytree(case, folder, ignore=shutil.ignore_patterns("args", *RESULTS))
    copy_recipes(folder)
    stdin = case / "stdin"
    args = shlex.split((case / "args").read_text(encoding="utf-8"))
    return start_eggfold(args, folder, stdin=stdin.read_bytes() if stdin.exists() else b"")


def expected(case: Path) -> Outcome:
    stdout, stderr, exit_code = ((case / name).read_bytes().decode() for name in RESULTS)
    return Outcome(stdout, stderr, int(exit_code))


def update(case: Path, outcome: Outcome) -> None:
    for name, value in zip(RESULTS, (*outcome[:2], f"{outcome.exit}\n"), strict=True):
        (case / name).write_bytes(value.encode())


def test_there_are_cases() -> None:
    assert CASES


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_golden(case: Path, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    outcome = run_case(case, tmp_path / "run")
    if request.config.getoption("--update-golden"):
        update(case, outcome)
    wanted = expected(case)
    if (data := unrounded(wanted.stdout)) is not None:
        assert alike(unrounded(outcome.stdout), data), outcome.stdout
        wanted = wanted._replace(stdout=outcome.stdout)
    assert outcome == wanted


def unrounded(text: str) -> Any:
    """Return what JSON or CSV holds; None of a page, which is compared as it stands."""
    if text.startswith("{"):
        return json.loads(text)
    if text.startswith("page,section,item,figure,value,unit\r\n"):
        return [[read_cell(cell) for cell in row] for row in csv.reader(StringIO(text))]
    return None


def read_cell(cell: str) -> str | float:
    try:
        return float(cell) if "." in cell else cell
    except ValueError:
        return cell


def alike(one: Any, other: Any) -> bool:
    """Tell whether two values of JSON are the same but for the last digits of a number."""
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=SAME)
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(alike(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(alike, one, other))
    return type(one) is type(other) and bool(one == other)


@pytest.mark.parametrize("other", [1.0 + 1e-9, 1, "1.0", [1.0], None])
def test_what_differs_is_seen(other: object) -> None:
    assert alike({"a": [1.0]}, {"a": [1.0 + 1e-15]})
    assert not alike({"a": [1.0]}, {"a": [other]})
    assert not alike({"a": 1, "b": 2}, {"b": 2, "a": 1})


def test_a_cell_that_differs_is_seen() -> None:
    table = "page,section,item,figure,value,unit\r\nReed,paste,,mass,{},g\r\n"
    assert alike(unrounded(table.format("1.5000000000000002")), unrounded(table.format("1.5")))
    for other in ("1.500001", "1", "", "1.5 g"):
        assert not alike(unrounded(table.format(other)), unrounded(table.format("1.5")))
