"""The difference that changes make to files."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from eggfold.files.writing import Change


def differences_text(changes: Iterable[Change]) -> str:
    """Return changes as unified diffs, one after the other."""
    return "".join(map(_difference_text, changes))


def _difference_text(change: Change) -> str:
    import difflib  # noqa: PLC0415 - only a dry run needs it

    old, new = _lines(change.old), _lines(change.new)
    before = change.file if change.old is not None else "/dev/null"
    after = change.file if change.new is not None else "/dev/null"
    lines = difflib.unified_diff(old, new, before, after)
    return "".join(_whole_line(line) for line in lines)


def _lines(data: bytes | None) -> list[str]:
    """Split at line feeds alone, so that a carriage return stays where it is."""
    text = (data or b"").decode()
    parts = text.split("\n")
    return [f"{part}\n" for part in parts[:-1]] + ([parts[-1]] if parts[-1] else [])


def _whole_line(line: str) -> str:
    return line if line.endswith("\n") else f"{line}\n\\ No newline at end of file\n"
