"""The page of benchmarks names every benchmark with every limit that it holds."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from running import ROOT, TESTS

PAGE = ROOT / "docs" / "benchmarks.md"
BENCHMARKS = sorted((TESTS / "benchmarks").glob("bench_*.py"))


def rows() -> dict[str, set[float]]:
    """Return the limits that the page shows for each file."""
    shown: dict[str, set[float]] = {}
    row = re.compile(r"^\| `(bench_\w+\.py)` \|.*\| ([\d.]+)(?: ms)? \|$", re.MULTILINE)
    for name, limit in row.findall(PAGE.read_text("utf-8")):
        shown.setdefault(name, set()).add(float(limit))
    return shown


def limits_in(path: Path) -> set[float]:
    """Return the limits in a benchmark: the last value of each check, and constants so named."""
    tree = ast.parse(path.read_text("utf-8"))
    numbers = {
        target.id: value
        for node in tree.body
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant)
        for target in node.targets
        if isinstance(target, ast.Name) and isinstance(value := node.value.value, int | float)
    }
    found = {float(value) for name, value in numbers.items() if "LIMIT" in name}
    for node in ast.walk(tree):
        match node:
            case ast.Call(ast.Name("Check"), [*_, ast.Constant(float(limit))]):
                found.add(limit)
            case ast.Call(ast.Name("Check"), [*_, ast.Name(name)]):
                found.add(float(numbers[name]))
    return found


@pytest.mark.parametrize("path", BENCHMARKS, ids=lambda path: path.stem)
def test_the_page_shows_the_limits_of_a_benchmark(path: Path) -> None:
    limits = limits_in(path)
    assert limits
    assert rows().get(path.name) == limits


def test_the_page_names_no_other_file() -> None:
    assert rows().keys() == {path.name for path in BENCHMARKS}
