"""Writing files so that whatever happens, the old or the new content stands there whole; what differs.

``write_file`` is for answers, ``write_whole`` for the user's own files, under the folder's lock.
"""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Iterable, Iterator
from itertools import groupby
from pathlib import Path

from eggfold.errors import FileAccessError
from eggfold.load.folder import SUFFIXES
from eggfold.load.gate import Source, encoded_like, encoding_of, read_bytes, read_source
from eggfold.records import NamedTuple


class Change(NamedTuple):
    """What a file is to become: None is a file that does not exist."""

    file: str
    old: bytes | None
    new: bytes | None


def write_file(path: Path, content: bytes, *, force: bool) -> None:
    """Write an answer; a link's target is what changes.

    An existing file is left alone without ``force``; with it, it keeps its mode. A device or a
    pipe is written to as it is. Raises FileAccessError.
    """
    target = Path(os.path.realpath(path))
    try:
        existing = _status(target)
        if existing is not None and not stat.S_ISREG(existing.st_mode):
            target.write_bytes(content)
            return
        if (existing is not None or path.is_symlink()) and not force:
            raise FileAccessError(str(path), "it is there already; --force writes over it")
        fresh = target.with_name(f".eggfold-{os.getpid()}-{os.urandom(4).hex()}.part")
        with _made(fresh):
            _write_fresh(fresh, content, existing)
            fresh.replace(target)
        _sync_folder(target.parent)
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


def write_whole(file: str, data: bytes | None) -> None:
    """Put a file's new bytes in place of the old, or remove it; a link's target is what changes.

    Only the holder of the folder's lock may call this. Raises FileAccessError, and then the file is
    as it was.
    """
    stage(file, data)
    with _made(staged_name(file)):
        place(file, gone=data is None)


def stage(file: str, data: bytes | None) -> None:
    """Put a file's new bytes to disk beside it, where ``place`` finds them; None is no file."""
    target = Path(os.path.realpath(file))
    try:
        existing = _status(target)
        _refuse_unwritable(file, target, existing)
        if data is None:
            return
        fresh = staged_name(file)
        fresh.unlink(missing_ok=True)  # what a killed run left; the lock says nobody is writing it
        with _made(fresh):
            _write_fresh(fresh, data, existing)
            if read_bytes(str(fresh), len(data) + 1) != data:
                raise FileAccessError(
                    file, "what was written does not read back; nothing was changed"
                )
    except OSError as error:
        raise FileAccessError(file, f"cannot write ({error.strerror})") from error


def place(file: str, *, gone: bool = False) -> None:
    """Put what was staged in the file's place, or remove the file; raises FileAccessError."""
    target = Path(os.path.realpath(file))
    try:
        if gone:
            target.unlink(missing_ok=True)
        else:
            staged_name(file).replace(target)
    except OSError as error:
        raise FileAccessError(file, f"cannot write ({error.strerror})") from error
    _sync_folder(target.parent)


def staged_name(file: str) -> Path:
    """Return where a file's new bytes wait for their place."""
    target = Path(os.path.realpath(file))
    return target.with_name(f".{target.name}.new")


def _refuse_unwritable(file: str, target: Path, existing: os.stat_result | None) -> None:
    if Path(file).is_symlink() and (existing is None or target.suffix not in SUFFIXES):
        reason = f"is a link to {target}; only one to a {' or '.join(SUFFIXES)} that is there is followed"
        raise FileAccessError(file, reason)
    if existing is None:
        return
    if not stat.S_ISREG(existing.st_mode):
        raise FileAccessError(file, "is not a plain file")
    if not existing.st_mode & 0o222 or not os.access(target, os.W_OK):
        raise FileAccessError(file, "is read-only")


def _status(target: Path) -> os.stat_result | None:
    try:
        return target.stat()
    except FileNotFoundError:
        return None


@contextlib.contextmanager
def _made(fresh: Path) -> Iterator[None]:
    """Remove a file that was being made, unless it has become what it was for."""
    try:
        yield
    except BaseException:
        with contextlib.suppress(OSError):
            fresh.unlink(missing_ok=True)
        raise


def _write_fresh(fresh: Path, data: bytes, existing: os.stat_result | None) -> None:
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


def _reason(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return "its folder does not exist"
    return f"cannot be written: {error.strerror or error}"


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


CONTEXT = 3
"""Lines shown around what changed."""


def differences_text(changes: Iterable[Change]) -> str:
    """Return changes as unified diffs, one after the other."""
    return "".join(map(_difference_text, changes))


def _difference_text(change: Change) -> str:
    import difflib  # noqa: PLC0415 - only a dry run needs it

    old, new = _lines(change.old), _lines(change.new)
    before = change.file if change.old is not None else "/dev/null"
    after = change.file if change.new is not None else "/dev/null"
    if old != new and len(old) == len(new):
        lines = [f"--- {before}\n", f"+++ {after}\n", *_line_by_line(old, new)]
    else:
        lines = list(difflib.unified_diff(old, new, before, after))
    return "".join(_whole_line(line) for line in lines)


def _line_by_line(old: list[str], new: list[str]) -> Iterator[str]:
    """Yield the hunks of a text of which only words changed: difflib would seek each line everywhere."""
    hunk: list[int] = []
    for i, (before, after) in enumerate(zip(old, new, strict=True)):
        if before == after:
            continue
        if hunk and i - hunk[-1] > 2 * CONTEXT + 1:
            yield from _hunk(old, new, hunk)
            hunk = []
        hunk.append(i)
    if hunk:
        yield from _hunk(old, new, hunk)


def _hunk(old: list[str], new: list[str], changed: list[int]) -> Iterator[str]:
    first, end = max(0, changed[0] - CONTEXT), min(len(old), changed[-1] + CONTEXT + 1)
    span = f"{first + 1},{end - first}" if end - first > 1 else f"{first + 1}"
    yield f"@@ -{span} +{span} @@\n"
    for is_changed, run in groupby(range(first, end), set(changed).__contains__):
        lines = list(run)
        if is_changed:
            yield from (f"-{old[i]}" for i in lines)
            yield from (f"+{new[i]}" for i in lines)
        else:
            yield from (f" {old[i]}" for i in lines)


def _lines(data: bytes | None) -> list[str]:
    """Split at line feeds alone, so that a carriage return stays where it is."""
    data = data or b""
    text = data.decode(encoding_of(data)[0])
    parts = text.split("\n")
    return [f"{part}\n" for part in parts[:-1]] + ([parts[-1]] if parts[-1] else [])


def _whole_line(line: str) -> str:
    return line if line.endswith("\n") else f"{line}\n\\ No newline at end of file\n"
