"""Baits that were cut open: they move the times of their mix, and can be taken back."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from running import copy_recipes, run_eggfold

CARAWAY = "recipes/osierfen-caraway.yaml"
CUT = ("note", "cut", CARAWAY, "--as", "freebie", "--diameter", "20mm")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    copy_recipes(tmp_path)
    return tmp_path


def boil_of(folder: Path, *more: str) -> dict[str, Any]:
    args = ["batch", CARAWAY, "--as", "freebie", "--eggs", "6", "--format", "json", *more]
    (batch,) = json.loads(run_eggfold(args, folder).stdout)["batches"]
    boil: dict[str, Any] = batch["baits"][0]["boil"]
    return boil


@pytest.mark.parametrize(("looked", "longer"), [("--raw", True), ("--set", False)])
def test_what_was_seen_moves_the_time_and_narrows_its_range(
    folder: Path, looked: str, *, longer: bool
) -> None:
    before = boil_of(folder)
    assert run_eggfold([*CUT, "--after", "90s", looked], folder).exit == 0
    after = boil_of(folder)
    assert (after["seconds"] > before["seconds"]) == longer

    def width(boil: dict[str, Any]) -> float:
        return float((boil["high_s"] - boil["low_s"]) / boil["worked_s"])

    assert width(after) < width(before)
    assert boil_of(folder, "--without-notes") == before


def test_a_cut_of_another_mix_teaches_this_one_nothing(folder: Path) -> None:
    before = boil_of(folder)
    other = ("note", "cut", "recipes/osierfen-millet.yaml", "--diameter", "20mm")
    assert run_eggfold([*other, "--after", "90s", "--raw"], folder).exit == 0
    assert boil_of(folder) == before


def test_an_undone_cut_leaves_the_notebook_as_it_was(folder: Path) -> None:
    notebook = folder / "recipes" / "notebook.yaml"
    assert run_eggfold([*CUT, "--after", "100s", "--raw"], folder).exit == 0
    once = notebook.read_bytes()
    assert run_eggfold([*CUT, "--after", "2 min", "--set", "--start", "5degC"], folder).exit == 0
    undo = ["note", "cut", "--undo", "--notebook", "recipes/notebook.yaml"]
    assert run_eggfold(undo, folder).exit == 0
    assert notebook.read_bytes() == once


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--after", "100s"), "--raw or --set"),
        (("--after", "100s", "--raw", "--set"), "--raw or --set"),
        (("--raw",), "--after is missing"),
        (("--after", "100", "--raw"), "no unit"),
        (("--after", "100s", "--raw", "--altitude", "9000m"), "above what is possible"),
    ],
)
def test_what_cannot_be_noted_is_refused(folder: Path, more: tuple[str, ...], says: str) -> None:
    outcome = run_eggfold([*CUT, *more], folder)
    assert outcome.exit == 2
    assert says in outcome.stderr
    assert not (folder / "recipes" / "notebook.yaml").exists()
