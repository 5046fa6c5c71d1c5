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
