"""One text a user wrote: its bytes decoded, its lines, and places in it."""

from __future__ import annotations

import re
import sys
from dataclasses import dataclass
from pathlib import Path

from eggfold.errors import FileAccessError, Place, Problem, ProblemsError, Severity

LINE_BREAK = re.compile(r"\r\n|\n|\r")
MEBIBYTE = 1024 * 1024


@dataclass(frozen=True, slots=True)
class Source:
    """A file's name as the user gave it, and its text."""

    file: str
    text: str

    def place(self, index: int) -> Place:
        """Return the line and column of a character."""
        breaks = [m.end() for m in LINE_BREAK.finditer(self.text, 0, index)]
        return Place(len(breaks) + 1, index - (breaks[-1] if breaks else 0) + 1)

    def line(self, number: int) -> str:
        """Return the text of a line, without its end."""
        lines = LINE_BREAK.split(self.text)
        return lines[number - 1] if number <= len(lines) else ""

    def problem(
        self,
        index: int,
        code: str,
        message: str,
        hint: str | None = None,
        *,
        severity: Severity = "error",
    ) -> Problem:
        """Return a problem at a character of this text."""
        line, column = self.place(index)
        return Problem(
            self.file, line, column, code, severity, message, hint, source=self.line(line)
        )


def read_source(file: str, *, limit_bytes: int = MEBIBYTE) -> Source:
    """Read a file, or standard input for ``-``.

    Raises FileAccessError if it cannot be read and ProblemsError if it is not text or too large.
    """
    try:
        data = _read_bytes(file, limit_bytes + 1)
    except OSError as error:
        raise FileAccessError(file, error.strerror or str(error)) from error
    if len(data) > limit_bytes:
        size = f"{limit_bytes // MEBIBYTE} MiB"
        problem = Problem(file, 1, 1, "too-large", "error", f"the file is larger than {size}")
        raise ProblemsError([problem])
    try:
        return Source(file, data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        start = error.start + (3 if data.startswith(b"\xef\xbb\xbf") else 0)
        readable = Source(file, data[:start].decode("utf-8-sig", "replace"))
        hint = "save the file as UTF-8"
        problem = readable.problem(
            len(readable.text), "not-utf-8", f"byte {data[start]:#04x} is not UTF-8", hint
        )
        raise ProblemsError([problem]) from error


def _read_bytes(file: str, limit: int) -> bytes:
    if file == "-":
        return sys.stdin.buffer.read(limit)
    with Path(file).open("rb") as stream:
        return stream.read(limit)
