"""One text a user wrote: its bytes decoded, its lines, and places in it."""

from __future__ import annotations

import re
import sys
from bisect import bisect_right
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cached_property
from hashlib import sha256
from pathlib import Path

from eggfold.errors import FileAccessError, Place, Problem, ProblemsError, Severity
from eggfold.files.folder import refuse_empty

LINE_BREAK = re.compile(r"\r\n|\n|\r")
MEBIBYTE = 1024 * 1024
SHOWN = 160
"""Characters of a line that a problem shows."""


class Source:
    """A file's name as the user gave it, and its text."""

    def __init__(self, file: str, text: str, data: bytes | None = None) -> None:
        self.file = file
        self.text = text
        self._data = data

    @property
    def sha256(self) -> str:
        """The SHA-256 of the bytes that were read, in hexadecimal."""
        return sha256(self.text.encode() if self._data is None else self._data).hexdigest()

    @cached_property
    def _starts(self) -> list[int]:
        """Where each line starts."""
        return [0, *(m.end() for m in LINE_BREAK.finditer(self.text))]

    def place(self, index: int) -> Place:
        """Return the line and column of a character."""
        line = bisect_right(self._starts, index)
        return Place(line, index - self._starts[line - 1] + 1)

    def index(self, line: int, column: int) -> int:
        """Return the character at a line and column."""
        return self._starts[line - 1] + column - 1

    def around(self, place: Place) -> tuple[str, int]:
        """Return the text of a place's line, a long one cut to its neighbourhood, and the caret."""
        start = self._starts[place.line - 1]
        at = start + place.column - 1
        first = max(start, at - SHOWN // 2)
        end = LINE_BREAK.search(self.text, first, first + SHOWN)
        text = self.text[first : end.start() if end else first + SHOWN]
        return text, at - first

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
        place = self.place(index)
        source, caret = self.around(place)
        return Problem(self.file, *place, code, severity, message, hint, source, caret)


def read_source(file: str, *, limit_bytes: int = MEBIBYTE) -> Source:
    """Read a file, or standard input for ``-``.

    Raises FileAccessError if it cannot be read, ProblemsError if it is not text or too large, and
    UsageProblemError if its name is empty.
    """
    refuse_empty(file)
    try:
        data = _read_bytes(file, limit_bytes + 1)
    except OSError as error:
        raise FileAccessError(file, error.strerror or str(error)) from error
    if len(data) > limit_bytes:
        size = f"{limit_bytes // MEBIBYTE} MiB"
        problem = Problem(file, 1, 1, "too-large", "error", f"the file is larger than {size}")
        raise ProblemsError([problem])
    try:
        return Source(file, data.decode("utf-8-sig"), data)
    except UnicodeDecodeError as error:
        start = error.start + (3 if data.startswith(b"\xef\xbb\xbf") else 0)
        readable = Source(file, data[:start].decode("utf-8-sig", "replace"))
        hint = "save the file as UTF-8"
        problem = readable.problem(
            len(readable.text), "not-utf-8", f"byte {data[start]:#04x} is not UTF-8", hint
        )
        raise ProblemsError([problem]) from error


class _Drafts:
    """Texts that stand in for files while a change to them is tried out."""

    def __init__(self) -> None:
        self._texts: dict[str, bytes] = {}

    def get(self, file: str) -> bytes | None:
        """Return the text that stands in for a file, if any."""
        return self._texts.get(file)

    def put(self, file: str, text: bytes) -> None:
        """Let a text stand in for a file."""
        self._texts[file] = text

    @contextmanager
    def kept(self) -> Iterator[None]:
        """Keep what is put until the block ends."""
        try:
            yield
        finally:
            self._texts.clear()


drafts = _Drafts()


def _read_bytes(file: str, limit: int) -> bytes:
    if (text := drafts.get(file)) is not None:
        return text[:limit]
    if file == "-":
        return sys.stdin.buffer.read(limit)
    with Path(file).open("rb") as stream:
        return stream.read(limit)
