"""How far a card trusts notes that agree and that disagree, and where it says so."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from eggfold.__main__ import run

if TYPE_CHECKING:
    from pathlib import Path

RECIPE = "name: Reed\nbase_mix: {name: Reed mix, amount: 130 g}\neggs: {liquid: 60 g}\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def weigh(folder: Path, *after_g: int) -> None:
    entries = "".join(
        f"  - {{date: 2025-01-{day:02}, recipe: Reed, strength: hookbait, eggs: 1, before: 2 kg, "
        f"after: {g} g}}\n"
        for day, g in enumerate(after_g, 1)
    )
    (folder / "notebook.yaml").write_text(f"weighed:\n{entries}", encoding="utf-8")


def card(capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    assert run(["batch", "reed.yaml", "--format", "json"]) == 0
    (batch,) = json.loads(capsys.readouterr().out)["batches"]
    return dict(batch)


def width(batch: dict[str, Any]) -> float:
    powder = batch["powder"]
    return float((powder["high_g"] - powder["low_g"]) / powder["expected_g"])


def test_a_range_narrows_while_bowls_agree_and_widens_when_they_do_not(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = width(card(capsys))
    weigh(folder, 1868, 1872, 1865, 1869, 1868, 1871)
    agreeing = width(card(capsys))
    weigh(folder, 1868, 1840, 1890, 1869, 1900, 1835)
    apart = width(card(capsys))
    assert agreeing < before < apart


def test_the_card_says_how_many_bowls_and_how_much_they_scatter(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    weigh(folder, 1868)
    assert run(["batch", "reed.yaml"]) == 0
    assert "1 bowl weighed; trial's bag 130 g" in capsys.readouterr().out
    weigh(folder, 1868, 1840, 1890, 1869)
    assert run(["batch", "reed.yaml"]) == 0
    assert "4 bowls weighed, they scatter 11 %; trial's" in capsys.readouterr().out


def test_a_note_far_off_stands_at_the_top_of_the_card(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    weigh(folder, 1868, 1872, 1090)
    assert run(["batch", "reed.yaml"]) == 0
    first, care = capsys.readouterr().out.split("TAKE CARE")
    assert first.splitlines()[2].startswith("! Notebook, line 4, 2025-01-03: 15.2, the others say")
    assert "Notebook, line 4, 2025-01-03: 15.2" in care


def test_at_most_three_notes_far_off_are_named(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good = [1868, 1872, 1870, 1869, 1871, 1866]
    weigh(folder, *good, 1090, 500, 700, 900, *good, *good, *good)
    assert run(["batch", "reed.yaml"]) == 0
    top = capsys.readouterr().out.split("\nBOWL")[0]
    assert top.count("! Notebook") == 3
    assert "not 1 bowl in 1000 lies so far off" in " ".join(top.split())
