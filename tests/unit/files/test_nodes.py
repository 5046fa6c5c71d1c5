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
        ("baits:\n  hookbait:16 mm\n  freebie: 18 mm\n", "3:10", INDENT),
        ("name:Reeds\nbase_mix: M\n", "2:9", INDENT),
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
