"""Arguments that mean nothing, or something else than the command takes."""

from __future__ import annotations

from pathlib import Path

import pytest

from running import copy_recipes, run_eggfold

RECIPE = "recipes/osierfen-caraway.yaml"


@pytest.mark.parametrize("option", ["--bait", "--powder"])
def test_a_mass_without_a_unit_may_be_kilograms_or_grams(option: str, tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    outcome = run_eggfold(["batch", RECIPE, "--as", "freebie", option, "4"], tmp_path)
    assert outcome.exit == 2
    assert outcome.stderr.rstrip().endswith("try: 4 kg or 4 g")


@pytest.mark.parametrize(
    "args",
    [
        ["batch", ""],
        ["check", ""],
        ["rolling", ""],
        ["boil", "--recipe", ""],
        ["batch", RECIPE, "--shelf", ""],
        ["batch", RECIPE, "--output", ""],
    ],
)
def test_an_empty_name_is_not_the_working_folder(args: list[str], tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    before = sorted(tmp_path.rglob("*"))
    outcome = run_eggfold(args, tmp_path)
    assert (outcome.exit, outcome.stdout) == (2, "")
    assert "is empty" in outcome.stderr
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize(
    ("plan", "command"), [("weekend.yaml", "rolling"), ("season.yaml", "campaign")]
)
def test_a_plan_alone_is_told_its_command(plan: str, command: str, tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    outcome = run_eggfold(["batch", f"recipes/{plan}"], tmp_path)
    assert outcome.exit == 2
    assert outcome.stderr.endswith(f": eggfold {command} recipes/{plan}\n")
    assert run_eggfold([command, f"recipes/{plan}"], tmp_path).exit in (0, 3)


def test_one_egg_is_one_egg_however_it_is_written(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    args = ["note", "rolled", "recipes/osierfen-caraway.yaml", "--dry-run", "--eggs"]
    plain, padded = (run_eggfold([*args, eggs], tmp_path) for eggs in ("1", "01"))
    assert plain == padded
    assert plain.exit == 0
