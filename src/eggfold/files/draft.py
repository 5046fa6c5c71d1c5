"""A file opened to be changed: its bytes as they are, and its text."""

from __future__ import annotations

from typing import NamedTuple

from eggfold.errors import FileAccessError
from eggfold.files.source import Source, read_source
from eggfold.files.writing import Change, read_whole

BYTE_ORDER_MARK = b"\xef\xbb\xbf"


class Draft(NamedTuple):
    """A file's old bytes, None where there is no file yet, and the text in them."""

    file: str
    old: bytes | None
    source: Source

    def change(self, text: str) -> Change:
        """Return the change to another text; an empty one is a file that goes."""
        mark = BYTE_ORDER_MARK if (self.old or b"").startswith(BYTE_ORDER_MARK) else b""
        return Change(self.file, self.old, mark + text.encode() if text else None)


def open_draft(file: str, limit_bytes: int) -> Draft:
    """Open a file to change it; raises FileAccessError or ProblemsError where it cannot be read."""
    if file == "-":
        raise FileAccessError(file, "standard input cannot be written to; name a file")
    old = read_whole(file)
    source = Source(file, "") if old is None else read_source(file, limit_bytes=limit_bytes)
    return Draft(file, old, source)
