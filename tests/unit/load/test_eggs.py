"""What is said of an egg's grade that is written in another way."""

from __future__ import annotations

from pathlib import Path

import pytest

from running import run_eggfold


@pytest.mark.parametrize(
    ("grade", "hint"),
    [
        ("S", "standard: eu or us"),
        ("M", "standard: eu or us"),
        ("L", "standard: eu or us"),
        ("xl", "standard: eu or us"),
        ("EU large", "large, with standard: eu"),
    ],
)
def test_a_grade_in_a_letter_is_answered_with_its_word(
    grade: str, hint: str, tmp_path: Path
) -> None:
    text = f"name: Reeds\nbase_mix: M\neggs: {{grade: {grade}}}\n"
    (tmp_path / "reeds.yaml").write_text(text, encoding="utf-8")
    outcome = run_eggfold(["check", "reeds.yaml"], tmp_path)
    assert f"    try: {hint}\n" in outcome.stdout
    assert outcome.exit == 1


@pytest.mark.parametrize(
    ("egg", "hint"),
    [
        ("L", "eu-large or us-large"),
        ("XL", "eu-extra-large or us-extra-large"),
        ("medium", "eu-medium or us-medium"),
        ("jumbo", "us-jumbo"),
    ],
)
def test_an_egg_without_its_standard_is_answered_with_both(
    egg: str, hint: str, tmp_path: Path
) -> None:
    (tmp_path / "reeds.yaml").write_text("name: Reeds\nbase_mix: M\n", encoding="utf-8")
    outcome = run_eggfold(["batch", "reeds.yaml", "--egg", egg], tmp_path)
    assert outcome.exit == 2
    assert outcome.stderr.rstrip().endswith(f"try: {hint}")
