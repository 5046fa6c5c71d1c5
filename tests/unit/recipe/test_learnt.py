"""How far a card trusts notes that disagree, and where it says so."""

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
        f"  - {{date: 2025-01-0{day}, recipe: Reed, strength: hookbait, eggs: 1, before: 2 kg, "
        f"after: {g} g}}\n"
        for day, g in enumerate(after_g, 1)
    )
    (folder / "notebook.yaml").write_text(f"weighed:\n{entries}", encoding="utf-8")


def card(capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    assert run(["batch", "reed.yaml", "--format", "json"]) == 0
    (batch,) = json.loads(capsys.readouterr().out)["batches"]
    return dict(batch)


def test_a_slip_widens_the_powder_as_far_as_the_notes_lie_apart(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    weigh(folder, 1868, 1872, 1090)  # 132 g, 128 g, and seven times as much
    powder = card(capsys)["powder"]
    assert powder["low_g"] < 132
    assert powder["high_g"] > 600
    assert run(["batch", "reed.yaml", "--why"]) == 0
    page = " ".join(capsys.readouterr().out.split())
    assert "sd × spread (Birge ratio)" in page
    assert "doubt where notes disagree" in page


def test_notes_that_agree_widen_nothing(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    weigh(folder, 1868, 1872, 1865)
    powder = card(capsys)["powder"]
    assert powder["high_g"] - powder["low_g"] < 28  # 1.645 times 5 % of 130 g, either way
    assert run(["batch", "reed.yaml", "--why"]) == 0
    assert "Birge" not in capsys.readouterr().out


def test_a_note_far_off_stands_at_the_top_of_the_card(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    weigh(folder, 1868, 1872, 1090)
    assert run(["batch", "reed.yaml"]) == 0
    first, care = capsys.readouterr().out.split("TAKE CARE")
    assert first.startswith("!! Notebook, line 4, 2025-01-03: 15.2, the others say")
    assert "Notebook, line 4, 2025-01-03: 15.2" in care


def test_of_many_notes_far_off_the_first_stand_at_the_top(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    weigh(folder, 1868, 1872, 1090, 1990, 500, 1100, 1870, 1869, 1871)
    assert run(["batch", "reed.yaml"]) == 0
    top = capsys.readouterr().out.split("HOOKBAIT")[0]
    assert top.count("!! Notebook") == 3
    assert "!! 1 more note far off the others: see TAKE CARE." in top
