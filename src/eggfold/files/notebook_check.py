"""Everything that can be wrong with a notebook, also what an entry alone cannot know."""

from __future__ import annotations

from collections.abc import Iterator

from eggfold.errors import FileAccessError, Problem, ProblemsError
from eggfold.files.folder import files_by_notebook, kind_by_keys, kind_by_name
from eggfold.files.nodes import Scalar, Sequence, read_nodes
from eggfold.files.notebook import (
    LIMIT_BYTES,
    MAX_NODES,
    MODELS,
    SECTIONS,
    read_entries,
    unknown_keys,
)
from eggfold.files.reading import Path as TreePath
from eggfold.files.reading import Placed
from eggfold.files.source import read_source
from eggfold.files.telling import enough
from eggfold.nearest import did_you_mean, fold


def check_notebook(file: str, last_day: str | None) -> list[Problem]:
    """Return every problem of a notebook; days after ``last_day`` have not come yet.

    Raises FileAccessError if the file cannot be read.
    """
    try:
        source = read_source(file, limit_bytes=LIMIT_BYTES)
        if not source.text.strip():
            return []
        root, problems = read_nodes(source, max_nodes=MAX_NODES)
    except ProblemsError as error:
        return error.problems
    placed = Placed(source, root)
    problems += enough(unknown_keys(placed))
    for name in SECTIONS:
        if name in root.entries:
            problems += read_entries(MODELS[name], placed, name)[1]
    problems += enough(_future_days(placed, last_day)) if last_day else ()
    problems += enough(_gone_recipes(placed, file))
    return problems


def _texts(placed: Placed, key: str) -> Iterator[tuple[TreePath, str]]:
    """Yield every entry's text of a key, with its path."""
    for name in SECTIONS:
        section = placed.node((name,))
        for i, _ in enumerate(section.items if isinstance(section, Sequence) else ()):
            value = placed.node((name, i, key))
            if isinstance(value, Scalar):
                yield (name, i, key), value.text


def _future_days(placed: Placed, last_day: str) -> Iterator[Problem]:
    for path, text in _texts(placed, "date"):
        if len(text) == len(last_day) and text[:4].isdecimal() and text > last_day:
            message = f"{text} is in the future"
            yield placed.problem(path, "future-date", message, f"{last_day} or a day before it")


def _gone_recipes(placed: Placed, notebook: str) -> Iterator[Problem]:
    """Yield a warning for each entry whose recipe is not by the notebook: it is kept all the same."""
    known: dict[str, str] | None = None
    for path, text in _texts(placed, "recipe"):
        known = _recipe_names(notebook) if known is None else known
        if fold(text) not in known:
            message = f"no recipe here is called '{text[:60]}'; the entry is kept"
            hint = did_you_mean(text, known.values())
            yield placed.problem(path, "recipe-gone", message, hint, severity="warning")


def _recipe_names(notebook: str) -> dict[str, str]:
    """Return the names of the recipes by a notebook, by folded name."""
    names = (_recipe_name(file) for file in files_by_notebook(notebook))
    return {fold(name): name for name in names if name}


def _recipe_name(file: str) -> str | None:
    if kind_by_name(file):
        return None
    try:
        root, _ = read_nodes(read_source(file))
    except (ProblemsError, FileAccessError):
        return None
    name = root.entries.get("name")
    is_recipe = kind_by_keys(root.entries) == "recipe"
    return name.value.text if is_recipe and name and isinstance(name.value, Scalar) else None
