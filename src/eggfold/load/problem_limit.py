"""How many problems of one file are told one by one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sized
from itertools import groupby, islice

from eggfold.errors import Problem, errors_of

MOST_TOLD = 1000
"""Problems of a file that are told; a house limit, far beyond what anybody mends in one go."""


def enough(problems: Iterable[Problem]) -> list[Problem]:
    """Return as many problems as can be told, and one more to show that there are more."""
    return [*room_for([], problems)]


def room_for(problems: Sized, more: Iterable[Problem]) -> Iterator[Problem]:
    """Yield as many problems more as can be told behind others, and one to show that there are more."""
    return islice(more, max(0, MOST_TOLD + 1 - len(problems)))


def told(problems: Iterable[Problem]) -> list[Problem]:
    """Return sorted problems with the first of each file; one at the end stands for the others."""
    by_file = groupby(problems, key=lambda problem: problem.file)
    return [problem for _, found in by_file for problem in _told_of_file([*found])]


def _told_of_file(found: list[Problem]) -> list[Problem]:
    rest = found[MOST_TOLD:]
    if not rest:
        return found
    first = rest[0]
    message = f"more than {MOST_TOLD:,} problems; those from here on are not shown"
    last = Problem(
        first.file,
        first.line,
        first.column,
        "more-problems",
        "error" if errors_of(rest) else "warning",
        message,
        "mend those above, then check again",
        first.source,
        first.caret,
    )
    return [*found[:MOST_TOLD], last]
