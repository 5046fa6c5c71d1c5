"""The starter folder: works at once in every system of units, and overwrites nothing."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from running import run_eggfold

EGGS = ["eu-small", "us-large", "52g"]


@pytest.mark.parametrize("units", ["metric", "imperial", "us"])
def test_the_starter_works_at_once(units: str, tmp_path: Path) -> None:
    made = run_eggfold(["new", "start", "--units", units], tmp_path)
    assert made.exit == 0
    command = made.stdout.splitlines()[-1].removeprefix("Now type: eggfold ")
    answered = run_eggfold([*command.split(), "--format", "json"], tmp_path)
    assert answered.exit == 0, answered.stderr
    assert command.partition(" --units ")[2] == ("" if units == "metric" else units)
    powder = json.loads(answered.stdout)["batches"][0]["powder"]
    assert powder["base_mix_g"] == pytest.approx(130, rel=0.01)
    assert run_eggfold(["check", "start"], tmp_path).exit == 0


@pytest.mark.parametrize("egg", EGGS)
def test_the_eggs_are_the_users(egg: str, tmp_path: Path) -> None:
    assert run_eggfold(["new", "start", "--egg", egg], tmp_path).exit == 0
    answered = run_eggfold(["batch", "start/trial.yaml", "--format", "json"], tmp_path)
    asked = run_eggfold(["batch", "start/trial.yaml", "--egg", egg, "--format", "json"], tmp_path)
    each = [json.loads(o.stdout)["batches"][0]["eggs"]["each_g"] for o in (answered, asked)]
    assert each[0] == each[1]


def test_a_folder_with_anything_in_it_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "start").mkdir()
    (tmp_path / "start" / "mine.txt").write_text("mine", "utf-8")
    outcome = run_eggfold(["new", "start"], tmp_path)
    assert outcome.exit == 4
    assert "not empty" in outcome.stderr
    assert [p.name for p in (tmp_path / "start").iterdir()] == ["mine.txt"]


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    (tmp_path / "start").mkdir()
    assert run_eggfold(["new", "start"], tmp_path).exit == 0


@pytest.mark.parametrize(("name", "missing"), [("no/such", "no"), ("no/such/deeper", "no/such")])
def test_a_place_that_is_not_there_is_named(name: str, missing: str, tmp_path: Path) -> None:
    outcome = run_eggfold(["new", name], tmp_path)
    assert outcome.exit == 4
    assert outcome.stderr.startswith(f"eggfold: {missing}: ")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("units", ["metric", "imperial", "us"])
def test_the_plans_of_the_starter_have_answers(units: str, tmp_path: Path) -> None:
    assert run_eggfold(["new", "start", "--units", units], tmp_path).exit == 0
    for args in (["rolling", "start/weekend.yaml"], ["campaign", "start/season.yaml"]):
        outcome = run_eggfold(args, tmp_path)
        assert outcome.exit == 0, outcome.stderr


def test_the_starters_shelf_is_empty_until_something_is_bought(tmp_path: Path) -> None:
    assert run_eggfold(["new", "start"], tmp_path).exit == 0
    card = json.loads(run_eggfold(["batch", "start/trial", "--format", "json"], tmp_path).stdout)
    assert {item["in_hand"] for item in card["shopping"]} == {None}
    bought = ["note", "bought", "First base mix", "5kg", "--shelf", "start/shelf.yaml"]
    assert run_eggfold(bought, tmp_path).exit == 0
    assert run_eggfold(["check", "start"], tmp_path).stdout.endswith("0 errors, 0 warnings\n")


def test_the_lines_to_edit_first_are_there(tmp_path: Path) -> None:
    told = run_eggfold(["new", "start"], tmp_path).stdout
    places = re.findall(r"(?m)^  ([a-z]+\.yaml):([0-9]+)  (.+?)  ", told)
    assert len(places) == 3
    for name, line, text in places:
        lines = (tmp_path / "start" / name).read_text("utf-8").splitlines()
        assert text in lines[int(line) - 1]


@pytest.mark.parametrize("units", ["metric", "imperial", "us"])
def test_every_remark_that_is_an_entry_can_be_used(units: str, tmp_path: Path) -> None:
    assert run_eggfold(["new", "start", "--units", units], tmp_path).exit == 0
    for name in ("bench", "additives", "trial"):
        file = tmp_path / "start" / f"{name}.yaml"
        text = file.read_text("utf-8")
        used = re.sub(r"(?m)^( *)# ([ -]*[a-z]+: \S.*)$", r"\1\2", text)
        assert used != text
        file.write_text(used, "utf-8")
    outcome = run_eggfold(["check", "start"], tmp_path)
    assert (outcome.exit, "0 errors" in outcome.stdout) == (0, True), outcome.stdout
