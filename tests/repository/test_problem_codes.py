"""Every problem that a file can have is told of in docs/errors.md and shown by a bad file."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from running import ROOT, TESTS

SOURCE = ROOT / "src" / "eggfold"
MODULES = [
    SOURCE / "amounts.py",
    SOURCE / "recipe" / "sanity.py",
    SOURCE / "recipe" / "soak.py",
    *sorted((SOURCE / "files").glob("*.py")),
    *sorted((SOURCE / "load").glob("*.py")),
]
TAKE_A_CODE = {
    "problem",
    "Problem",
    "AmountError",
    "a_word",
    "Doubt",
    "_note",
    "_stop",
    "_unreadable",
}
PUT_TOGETHER = {"no-hookbait-dose", "no-freebie-dose"}
"""Codes that no one string of the source holds."""

CASES = {path.parent.name for path in TESTS.glob("problems/*/expected")}


def codes_in(path: Path) -> Iterator[str]:
    """Yield the first word of each call that takes a code; messages are longer than a word."""
    for call in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(call, ast.Call):
            name = getattr(call.func, "attr", getattr(call.func, "id", ""))
            texts = [str(a.value) for a in call.args if isinstance(a, ast.Constant)]
            words = [text for text in texts if re.fullmatch(r"[a-z]+(-[a-z0-9]+)*", text)]
            if name in TAKE_A_CODE:
                yield from words[:1]


def test_each_code_of_the_source_has_a_bad_file() -> None:
    codes = {code for path in MODULES for code in codes_in(path)}
    assert codes | PUT_TOGETHER == CASES


def test_each_code_has_a_section_in_the_catalogue() -> None:
    catalogue = (ROOT / "docs" / "errors.md").read_text("utf-8")
    headings = re.findall(r"^## `?([a-z0-9-]+)`?$", catalogue, re.MULTILINE)
    assert len(set(headings)) == len(headings)
    assert set(headings) == CASES
