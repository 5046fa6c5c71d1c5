"""What is said of text that is no YAML."""

from __future__ import annotations

from pathlib import Path

import pytest

from running import run_eggfold

INDENT = "the indent of the keys beside it, and a space behind every colon"


@pytest.mark.parametrize(
    ("text", "place", "hint"),
    [
        ("base_mix:\n  name: M\n   amount: 130 g\n", "3:10", INDENT),
        ("blend:\n  Semolina:60 %\n  Soya flour: 40 %\n", "3:13", INDENT),
        ("Name:Reeds\nbase_mix: M\n", "2:9", INDENT),
        ("name: Reeds: the second\nbase_mix: M\n", "1:12", "put the text in quotes"),
    ],
)
def test_a_colon_that_cannot_stand_here_is_told_why(
    text: str, place: str, hint: str, tmp_path: Path
) -> None:
    (tmp_path / "reeds.yaml").write_text(text, encoding="utf-8")
    lines = run_eggfold(["check", "reeds.yaml"], tmp_path).stdout.splitlines()
    assert lines[0].startswith(f"reeds.yaml:{place}: ")
    assert lines[3] == f"    try: {hint}"


def test_a_tab_between_words_hides_nothing_of_a_file_that_is_wrong_behind_it(
    tmp_path: Path,
) -> None:
    (tmp_path / "reeds.yaml").write_text("name:\tReeds\nbase_mix: M\nnotes: [\n", encoding="utf-8")
    found = run_eggfold(["check", "reeds.yaml"], tmp_path).stdout
    assert "a tab" not in found
    assert "reeds.yaml:4:1: " in found


def test_a_long_file_of_tabs_ends(tmp_path: Path) -> None:
    lines = "".join(f"  thing {i}:\t{{left: 1}}\n" for i in range(2000)) + "\tx: 1\n"
    (tmp_path / "shelf.yaml").write_text(f"items:\n{lines}", encoding="utf-8")
    outcome = run_eggfold(["check", "shelf.yaml"], tmp_path)
    assert outcome.exit == 1
    assert "shelf.yaml:2002:1: a tab cannot stand here" in outcome.stdout
