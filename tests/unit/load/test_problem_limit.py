"""A file with more problems than anybody reads: the first are told, and that there are more."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from eggfold.errors import Problem, Severity
from eggfold.load import notebook, reading
from eggfold.load.gate import MOST_TOLD, shown_problems
from eggfold.load.reading import Reading, read_model
from running import run_eggfold


def problems(file: str, count: int, severity: Severity = "error") -> list[Problem]:
    return [Problem(file, line, 1, "no-unit", severity, "no unit") for line in range(1, count + 1)]


def test_as_many_as_are_told_are_all_told() -> None:
    found = [*problems("a", MOST_TOLD), *problems("b", MOST_TOLD)]
    assert shown_problems(found) == found


def test_each_file_ends_with_where_the_others_begin() -> None:
    first, second = problems("a", MOST_TOLD + 5), problems("b", 2)
    *shown, last, one, two = shown_problems([*first, *second])
    assert [*shown, one, two] == [*first[:MOST_TOLD], *second]
    assert (last.file, last.line, last.code) == ("a", MOST_TOLD + 1, "more-problems")


@pytest.mark.parametrize("severity", ["error", "warning"])
def test_the_last_is_an_error_where_one_is_hidden(severity: Severity) -> None:
    warnings = problems("a", MOST_TOLD + 1, "warning")
    hidden = Problem("a", MOST_TOLD + 9, 1, "no-unit", severity, "no unit")
    assert shown_problems([*warnings, hidden])[-1].severity == severity


ENTRIES = {
    "nothing": "fished:\n" + "  - {}\n" * 3000,
    "texts": "fished:\n" + "  - a\n" * 3000,
    "unknown keys": "".join(f"fishd{i}: 3\n" for i in range(3000)),
    "to come": "fished:\n"
    + "  - {date: 2095-05-02, recipe: Reed, rods: 3, hours: 8, takes: 1}\n" * 3000,
}


@pytest.mark.parametrize("text", ENTRIES.values(), ids=ENTRIES.keys())
def test_a_notebook_of_faults_is_read_no_further_than_it_is_told(tmp_path: Path, text: str) -> None:
    (tmp_path / "notebook.yaml").write_text(text, "utf-8")
    outcome = run_eggfold(["check", "notebook.yaml", "--format", "json"], tmp_path)
    found = json.loads(outcome.stdout)["problems"]
    assert outcome.exit == 1
    assert len(found) == MOST_TOLD + 1
    assert [p["code"] for p in found].index("more-problems") == MOST_TOLD


def test_no_entry_is_read_behind_the_last_that_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    read = []

    def counted(*args: Any) -> Reading[Any]:
        read.append(args)
        return read_model(*args)

    monkeypatch.setattr(reading, "read_model", counted)
    file = tmp_path / "notebook.yaml"
    file.write_text(ENTRIES["nothing"], "utf-8")
    _, found = notebook.open_notebook(str(file))
    assert len(found) > MOST_TOLD
    assert len(read) <= MOST_TOLD
