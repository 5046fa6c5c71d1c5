"""A workspace is complete when it is made: what it says does not depend on when, or how often, it is asked."""

from __future__ import annotations

from eggfold.load.workspace import Chosen, open_workspace
from running import TESTS

FILES = TESTS / "problems" / "two-densities"


def test_asking_twice_tells_the_same() -> None:
    workspace = open_workspace([str(FILES)], Chosen(stocked=True))
    before = workspace.findings.problems
    first, second = (
        [problem.code for one in workspace.recipes()[0] for problem in one.problems] for _ in "12"
    )
    assert "two-densities" in first
    assert first == second
    assert workspace.findings.problems == before


def test_companions_and_what_is_no_recipe_are_known_before_a_recipe_is_opened() -> None:
    workspace = open_workspace([str(FILES), str(FILES / "gone*.yaml")], Chosen(stocked=True))
    assert workspace.candidates == (str(FILES / "recipe.yaml"),)
    assert workspace.companions.shelf
    assert [failure.exit_code for failure in workspace.findings.failures] == [4]
