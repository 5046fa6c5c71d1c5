"""The house itself: a name says one thing, and no two modules lean on each other."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import eggfold

PACKAGE = Path(eggfold.__file__).parent
TREES = {
    ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts): ast.parse(
        path.read_text("utf-8")
    )
    for path in sorted(PACKAGE.rglob("*.py"))
}


def imported_by(module: str) -> Iterator[str]:
    """Yield the modules that a module names in its imports, for type checking too."""
    for node in ast.walk(TREES[module]):
        if isinstance(node, ast.ImportFrom) and node.module:
            for name in node.names:
                inner = f"{node.module}.{name.name}"
                yield inner if inner in TREES else node.module


def test_each_class_has_a_name_of_its_own() -> None:
    places = defaultdict(list)
    for module, tree in TREES.items():
        for node in ast.walk(tree):
            if isinstance(node, ast.ClassDef):
                places[node.name].append(module)
    assert places
    assert {name: where for name, where in places.items() if len(where) > 1} == {}


def test_no_two_modules_import_each_other() -> None:
    used = {module: set(imported_by(module)) for module in TREES}
    assert any(used.values())
    pairs = [(a, b) for a in used for b in used[a] if a < b and a in used.get(b, ())]
    assert pairs == []
