"""Everything a user can get wrong, as data: problems with a place, and the ends a run can come to."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from eggfold.records import NamedTuple

Severity = Literal["error", "warning"]


LONGEST_QUOTED = 60


def in_quotes(text: str) -> str:
    """Return what somebody wrote in quotes, cut short where it is long."""
    shown = text if len(text) <= LONGEST_QUOTED else f"{text[: LONGEST_QUOTED - 3]}..."
    return f"'{shown}'"


class Place(NamedTuple):
    """A place in a file: line and column from 1, in characters."""

    line: int
    column: int


class Problem(NamedTuple):
    """One thing that is wrong in a file, at its place, with what to try instead."""

    file: str
    line: int
    column: int
    code: str
    severity: Severity
    message: str
    hint: str | None = None
    source: str = ""
    """The line around the place, for the caret."""
    caret: int = 0
    """Where in ``source`` the place is, from 0."""


def errors_of(problems: Iterable[Problem]) -> list[Problem]:
    """Return the problems that are errors."""
    return [problem for problem in problems if problem.severity == "error"]


def tidy(problems: Iterable[Problem]) -> list[Problem]:
    """Sort problems, each once; where a comma split a number, that alone is told."""
    found = set(problems)
    commas = {(p.file, p.line, p.column) for p in found if p.code == "decimal-comma"}
    kept = {
        p for p in found if p.code == "decimal-comma" or (p.file, p.line, p.column) not in commas
    }
    return sorted(kept, key=lambda p: (p.file, p.line, p.column, p.code, p.message))


class EggfoldError(Exception):
    """An end of the run that the user can do something about."""

    exit_code = 1


class UsageProblemError(EggfoldError):
    """The command line cannot be understood, or an extra that it needs is not installed."""

    exit_code = 2


class OptionError(UsageProblemError):
    """What was typed cannot be read, or not be meant together; the usage is shown beside it."""


class MissingExtraError(UsageProblemError):
    """A library is not installed that only some commands need."""

    def __init__(self, what: str, extra: str) -> None:
        super().__init__(what, extra)
        self.what = what
        self.extra = extra

    def __str__(self) -> str:
        command = f"python -m pip install 'eggfold[{self.extra}]'"
        return f"{self.what} needs the extra {self.extra}; install it with: {command}"


class NoAnswerError(EggfoldError):
    """The files are right and no answer exists; the sentence says what to change."""

    exit_code = 3


class FileAccessError(EggfoldError):
    """A file cannot be read or written."""

    exit_code = 4

    def __init__(self, path: str, reason: str) -> None:
        super().__init__(path, reason)
        self.path = path
        self.reason = reason

    def __str__(self) -> str:
        return f"{self.path}: {self.reason}"


class ProblemsError(EggfoldError):
    """A file has errors; the problems say which."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__(problems)
        self.problems = problems

    def __str__(self) -> str:
        return "; ".join(f"{p.file}:{p.line}:{p.column}: {p.message}" for p in self.problems)
