"""A moment said with ``--now``: a time of the day that is under way, or a day and a time."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from plan_files import lay_out
from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """\
start: 2027-03-27 09:00
days: 2
hours: 9 h
bowls: {recipe: osierfen-caraway, eggs: 3}
"""


@pytest.mark.parametrize(
    ("now", "begins"),
    [
        ("14:20", "2027-03-27T14:20"),
        ("2027-03-27 14:20", "2027-03-27T14:20"),
        ("2027-03-28 10:05", "2027-03-28T10:05"),
        ("2027-03-28 07:00", "2027-03-28T09:00"),  # that day has not begun
    ],
)
def test_what_is_left_begins_now(tmp_path: Path, now: str, begins: str) -> None:
    lay_out(tmp_path)
    (tmp_path / "day.yaml").write_text(PLAN, "utf-8")
    outcome = run_eggfold(["rolling", "day.yaml", "--now", now, "--format", "json"], tmp_path)
    assert outcome.exit == 0, outcome.stderr
    assert json.loads(outcome.stdout)["steps"][0]["start"].startswith(begins)


@pytest.mark.parametrize("now", ["2027-03-27", "25:00", "2027-03-27 25:00", "soon"])
def test_what_is_no_moment_is_refused(tmp_path: Path, now: str) -> None:
    lay_out(tmp_path)
    (tmp_path / "day.yaml").write_text(PLAN, "utf-8")
    outcome = run_eggfold(["rolling", "day.yaml", "--now", now], tmp_path)
    assert outcome.exit == 2
    assert "--now" in outcome.stderr
