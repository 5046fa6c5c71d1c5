"""Writing a user's file so that whatever happens, the old or the new text stands there whole."""

from __future__ import annotations

import contextlib
import os
import stat
from pathlib import Path
from typing import NamedTuple

from eggfold.errors import FileAccessError


class Change(NamedTuple):
    """What a file is to become: None is a file that does not exist."""

    file: str
    old: bytes | None
    new: bytes | None


def read_whole(file: str) -> bytes | None:
    """Return a file's bytes, None where there is none."""
    try:
        return Path(file).read_bytes()
    except FileNotFoundError:
        return None
    except OSError as error:
        raise FileAccessError(file, error.strerror or str(error)) from error


def write_whole(file: str, data: bytes | None) -> None:
    """Put a file's new bytes in place of the old, or remove it; a link's target is what changes.

    Only the holder of the folder's lock may call this. Raises FileAccessError, and then the file is
    as it was.
    """
    target = Path(os.path.realpath(file))
    try:
        if data is None:
            target.unlink(missing_ok=True)
        else:
            _replace(file, target, data)
        _sync_folder(target.parent)
    except OSError as error:
        raise FileAccessError(file, f"cannot write ({error.strerror})") from error


def _replace(file: str, target: Path, data: bytes) -> None:
    existing = _status(file, target)
    fresh = target.with_name(f".{target.name}.new")
    fresh.unlink(missing_ok=True)  # what a killed run left; the lock says nobody is writing it
    try:
        _write_fresh(fresh, existing, data)
        _read_back(file, fresh, data)
        fresh.replace(target)
    except BaseException:
        with contextlib.suppress(OSError):
            fresh.unlink(missing_ok=True)
        raise


def _read_back(file: str, fresh: Path, data: bytes) -> None:
    if fresh.read_bytes() != data:
        raise FileAccessError(file, "what was written does not read back; nothing was changed")


def _status(file: str, target: Path) -> os.stat_result | None:
    try:
        existing = target.stat()
    except FileNotFoundError:
        return None
    if not stat.S_ISREG(existing.st_mode):
        raise FileAccessError(file, "is not a plain file")
    if not existing.st_mode & 0o222 or not os.access(target, os.W_OK):
        raise FileAccessError(file, "is read-only")
    return existing


def _write_fresh(fresh: Path, existing: os.stat_result | None, data: bytes) -> None:
    with fresh.open("xb") as stream:
        stream.write(data)
        stream.flush()
        if existing is not None:
            _take_over(stream.fileno(), fresh, existing)
        os.fsync(stream.fileno())


def _take_over(descriptor: int, fresh: Path, existing: os.stat_result) -> None:
    """Give the new file the old one's mode, and its owner where that is allowed."""
    own = os.fstat(descriptor)
    if hasattr(os, "fchown") and (own.st_uid, own.st_gid) != (existing.st_uid, existing.st_gid):
        with contextlib.suppress(PermissionError):
            os.fchown(descriptor, existing.st_uid, existing.st_gid)
    fresh.chmod(stat.S_IMODE(existing.st_mode))


def _sync_folder(folder: Path) -> None:
    """Make the change of names last through a power cut, on the systems that can."""
    with contextlib.suppress(OSError):  # the file itself is in place by now
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
