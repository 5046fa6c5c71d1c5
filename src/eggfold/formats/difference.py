"""The difference that changes make to files."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from eggfold.edit.writing import Change

CONTEXT = 3
"""Lines shown around what changed."""


def differences_text(changes: Iterable[Change]) -> str:
    """Return changes as unified diffs, one after the other."""
    return "".join(map(_difference_text, changes))


def _difference_text(change: Change) -> str:
    import difflib  # noqa: PLC0415 - only a dry run needs it

    old, new = _lines(change.old), _lines(change.new)
    before = change.file if change.old is not None else "/dev/null"
    after = change.file if change.new is not None else "/dev/null"
    if old != new and len(old) == len(new):
        lines = [f"--- {before}\n", f"+++ {after}\n", *_line_by_line(old, new)]
    else:
        lines = list(difflib.unified_diff(old, new, before, after))
    return "".join(_whole_line(line) for line in lines)


def _line_by_line(old: list[str], new: list[str]) -> Iterator[str]:
    """Yield the hunks of a text of which only words changed: difflib would seek each line everywhere."""
    hunk: list[int] = []
    for i, (before, after) in enumerate(zip(old, new, strict=True)):
        if before == after:
            continue
        if hunk and i - hunk[-1] > 2 * CONTEXT + 1:
            yield from _hunk(old, new, hunk)
            hunk = []
        hunk.append(i)
    if hunk:
        yield from _hunk(old, new, hunk)


def _hunk(old: list[str], new: list[str], changed: list[int]) -> Iterator[str]:
    first, end = max(0, changed[0] - CONTEXT), min(len(old), changed[-1] + CONTEXT + 1)
    span = f"{first + 1},{end - first}" if end - first > 1 else f"{first + 1}"
    yield f"@@ -{span} +{span} @@\n"
    for is_changed, run in groupby(range(first, end), set(changed).__contains__):
        lines = list(run)
        if is_changed:
            yield from (f"-{old[i]}" for i in lines)
            yield from (f"+{new[i]}" for i in lines)
        else:
            yield from (f" {old[i]}" for i in lines)


def _lines(data: bytes | None) -> list[str]:
    """Split at line feeds alone, so that a carriage return stays where it is."""
    text = (data or b"").decode()
    parts = text.split("\n")
    return [f"{part}\n" for part in parts[:-1]] + ([parts[-1]] if parts[-1] else [])


def _whole_line(line: str) -> str:
    return line if line.endswith("\n") else f"{line}\n\\ No newline at end of file\n"
