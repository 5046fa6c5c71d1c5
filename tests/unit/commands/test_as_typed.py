"""Commands as people type them: short options, near misses, files without their ending."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def recipes(tmp_path: Path) -> Path:
    copy_recipes(tmp_path)
    return tmp_path / "recipes"


@pytest.mark.parametrize(
    ("args", "hint"),
    [
        (["init"], "Type: eggfold new"),
        (["weekend"], "Type: eggfold rolling"),
        (["Season"], "Type: eggfold campaign"),
        (["batch", "x", "--json"], "It is --format json here."),
        (["boil", "--size", "14mm"], "It is --diameter here."),
        (["batch", "x", "--freebie"], "It is --as freebie here."),
    ],
)
def test_a_near_miss_names_what_is_meant(args: list[str], hint: str, tmp_path: Path) -> None:
    outcome = run_eggfold(args, tmp_path)
    assert outcome.exit == 2
    assert hint in outcome.stderr


def test_help_shows_what_the_option_shows(tmp_path: Path) -> None:
    assert run_eggfold(["help"], tmp_path).stdout == run_eggfold(["--help"], tmp_path).stdout
    asked = run_eggfold(["help", "boil"], tmp_path).stdout
    assert asked == run_eggfold(["boil", "--help"], tmp_path).stdout
    assert (
        "eggfold note bought [OPTIONS]" in run_eggfold(["help", "note", "bought"], tmp_path).stdout
    )
    assert run_eggfold(["help", "nothing-like-it"], tmp_path).exit == 2
    assert run_eggfold(["-V"], tmp_path) == run_eggfold(["--version"], tmp_path)


@pytest.mark.parametrize("name", ["osierfen-caraway", "Osierfen Caraway", "osierfen  caraway"])
def test_a_recipe_goes_by_its_file_or_its_name(name: str, recipes: Path) -> None:
    named = run_eggfold(["batch", name, "--format", "csv"], recipes)
    assert named == run_eggfold(["batch", "osierfen-caraway.yaml", "--format", "csv"], recipes)
    assert named.exit == 0


def test_a_name_that_two_recipes_have_is_refused_with_both_files(recipes: Path) -> None:
    text = (recipes / "osierfen-caraway.yaml").read_text("utf-8")
    (recipes / "second.yaml").write_text(text, "utf-8")
    outcome = run_eggfold(["batch", "Osierfen Caraway"], recipes)
    assert outcome.exit == 1
    assert "osierfen-caraway.yaml and second.yaml" in outcome.stderr


@pytest.mark.parametrize("args", [["check"], ["batch", "--as", "freebie", "--eggs", "6"]])
def test_without_a_file_the_working_folder_is_meant(args: list[str], recipes: Path) -> None:
    outcome = run_eggfold(args, recipes)
    assert outcome.exit == 0
    assert outcome.stdout == run_eggfold([args[0], ".", *args[1:]], recipes).stdout


def test_quiet_leaves_out_what_is_no_problem(recipes: Path) -> None:
    (recipes / "bad.yaml").write_text("name: Bad\n", "utf-8")
    args = ["batch", ".", "--as", "freebie", "-o", "cards/"]
    loud, quiet = run_eggfold(args, recipes), run_eggfold([*args, "-q", "--force"], recipes)
    assert "wrote 6 files into cards" in loud.stderr
    assert "[missing-key]" in quiet.stderr
    assert "wrote" not in quiet.stderr
    assert "passed over" not in quiet.stderr


def test_the_name_of_a_card_is_the_same_from_day_to_day(recipes: Path) -> None:
    for eggs in ("6", "7"):
        args = ["batch", "osierfen-caraway", "--as", "freebie", "--eggs", eggs, "-o", "cards/"]
        assert run_eggfold([*args, "--force"], recipes).exit == 0
    assert [path.name for path in (recipes / "cards").iterdir()] == ["osierfen-caraway-freebie.txt"]


def test_a_list_names_the_recipe_that_is_not_on_it(recipes: Path) -> None:
    (recipes / "bad.yaml").write_text("name: Bad\n", "utf-8")
    outcome = run_eggfold(["shopping", ".", "--as", "freebie", "--eggs", "6"], recipes)
    assert "Not on this list, because it could not be worked out: bad.yaml." in outcome.stdout
    told = run_eggfold(["shopping", ".", "--as", "freebie", "--format", "json"], recipes).stdout
    assert json.loads(told)["missing"] == ["bad.yaml"]


def test_a_plan_goes_by_its_file_without_the_ending(recipes: Path) -> None:
    assert run_eggfold(["rolling", "weekend"], recipes).stdout.startswith("Osierfen")
    assert run_eggfold(["campaign", "season"], recipes).stdout.startswith("Osierfen")


def test_trials_without_a_recipe_take_the_working_recipes(recipes: Path) -> None:
    here = run_eggfold(["trials"], recipes)
    assert here == run_eggfold(["trials", "."], recipes)
