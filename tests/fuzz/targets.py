"""What fuzzing calls: each target takes any bytes and fails where the program breaks its word."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fuzz.answers import read_files
from fuzz.edits import edit_files
from fuzz.texts import read_amounts

if TYPE_CHECKING:
    from collections.abc import Callable

TARGETS: dict[str, Callable[[bytes], None]] = {
    "read": read_files,
    "amounts": read_amounts,
    "edit": edit_files,
}
