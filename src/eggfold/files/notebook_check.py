"""Everything that can be wrong with a notebook, also what an entry alone cannot know."""

from __future__ import annotations

from collections.abc import Iterator

from eggfold.errors import Problem, ProblemsError
from eggfold.files.notebook import (
    MODELS,
    SECTIONS,
    read_entries,
    unknown_keys,
)
from eggfold.load.folder import files_by_notebook
from eggfold.load.gate import read_source
from eggfold.load.names import recipe_names
from eggfold.load.problem_limit import enough
from eggfold.load.reading import Path as TreePath
from eggfold.load.reading import Placed
from eggfold.load.yaml_tree import Scalar, Sequence, read_nodes
from eggfold.nearest import did_you_mean, fold


def check_notebook(file: str, last_day: str | None) -> list[Problem]:
    """Return every problem of a notebook; days after ``last_day`` have not come yet.

    Raises FileAccessError if the file cannot be read.
    """
    try:
        source = read_source(file, kept=True)
        root, problems = read_nodes(source, kept=True)
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
        known = recipe_names(files_by_notebook(notebook)) if known is None else known
        if fold(text) not in known:
            message = f"no recipe here is called '{text[:60]}'; the entry is kept"
            hint = did_you_mean(text, known.values())
            yield placed.problem(path, "recipe-gone", message, hint, severity="warning")
