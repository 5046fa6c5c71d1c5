"""What a card says at its top of a trial or of doses that are hardly meant."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.__main__ import run

if TYPE_CHECKING:
    from pathlib import Path


def top_of_card(
    amount: str, dose: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> tuple[str, str]:
    file = folder / "reed.yaml"
    file.write_text(
        f"name: Reed\nbase_mix: {{name: Reed mix, amount: {amount}}}\n"
        f"additives: [{{name: Syrup, form: liquid, hookbait: {dose}, freebie: none}}]\n",
        encoding="utf-8",
    )
    assert run(["batch", str(file), "--date", "2026-01-01"]) == 0
    top, rest = capsys.readouterr().out.split("\nBOWL")
    return " ".join(top.split()), " ".join(rest.split())


@pytest.mark.parametrize("amount", ["1.30 kg", "13 g", "50 g", "310 g"])
def test_an_odd_trial_is_told_once_at_the_top(
    amount: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    top, rest = top_of_card(amount, "4 g per egg", tmp_path, capsys)
    assert f"! The trial took {amount.replace('1.30', '1.3')} of base mix for 1 egg: " in top
    assert "where 110 to 150 g are usual" in top
    assert "The trial took" not in rest


def test_odd_doses_are_told_at_the_top(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    top, _ = top_of_card("130 g", "500 ml per egg", tmp_path, capsys)
    assert "The hookbait doses for one egg weigh 500 g, more than the egg, 60.5 g" in top


@pytest.mark.parametrize("amount", ["60 g", "290 g"])
def test_a_wide_range_of_trials_is_taken_as_meant(
    amount: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    top, _ = top_of_card(amount, "4 g per egg", tmp_path, capsys)
    assert "!" not in top
