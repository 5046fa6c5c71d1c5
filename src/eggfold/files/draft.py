"""A file opened to be changed: its bytes as they are, and its text."""

from __future__ import annotations

from typing import NamedTuple

from eggfold.errors import FileAccessError
from eggfold.files.writing import Change
from eggfold.load.gate import Source, encoded_like, read_source


class Draft(NamedTuple):
    """A file's old bytes, None where there is no file yet, and the text in them."""

    file: str
    old: bytes | None
    source: Source

    def change(self, text: str) -> Change:
        """Return the change to another text; an empty one is a file that goes."""
        return Change(self.file, self.old, encoded_like(self.old or b"", text) if text else None)


def open_draft(file: str) -> Draft:
    """Open a file to change it; raises FileAccessError or ProblemsError where it cannot be read."""
    if file == "-":
        raise FileAccessError(file, "standard input cannot be written to; name a file")
    try:
        source = read_source(file, kept=True)
    except FileAccessError as error:
        if isinstance(error.__cause__, FileNotFoundError):
            return Draft(file, None, Source(file, ""))
        raise
    return Draft(file, source.data, source)
