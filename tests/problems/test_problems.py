"""One bad file for each problem code: a case is a folder named after the code.

A case holds the files and ``expected``, a line ``FILE:LINE:COLUMN code`` for each problem. Files
too large to keep are made here.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path, PurePath

import pytest

from running import TESTS, run_eggfold

CASES = sorted(path.parent for path in TESTS.glob("problems/*/expected"))

MADE = {
    "too-large": "# filler\n" * 130_000,
    "too-many-nodes": "name: Reeds\nnotes: [" + "x, " * 20_000 + "x]\n",
    "more-problems": "name: Reeds\nbase_mix: Reed mix\n"
    + "".join(f"k{i}: 1\n" for i in range(1002)),
    "too-deep": "name: Reeds\nnotes: " + "[" * 60 + "]" * 60 + "\n",
}


def copy_case(case: Path, folder: Path) -> None:
    shutil.copytree(case, folder, ignore=shutil.ignore_patterns("expected"))
    if case.name in MADE:
        (folder / "recipe.yaml").write_text(MADE[case.name], encoding="utf-8")


def found_lines(stdout: str) -> list[str]:
    return [
        f"{PurePath(p['file']).name}:{p['line']}:{p['column']} {p['code']}"
        for p in json.loads(stdout)["problems"]
    ]


def test_there_are_cases() -> None:
    assert CASES


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_problem_is_found_at_its_place(case: Path, tmp_path: Path) -> None:
    copy_case(case, tmp_path / "case")
    outcome = run_eggfold(["check", "case", "--format", "json"], tmp_path)
    severities = {p["severity"] for p in json.loads(outcome.stdout)["problems"]}
    assert found_lines(outcome.stdout) == (case / "expected").read_text("utf-8").splitlines()
    assert outcome.exit == ("error" in severities)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_case_shows_the_code_it_is_named_after(case: Path) -> None:
    lines = (case / "expected").read_text("utf-8").splitlines()
    assert case.name in {line.split()[-1] for line in lines}
