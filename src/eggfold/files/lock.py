"""One writer at a time in a folder: a lock that the system lets go when its holder dies."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import sys
import time
from collections.abc import Iterable, Iterator
from pathlib import Path

from eggfold.errors import FileAccessError

LOCK_NAME = ".eggfold-lock"
WAIT_S = 10.0
_PAUSE_S = 0.01
_CAREFUL = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
"""No link is followed, and no pipe waited for."""

if sys.platform == "win32":
    import msvcrt

    def _try_lock(descriptor: int) -> bool:
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
else:
    import fcntl

    def _try_lock(descriptor: int) -> bool:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


@contextlib.contextmanager
def locked(folders: Iterable[str], *, wait_s: float = WAIT_S) -> Iterator[None]:
    """Hold the locks of some folders, always taken in the same order.

    Raises FileAccessError where a folder cannot be written or another writer keeps its lock.
    """
    with contextlib.ExitStack() as stack:
        for folder in sorted({os.path.realpath(folder) for folder in folders}):
            path = str(Path(folder) / LOCK_NAME)
            descriptor = _acquire(path, time.monotonic() + wait_s)
            stack.callback(_release, path, descriptor)
        yield


def _acquire(path: str, deadline: float) -> int:
    while True:
        descriptor = _open(path)
        if _try_lock(descriptor):
            if _still_there(path, descriptor):
                return descriptor
        elif time.monotonic() > deadline:
            os.close(descriptor)
            reason = "another run of eggfold has been writing here for a while; try again"
            raise FileAccessError(str(Path(path).parent), reason)
        else:
            time.sleep(_PAUSE_S)
        os.close(descriptor)


def _open(path: str) -> int:
    try:
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT | _CAREFUL, 0o666)
    except OSError as error:
        if error.errno == errno.ELOOP:
            raise _stranger(path) from error
        reason = f"cannot write here ({error.strerror})"
        raise FileAccessError(str(Path(path).parent), reason) from error
    if not stat.S_ISREG(os.fstat(descriptor).st_mode):
        os.close(descriptor)
        raise _stranger(path)
    return descriptor


def _stranger(path: str) -> FileAccessError:
    return FileAccessError(path, "this is no file of eggfold; delete it")


def is_held(folder: str) -> bool:
    """Tell whether somebody is writing in a folder at this moment; nothing is written."""
    try:
        descriptor = os.open(Path(folder) / LOCK_NAME, os.O_RDONLY | _CAREFUL)
    except OSError:
        return False
    try:
        return not _try_lock(descriptor)
    finally:
        os.close(descriptor)


def _still_there(path: str, descriptor: int) -> bool:
    """Tell whether the locked file is the one that others find: its last holder removes it."""
    try:
        return os.path.samestat(Path(path).stat(), os.fstat(descriptor))
    except FileNotFoundError:
        return False


def _release(path: str, descriptor: int) -> None:
    """Remove the lock file while it is held, so that nobody can hold one that is gone."""
    with contextlib.suppress(OSError):  # a system that keeps open files leaves it for next time
        Path(path).unlink()
    os.close(descriptor)
