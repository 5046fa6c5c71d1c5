"""Corrections that have one right answer, spliced into the text a user wrote."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence

from eggfold.edit.commit import writing
from eggfold.edit.splice import Splice, spliced
from eggfold.edit.writing import Change, write_whole
from eggfold.errors import FileAccessError, Problem, ProblemsError, errors_of
from eggfold.load.folder import folder_of
from eggfold.load.gate import (
    LARGEST_KEPT,
    LINE_BREAK,
    MEBIBYTE,
    MOST_TOLD,
    Source,
    decoded,
    encoded_like,
    read_bytes,
    stand_ins,
)
from eggfold.load.yaml_tree import Scalar, read_nodes, scalar_text, scalars_in
from eggfold.nearest import is_slip, meant
from eggfold.records import NamedTuple
from eggfold.reference.slips import SLIPS

MOST_ROUNDS = 200
"""A file with more corrections than this, one hiding behind the other, is left half mended."""
MOST_TRIED = 3 * MEBIBYTE // 2
"""Text of one file that is checked again to try corrections out; beyond it the rest is left."""

_DECIMAL_COMMA = re.compile(r"['\"]?[0-9]{1,15}(,)(?=[0-9])")
_ONE_DAY = re.compile(r"year first: ([0-9]{4}-[0-9]{2}-[0-9]{2}(?: (?!or ).+)?)")
_DIGITS = re.compile(r"[0-9]+")

_HIDING = frozenset({"unknown-key"})
_BROKEN = frozenset({"not-yaml", "yaml-feature", "duplicate-key", "wrong-shape", "two-sizes"})

Check = Callable[[], list[Problem]]


class Edit(NamedTuple):
    """Characters to be replaced, and the problem that goes with them."""

    start: int
    end: int
    text: str
    problem: Problem


class Mended(NamedTuple):
    """A file with its corrections, and the problems that they mend."""

    change: Change
    problems: tuple[Problem, ...]


def mend_files(problems: list[Problem], check: Check) -> tuple[list[Mended], list[Problem]]:
    """Return the files that can be mended, with their new text, and the problems that stay.

    ``check`` lists the problems of all files, at first ``problems``; it is asked again with each new
    text standing in for its file. A correction that does not read back, or that makes a new problem,
    is left out; so is one that brings to light an error which cannot be mended too.
    """
    mended, left = _mend_all(problems, check, frozenset())
    if worse := _worse_files(problems, left):
        mended, left = _mend_all(problems, check, worse)
    return mended, left


def _mend_all(
    problems: list[Problem], check: Check, strict: frozenset[str]
) -> tuple[list[Mended], list[Problem]]:
    """Mend to a fixed point; in ``strict`` files nothing may come to light on the way."""
    mending = _Mending(problems, check, strict)
    with stand_ins.kept():
        for _ in range(MOST_ROUNDS):
            if not mending.mend_once():
                break
        return mending.mended(), mending.problems


def _worse_files(before: list[Problem], after: list[Problem]) -> frozenset[str]:
    """Return the files with more or other errors than before, as far as all of them were told."""
    told = Counter(problem.file for problem in before)
    fresh = _errors(after) - _errors(before)
    return frozenset(file for file, _, _ in fresh if told[file] <= MOST_TOLD)


def _errors(problems: list[Problem]) -> Counter[tuple[str, str, int]]:
    return Counter((p.file, p.code, p.line) for p in errors_of(problems))


class _Mending:
    """The texts as they become, round by round."""

    def __init__(self, problems: list[Problem], check: Check, strict: frozenset[str]) -> None:
        self._check = check
        self._strict = strict
        self.problems = problems
        self._tried: Counter[str] = Counter()
        self._old: dict[str, bytes] = {}
        self._mended: dict[str, list[Problem]] = {}
        self._refused: set[tuple[str, str, int, str]] = set()

    def mend_once(self) -> bool:
        """Mend what can be mended at once; tell whether anything was."""
        by_file: dict[str, list[Problem]] = {}
        for problem in self.problems:
            if problem.file != "-" and _key(problem) not in self._refused:
                by_file.setdefault(problem.file, []).append(problem)
        changed = [self._mend(file, problems) for file, problems in by_file.items()]
        return any(changed)

    def _mend(self, file: str, problems: list[Problem]) -> bool:
        data = read_bytes(file, LARGEST_KEPT + 1)
        if len(data) > LARGEST_KEPT:
            return False
        try:
            source = Source(file, decoded(data), data)
        except UnicodeDecodeError:
            return False
        edits = list(_edits(source, problems))
        groups = [edits]
        while groups and self._tried[file] + len(data) <= MOST_TRIED:
            group = groups.pop()
            if not group:
                continue
            after = encoded_like(data, spliced(source.text, (Splice(*edit[:3]) for edit in group)))
            found = self._try(file, data, after, group)
            if found is None:
                return True
            bad = _culprits(file, self.problems, found, group)
            self._refused.update(_key(edit.problem) for edit in bad)
            if bad:
                blamed = {edit.start for edit in bad}
                groups.append([edit for edit in group if edit.start not in blamed])
            else:
                groups += [[edit] for edit in reversed(group)]
        return False

    def _try(
        self, file: str, before: bytes, after: bytes, edits: list[Edit]
    ) -> list[Problem] | None:
        """Keep a text that is better; otherwise return the problems that it has."""
        stand_ins.put(file, after)
        self._tried[file] += len(after)
        found = self._check()
        worse = file in self._strict and _errors(found) - _errors(self.problems)
        if not worse and _is_better(file, self.problems, found, edits):
            self._old.setdefault(file, before)
            self._mended.setdefault(file, []).extend(edit.problem for edit in edits)
            self.problems = found
            return None
        stand_ins.put(file, before)
        return found

    def mended(self) -> list[Mended]:
        """Return every file that changed."""
        return [
            Mended(Change(file, old, stand_ins.get(file)), tuple(self._mended[file]))
            for file, old in self._old.items()
        ]


def _key(problem: Problem) -> tuple[str, str, int, str]:
    return problem.file, problem.code, problem.line, problem.message


def _is_better(file: str, before: list[Problem], after: list[Problem], edits: list[Edit]) -> bool:
    """Tell whether the mended problems are gone and no others came of it.

    What cannot be read hides what is wrong in other lines of its part; a misspelt key hides what stands
    behind it, and so do many problems. That may come to light, and so may a figure that is doubtful.
    """
    gone = Counter(_key(edit.problem) for edit in edits)
    old, new = Counter(map(_key, before)), Counter(map(_key, after))
    if any(new[key] > old[key] - number for key, number in gone.items()):
        return False
    if _hides(file, before, edits):
        broken = [
            sum(p.file == file and p.code in _BROKEN for p in all_) for all_ in (before, after)
        ]
        return broken[1] <= broken[0]
    lines = {edit.problem.line for edit in edits}
    fresh = [p for p in after if p.code not in SLIPS and new[_key(p)] > old[_key(p)]]
    return not any(
        p.line in lines or p.code in _BROKEN if p.file == file else p.severity == "error"
        for p in fresh
    )


def _hides(file: str, problems: list[Problem], edits: list[Edit]) -> bool:
    """Tell whether more problems of a file may come to light when some are mended."""
    many = sum(problem.file == file for problem in problems) > MOST_TOLD
    return many or any(edit.problem.code in _HIDING for edit in edits)


def _culprits(
    file: str, before: list[Problem], after: list[Problem], edits: list[Edit]
) -> list[Edit]:
    """Return the edits in whose lines something is wrong that was not: a lone one is always to blame."""
    if len(edits) == 1:
        return edits
    meant_to_go = {_key(edit.problem) for edit in edits}
    known = set(map(_key, before))
    hiding = _hides(file, before, edits)
    lines = {
        p.line
        for p in after
        if p.file == file
        and (_key(p) in meant_to_go or (_key(p) not in known and (not hiding or p.code in _BROKEN)))
    }
    return [edit for edit in edits if edit.problem.line in lines]


def _edits(source: Source, problems: Sequence[Problem]) -> Iterator[Edit]:
    words = {
        source.index(p.line, p.column) for p in problems if meant(p.hint) or p.code == "not-a-date"
    }
    scalars = _scalars_at(source, words) if words else {}
    taken: set[int] = set()
    for problem in problems:
        edit = _edit(source, problem, scalars)
        if edit and edit.start not in taken:
            taken.add(edit.start)
            yield edit


def _edit(source: Source, problem: Problem, scalars: dict[int, Scalar]) -> Edit | None:
    start = source.index(problem.line, problem.column)
    if (problem.hint or "").startswith("a decimal point: "):
        comma = _DECIMAL_COMMA.match(source.text, start)
        return Edit(comma.start(1), comma.end(1), ".", problem) if comma else None
    scalar = scalars.get(start)
    if problem.code == "not-a-date":
        return _date_edit(problem, scalar)
    word = meant(problem.hint)
    if word is None or scalar is None or not problem.code.startswith("unknown-"):
        return None
    if LINE_BREAK.search(source.text, scalar.start, scalar.end):  # no line is to vanish
        return None
    if problem.code != "unknown-unit":
        if not is_slip(scalar.text, word):
            return None
        if _DIGITS.findall(word) != _DIGITS.findall(scalar.text):  # a figure is no slip of the pen
            return None
        return Edit(scalar.start, scalar.end, scalar_text(word), problem)
    wrong = problem.message.partition("'")[2].partition("'")[0]
    at = re.compile(rf"[0-9][ \t]*({re.escape(wrong)})(?![\w/])").search(
        source.text, scalar.start, scalar.end
    )
    return Edit(at.start(1), at.end(1), word, problem) if at else None


def _date_edit(problem: Problem, scalar: Scalar | None) -> Edit | None:
    """Return the day with its year first, where it can be one day only."""
    day = _ONE_DAY.fullmatch(problem.hint or "")
    if scalar is None or day is None:
        return None
    return Edit(scalar.start, scalar.end, day[1], problem)


def _scalars_at(source: Source, starts: set[int]) -> dict[int, Scalar]:
    """Return the keys and values of a text that start at some places; none where it is no YAML."""
    try:
        root, _ = read_nodes(source, kept=True)
    except ProblemsError:
        return {}
    return {one.start: one for one in scalars_in(root) if one.start in starts}


def write_mended(mended: Iterable[Mended]) -> list[tuple[Mended, FileAccessError]]:
    """Write mended files; return those that could not be, which are as they were, and why."""
    failed = []
    for one in mended:
        try:
            _write(one.change)
        except FileAccessError as error:
            failed.append((one, error))
    return failed


def _write(change: Change) -> None:
    with writing([folder_of(change.file)]) as finished:
        if finished:
            raise FileAccessError(change.file, finished)
        now = read_bytes(change.file, LARGEST_KEPT + 1)
        if now == change.new:  # a link to a file that was mended under its own name
            return
        if now != change.old:
            raise FileAccessError(change.file, "has changed meanwhile; try again")
        write_whole(change.file, change.new)


def refuse_standard_input(arguments: Iterable[str]) -> None:
    """Raise FileAccessError where a file that was asked for cannot be written."""
    if "-" in arguments:
        raise FileAccessError("-", "standard input cannot be mended; name a file")
