"""The one gate for what a user wrote: bytes up to a limit, decoded, and places in the text.

A named file has to be a regular one: a pipe, a device or a folder is a problem at once, and nothing
waits for it. Only ``-`` may be a pipe.
"""

from __future__ import annotations

import errno
import os
import re
import stat
import sys
from bisect import bisect_right
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Iterable, Iterator, Sized
from contextlib import contextmanager
from functools import cached_property
from itertools import groupby, islice
from pathlib import Path

from eggfold.errors import FileAccessError, Place, Problem, ProblemsError, Severity, errors_of
from eggfold.load.folder import refuse_empty
from eggfold.nearest import did_you_mean, meant

LINE_BREAK = re.compile(r"\r\n|\n|\r")
MEBIBYTE = 1024 * 1024
LARGEST = MEBIBYTE
LARGEST_KEPT = 8 * MEBIBYTE
"""The same for a shelf and a notebook, which grow over the years."""
LONGEST_NAME = 200
SHOWN = 160
"""Characters of a line that a problem shows."""


class Source:
    """A file's name as the user gave it, and its text."""

    def __init__(self, file: str, text: str, data: bytes | None = None) -> None:
        self.file = file
        self.text = text
        self._data = data

    @property
    def data(self) -> bytes:
        """The bytes that were read."""
        return self.text.encode() if self._data is None else self._data

    @property
    def sha256(self) -> str:
        """The SHA-256 of the bytes that were read, in hexadecimal."""
        from hashlib import sha256  # noqa: PLC0415 - it loads OpenSSL, which TAB does not wait for

        return sha256(self.data).hexdigest()

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


def read_source(file: str, *, kept: bool = False) -> Source:
    """Read a file, or standard input for ``-``; ``kept`` is a shelf or a notebook.

    Raises FileAccessError if it cannot be read, ProblemsError if it is not text or too large, and
    UsageProblemError if its name is empty.
    """
    largest = LARGEST_KEPT if kept else LARGEST
    data = read_bytes(file, largest + 1)
    if len(data) > largest:
        size = f"{largest // MEBIBYTE} MiB"
        problem = Problem(file, 1, 1, "too-large", "error", f"the file is larger than {size}")
        raise ProblemsError([problem])
    try:
        return Source(file, decoded(data), data)
    except UnicodeDecodeError as error:
        raise ProblemsError([_not_text(file, data, error)]) from error


def decoded(data: bytes) -> str:
    """Return bytes as text: UTF-8, or UTF-16 where the start shows it."""
    return data.decode(encoding_of(data)[0]).removeprefix("\ufeff")


def encoded_like(old: bytes, text: str) -> bytes:
    """Return a text as bytes in the encoding of others, with their mark."""
    encoding, mark = encoding_of(old)
    return mark + text.encode(encoding)


def encoding_of(data: bytes) -> tuple[str, bytes]:
    """Return an encoding by the mark at its start or its first two letters, and the mark."""
    for mark, encoding in _MARKS.items():
        if data.startswith(mark):
            return encoding, mark
    # a text begins with two letters, two dashes, or a # and a space
    empty = [byte == 0 for byte in data[:4]]
    if empty == [False, True, False, True]:
        return "utf-16-le", b""
    return ("utf-16-be", b"") if empty == [True, False, True, False] else ("utf-8", b"")


_MARKS = {BOM_UTF8: "utf-8", BOM_UTF16_LE: "utf-16-le", BOM_UTF16_BE: "utf-16-be"}


def _not_text(file: str, data: bytes, error: UnicodeDecodeError) -> Problem:
    readable = Source(file, data[: error.start].decode(error.encoding).removeprefix("\ufeff"))
    name = error.encoding.upper()
    message = f"byte {data[error.start]:#04x} is not {'UTF-8' if name == 'UTF-8' else 'UTF-16'}"
    hint = "save the file as UTF-8: most editors have the encoding under Save as"
    return readable.problem(len(readable.text), "not-utf-8", message, hint)


class _StandIns:
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
        """Keep what is put until the block ends; then what stood before stands again."""
        before = dict(self._texts)
        try:
            yield
        finally:
            self._texts = before


stand_ins = _StandIns()


def read_bytes(file: str, limit: int) -> bytes:
    """Return the first bytes of a file or of standard input; raises FileAccessError."""
    refuse_empty(file)
    if (text := stand_ins.get(file)) is not None:
        return text[:limit]
    try:
        return _from_standard_input(limit) if file == "-" else _from_regular_file(file, limit)
    except FileNotFoundError as error:
        raise FileAccessError(file, f"{error.strerror}{_meant_file(file)}") from error
    except (OSError, ValueError) as error:
        raise FileAccessError(file, getattr(error, "strerror", None) or str(error)) from error


def _meant_file(file: str) -> str:
    """Return the YAML file of the same folder that is called much the same, as a question."""
    typed = Path(file)
    stems = {p.stem: str(p) for p in sorted(typed.parent.glob("*.y*ml"))}
    hint = meant(did_you_mean(typed.stem, stems))
    return f"; did you mean {stems[hint]}?" if hint else ""


def _from_standard_input(limit: int) -> bytes:
    if sys.stdin is None:
        raise FileAccessError("-", "standard input is closed")
    return sys.stdin.buffer.read(limit)


_OPENED = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
"""How a file is opened: a pipe that nobody writes to is opened at once too, and then refused."""


def _from_regular_file(file: str, limit: int) -> bytes:
    try:
        descriptor = os.open(file, _OPENED)
    except OSError as error:
        if error.errno == errno.ENXIO:  # a socket, or a device that is not there
            raise FileAccessError(file, _NOT_REGULAR) from error
        raise
    try:
        mode = os.fstat(descriptor).st_mode
        if not stat.S_ISREG(mode):
            is_folder = stat.S_ISDIR(mode)
            raise FileAccessError(file, "this is a folder" if is_folder else _NOT_REGULAR)
        with open(descriptor, "rb", closefd=False) as stream:
            return stream.read(limit)
    finally:
        os.close(descriptor)


_NOT_REGULAR = "this is a pipe or a device and no file; write - to read standard input"


MOST_TOLD = 1000
"""Problems of a file that are told; a house limit, far beyond what anybody mends in one go."""


def first_problems(problems: Iterable[Problem]) -> list[Problem]:
    """Return as many problems as can be told, and one more to show that there are more."""
    return [*room_for([], problems)]


def room_for(problems: Sized, more: Iterable[Problem]) -> Iterator[Problem]:
    """Yield as many problems more as can be told behind others, and one to show that there are more."""
    return islice(more, max(0, MOST_TOLD + 1 - len(problems)))


def shown_problems(problems: Iterable[Problem]) -> list[Problem]:
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
