"""Problems as JSON."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from eggfold.formats.json import Data

if TYPE_CHECKING:
    from eggfold.errors import Problem
    from eggfold.files.fixing import Mended


def check_document(
    problems: Iterable[Problem], mended: Iterable[Mended] | None = None, *, written: bool = True
) -> Data:
    """Return the object of ``check``; ``mended`` and ``written`` where it was to mend."""
    document: Data = {
        "kind": "check",
        "version": 1,
        "problems": [_problem(one) for one in problems],
    }
    if mended is not None:
        gone = [problem for one in mended for problem in one.problems]
        document["mended"] = [_problem(one) for one in gone]
        document["written"] = written
    return document


def _problem(problem: Problem) -> Data:
    keys = ("file", "line", "column", "code", "severity", "message", "hint")
    return {key: getattr(problem, key) for key in keys}
