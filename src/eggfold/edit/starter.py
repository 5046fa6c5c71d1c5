"""Writing a new folder of files: all of them, or none."""

from __future__ import annotations

import contextlib
import shutil
from collections.abc import Mapping
from pathlib import Path

from eggfold.errors import FileAccessError


def write_folder(folder: str, files: Mapping[str, str]) -> None:
    """Write files into a folder that is new or empty.

    Raises FileAccessError where something is in the way or cannot be written; then nothing is left.
    """
    target = Path(folder)
    try:
        made = _make(target)
        _fill(target, files, made=made)
    except OSError as error:
        raise FileAccessError(folder, error.strerror or str(error)) from error


def _make(target: Path) -> bool:
    """Return whether the folder had to be made."""
    if target.is_dir():
        if any(target.iterdir()):
            raise FileAccessError(str(target), "is not empty; name a new folder")
        return False
    if target.exists():
        raise FileAccessError(str(target), "is a file; name a new folder")
    if not target.parent.is_dir():
        raise FileAccessError(str(target.parent), "there is no such folder to put a new one into")
    target.mkdir()
    return True


def _fill(target: Path, files: Mapping[str, str], *, made: bool) -> None:
    written: list[Path] = []
    try:
        for name, text in files.items():
            path = target / name
            if not path.parent.is_dir():
                path.parent.mkdir()
                written.append(path.parent)
            written.append(path)
            path.write_text(text, "utf-8", newline="\n")
    except BaseException:
        for path in reversed(written):
            with contextlib.suppress(OSError):
                path.rmdir() if path.is_dir() else path.unlink()
        if made:
            shutil.rmtree(target, ignore_errors=True)
        raise
