"""A note is written whole: wherever it is stopped, the next writing command finishes it.

The new texts are put to disk beside the old ones, a record of their hashes is kept in the user's own
state folder, and a flag is put up beside the files; only then does each new text take its place. The
flag comes down when the answer has been shown. Nothing in a flag is read: what is finished is what
the record says, and no folder can bring a record along.
"""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import sys
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from shlex import quote

from eggfold.edit.writing import Change, place, stage, staged_name, write_whole
from eggfold.errors import FileAccessError
from eggfold.load.folder import JOURNAL_NAME, folder_of, interrupted, places_beside
from eggfold.load.gate import read_bytes
from eggfold.records import NamedTuple

LIMIT_BYTES = 64 * 1024 * 1024
"""More than any file that a note may be written into."""
FLAG = b"A note was being written here. Look with: eggfold check .\n"


class _Step(NamedTuple):
    """What a file becomes: hashes of its texts, None where there is no file."""

    file: str
    old: str | None
    new: str | None


class _Record(NamedTuple):
    """A note by its name, and every file that changes with it."""

    title: str
    steps: tuple[_Step, ...]

    @property
    def folders(self) -> list[str]:
        return list(dict.fromkeys(folder_of(step.file) for step in self.steps))


@contextmanager
def writing(folders: Iterable[str]) -> Iterator[str | None]:
    """Hold the locks of some folders to write there, unless an interrupted note is to be finished.

    Then it is, and a sentence is yielded instead of None: the body shows it, and writes nothing.
    Raises FileAccessError where a note cannot be finished.
    """
    wanted = {os.path.realpath(folder) for folder in folders}
    while True:
        with locked(wanted):
            stopped = sorted(filter(interrupted, wanted))
            if not stopped:
                yield None
                return
            record = _record(stopped[0])
            if wanted.issuperset(record.folders):
                yield _finish(stopped[0], record)
                _forget(record)
                return
        wanted.update(record.folders)


@contextmanager
def finishing(arguments: Iterable[str]) -> Iterator[str | None]:
    """Finish a note that was interrupted in a folder of some files, or beside them, as ``writing``."""
    files = list(dict.fromkeys(_inside(argument) for argument in arguments))
    with writing(folder for folder in places_beside(files) if interrupted(folder)) as finished:
        yield finished


def _inside(argument: str) -> str:
    return str(Path(argument, "any")) if Path(argument).is_dir() else argument


@contextmanager
def written(changes: Iterable[Change], title: str) -> Iterator[None]:
    """Write all changes or none; the note counts as interrupted until the body has ended well.

    The caller holds the locks of the folders. Raises FileAccessError.
    """
    changes = [change for change in changes if change.old != change.new]
    steps = (_Step(os.path.realpath(c.file), _hash(c.old), _hash(c.new)) for c in changes)
    record = _Record(title, tuple(steps))
    try:
        for change in changes:
            stage(change.file, change.new)
        _announce(record)
    except BaseException:
        _forget(record)
        raise
    for number, step in enumerate(record.steps):
        _place(record, step, first=not number)
    yield
    _forget(record)


def _announce(record: _Record) -> None:
    """Keep the record, then put up the flags: a flag never stands without its record."""
    data = _record_bytes(record)
    for folder in record.folders:
        file = _record_file(folder)
        try:
            file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            write_whole(str(file), data)
        except (OSError, FileAccessError) as error:
            text = (
                "no record of the note can be kept here, so nothing was written; name a folder in"
            )
            raise FileAccessError(str(file.parent), f"{text} XDG_STATE_HOME") from error
    for folder in record.folders:
        write_whole(_flag(folder), FLAG)


def _forget(record: _Record) -> None:
    """Take down the flags; then nothing needs the record, nor what was never put in its place."""
    with suppress(OSError, FileAccessError):  # the next writing command does it
        for folder in record.folders:
            Path(_flag(folder)).unlink(missing_ok=True)
        for step in record.steps:
            staged_name(step.file).unlink(missing_ok=True)
        for folder in record.folders:
            _record_file(folder).unlink(missing_ok=True)


def _place(record: _Record, step: _Step, *, first: bool) -> None:
    try:
        place(step.file, gone=step.new is None)
    except FileAccessError as error:
        if first:
            _forget(record)
            raise
        reason = f"{error.reason}; the rest of the note is written, and the next note finishes it"
        raise FileAccessError(step.file, reason) from error


def _finish(folder: str, record: _Record) -> str:
    """Put in place what is missing of a note, and say so; its files must be as it left them."""
    waiting = []
    for step in record.steps:
        now = _hash_of(step.file)
        if now == step.old and step.new in (None, _hash_of(str(staged_name(step.file)))):
            waiting.append(step)
        elif now != step.new:
            raise _refusal(folder, f"{step.file} was changed since this note: {record.title}")
    for step in waiting:
        place(step.file, gone=step.new is None)
    return (
        f"an interrupted note was finished ({record.title}) and nothing else was written. If this "
        "was the same bowl, you are done; if not, run it again"
    )


def warnings(folders: Iterable[str]) -> Iterator[str]:
    """Say what was interrupted in some folders, and what finishes it; nothing is written."""
    stopped = {os.path.realpath(folder): folder for folder in folders if interrupted(folder)}
    for folder, shown in stopped.items():
        if is_held(folder):  # it is being written at this moment
            continue
        try:
            title = _record(folder).title
        except FileAccessError as error:
            yield str(error)
        else:
            how = f"eggfold check --fix {quote(shown)}"
            yield f"{shown}: a note was interrupted here ({title}); this finishes it: {how}"


def _record(folder: str) -> _Record:
    """Return what is known of a folder's flag; raises FileAccessError where it is a stranger's."""
    try:
        flag = os.lstat(_flag(folder))
    except OSError as error:
        raise FileAccessError(_flag(folder), error.strerror or str(error)) from error
    if not stat.S_ISREG(flag.st_mode):
        raise _refusal(folder, "this is no file of eggfold")
    if _is_foreign(flag):
        raise _refusal(folder, "this stands for a note of another user")
    record = _read_record(folder)
    if record is None:
        raise _refusal(folder, "this stands for no note that you were writing with this version")
    return record


def _refusal(folder: str, reason: str) -> FileAccessError:
    return FileAccessError(
        _flag(folder),
        f"{reason}; see that the notebook and the shelf agree, then delete {_flag(folder)}",
    )


def _is_foreign(status: os.stat_result) -> bool:
    return hasattr(os, "geteuid") and status.st_uid != os.geteuid()


def _flag(folder: str) -> str:
    return str(Path(folder) / JOURNAL_NAME)


def _record_file(folder: str) -> Path:
    """Return where the record of a folder lies: out of reach of whatever was unpacked there."""
    base = os.environ.get("XDG_STATE_HOME") or os.environ.get("LOCALAPPDATA")
    state = Path(base) if base else Path("~/.local/state")
    try:
        state = state.expanduser() / "eggfold"
    except RuntimeError:
        state = Path("eggfold")
    if not state.is_absolute():
        raise FileAccessError(str(state), "name your own state folder in XDG_STATE_HOME, from /")
    return state / f"{_hash(os.fsencode(folder))}.json"


def _record_bytes(record: _Record) -> bytes:
    import json  # noqa: PLC0415 - only a note needs it

    return json.dumps({"title": record.title, "steps": record.steps}).encode()


def _read_record(folder: str) -> _Record | None:
    import json  # noqa: PLC0415

    try:
        file = str(_record_file(folder))
        if _is_foreign(os.lstat(file)):
            return None
        data = json.loads(read_bytes(file, LIMIT_BYTES))
        return _Record(data["title"], tuple(_Step(*step) for step in data["steps"]))
    except (OSError, FileAccessError, ValueError, KeyError, TypeError):
        return None


def _hash(data: bytes | None) -> str | None:
    from hashlib import sha256  # noqa: PLC0415

    return None if data is None else sha256(data).hexdigest()


def _hash_of(file: str) -> str | None:
    """Return the hash of a file, None where there is none; what is no plain file has no real one."""
    try:
        return _hash(read_bytes(file, LIMIT_BYTES))
    except FileAccessError as error:
        return None if isinstance(error.__cause__, FileNotFoundError) else "unreadable"


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
