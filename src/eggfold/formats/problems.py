"""Problems as text: place, sentence, the line with a caret, and what to try."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from eggfold.formats.characters import clean
from eggfold.formats.plain_text import wrapped

if TYPE_CHECKING:
    from eggfold.errors import Problem

WIDTH = 80
"""The width that a hint is folded to; a place with its sentence stays one line, for scripts."""


def problems_text(problems: Iterable[Problem]) -> str:
    """Return problems, one after the other."""
    return "".join(f"{line}\n" for problem in problems for line in _problem_lines(problem))


def _problem_lines(problem: Problem) -> Iterator[str]:
    place = f"{clean(problem.file)}:{problem.line}:{problem.column}"
    warning = "warning: " if problem.severity == "warning" else ""
    yield f"{place}: {warning}{clean(problem.message)} [{problem.code}]"
    if problem.source.strip():
        yield f"    {clean(problem.source)}"
        yield f"    {' ' * problem.caret}^"
    if problem.hint:
        yield from wrapped(f"    try: {clean(problem.hint)}", WIDTH, " " * 9)
