"""Writing a whole file so that nobody ever sees half of it."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from eggfold.errors import FileAccessError


def write_file(path: Path, content: bytes, *, force: bool) -> None:
    """Write a file at once: a temporary one in the same folder takes its place when it is whole.

    An existing file is left alone without ``force``; with it, it keeps its mode. A device or a
    pipe is written to as it is. Raises FileAccessError.
    """
    try:
        _write(Path(os.path.realpath(path)), content, force=force, shown=str(path))
    except OSError as error:
        raise FileAccessError(str(path), _reason(error)) from error


def make_folder(path: Path) -> None:
    """Make a folder and those above it unless it is there; raises FileAccessError."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except FileExistsError as error:
        raise FileAccessError(str(path), "this is a file and no folder") from error
    except OSError as error:
        raise FileAccessError(str(path), _reason(error)) from error


def _write(path: Path, content: bytes, *, force: bool, shown: str) -> None:
    mode = None
    if path.exists():
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            path.write_bytes(content)
            return
        if not force:
            raise FileAccessError(shown, "it is there already; --force writes over it")
        mode = stat.S_IMODE(status.st_mode)
    part = path.with_name(f".eggfold-{os.getpid()}-{os.urandom(4).hex()}.part")
    try:
        _write_part(part, content, mode)
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    _sync_folder(path.parent)


def _write_part(part: Path, content: bytes, mode: int | None) -> None:
    with part.open("xb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())
    if mode is not None:
        part.chmod(mode)


def _sync_folder(folder: Path) -> None:
    """Make the new name last too, where the system lets a folder be opened."""
    try:
        descriptor = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _reason(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return "its folder does not exist"
    return f"cannot be written: {error.strerror or error}"
