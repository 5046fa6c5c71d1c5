"""A folder's companions are no news; what was named, and plans, are told of when passed over."""

from __future__ import annotations

from pathlib import Path

import pytest

from eggfold.load.workspace import Chosen, open_workspace
from running import RECIPES


def told(*arguments: str) -> list[str]:
    """Return the names of the files that were told of."""
    recipes, findings = open_workspace(arguments, Chosen()).recipes()
    assert len(recipes) == 5
    return sorted(Path(note.partition(": skipped")[0]).name for note in findings.notes)


def test_a_folder_tells_of_its_plans_alone() -> None:
    assert told(str(RECIPES)) == ["season.yaml", "weekend.yaml"]


@pytest.mark.parametrize("name", ["additives.yaml", "shelf.yaml"])
def test_a_companion_that_is_named_is_told_of(name: str) -> None:
    assert told(str(RECIPES), str(RECIPES / name)) == sorted([name, "season.yaml", "weekend.yaml"])
