"""How often one slip counts."""

from __future__ import annotations

from pathlib import Path

import pytest

from running import run_eggfold

SLIP = "additives:\n  Reed oil: {form: oyl, hookbait: 1 ml per egg}\n"
RECIPE = "name: T\nbase_mix: M\nadditives: [Reed oil]\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "additives.yaml").write_text(SLIP, encoding="utf-8")
    for name in ("a", "b", "c"):
        (tmp_path / f"{name}.yaml").write_text(RECIPE, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(("args", "uses"), [([], 3), (["a.yaml"], 1)])
def test_a_slip_in_the_register_is_one_error_however_many_recipes_use_it(
    args: list[str], uses: int, folder: Path
) -> None:
    outcome = run_eggfold(["check", *(args or ["."])], folder)
    assert outcome.stdout.count("[broken-additive]") == uses
    assert ", 1 error, " in outcome.stdout
    assert outcome.exit == 1


def test_a_recipe_that_uses_it_is_not_answered(folder: Path) -> None:
    outcome = run_eggfold(["batch", "a.yaml"], folder)
    assert (outcome.exit, outcome.stdout) == (1, "")
    assert "[broken-additive]" in outcome.stderr


@pytest.fixture
def two_places(tmp_path: Path) -> Path:
    """Return two folders, each with a recipe, and a register of its own for it."""
    for place, form in (("north", "oil"), ("south", "oyl")):
        (tmp_path / place).mkdir()
        (tmp_path / place / "a.yaml").write_text(RECIPE, encoding="utf-8")
        register = SLIP.replace("oyl", form)
        (tmp_path / place / "additives.yaml").write_text(register, encoding="utf-8")
    return tmp_path


def test_each_file_is_looked_at_with_what_lies_beside_it(two_places: Path) -> None:
    outcome = run_eggfold(["check", "north", "south"], two_places)
    assert outcome.stdout.count("[broken-additive]") == 1
    assert outcome.stdout.endswith("4 files, 1 error, 2 warnings\n")


def test_a_file_that_is_not_there_hides_no_other(two_places: Path) -> None:
    outcome = run_eggfold(["check", "north", "west/*.yaml", "south"], two_places)
    assert outcome.stdout.endswith("4 files, 1 error, 2 warnings\n")
    assert (outcome.stderr, outcome.exit) == ("eggfold: west/*.yaml: no file is named so\n", 4)
