"""Two files that change together: a stop between them is finished or withdrawn by the next run.

Before the first of them changes, a journal with all new texts and the old ones' hashes stands beside
each. Whoever finds one looks at the files: if none has changed, the note was never made; if some have,
the others follow.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Literal

from eggfold.errors import FileAccessError
from eggfold.files.folder import JOURNAL_NAME, folder_of, interrupted
from eggfold.files.lock import locked
from eggfold.files.writing import Change, read_whole, write_whole

State = Literal["old", "new", "other"]


def write_changes(changes: Iterable[Change]) -> None:
    """Write all changes or none, in order; the caller holds the locks of their folders."""
    changes = [change for change in changes if change.old != change.new]
    if len(changes) < 2:
        for change in changes:
            write_whole(change.file, change.new)
        return
    journals = _journals(change.file for change in changes)
    data = _journal_bytes(changes)
    try:
        for journal in journals:
            write_whole(journal, data)
        for change in changes:
            write_whole(change.file, change.new)
    except BaseException:
        if _withdraw(changes):
            _remove(journals, data)
        raise
    _remove(journals, data)


def _withdraw(changes: list[Change]) -> bool:
    """Put the old texts back; where even that fails, the journal is to stay for the next run."""
    whole = True
    for change in changes:
        try:
            current = read_whole(change.file)
        except FileAccessError:  # then it was not written either
            continue
        try:
            if current == change.new:
                write_whole(change.file, change.old)
        except FileAccessError:
            whole = False
    return whole


def _journals(files: Iterable[str]) -> list[str]:
    folders = dict.fromkeys(folder_of(file) for file in files)
    return [str(Path(folder) / JOURNAL_NAME) for folder in folders]


@contextmanager
def writing(files: Iterable[str]) -> Iterator[list[str]]:
    """Hold the locks for changing some files, once nothing interrupted is left beside them.

    Yields sentences about what had to be mended first.
    """
    files = list(files)
    folders = [folder_of(file) for file in files]
    notes: list[str] = []
    while True:
        notes += mend(folders)
        with locked(folders):
            if not any(interrupted(folder) for folder in folders):
                yield notes
                return


def mend(folders: Iterable[str]) -> list[str]:
    """Finish or withdraw what was interrupted in some folders; say what was done."""
    notes = []
    for folder in dict.fromkeys(folders):
        while interrupted(folder):
            notes += _mend(str(Path(folder) / JOURNAL_NAME))
    return notes


def _mend(journal: str) -> list[str]:
    data = read_whole(journal)
    entries = _journal_entries(data) if data else []
    journals = _journals(entry["file"] for entry in entries)
    with locked(str(Path(j).parent) for j in [journal, *journals]):
        if read_whole(journal) != data:  # its own run, or another, was faster
            return []
        if os.path.realpath(journal) in journals:
            return _settle(journals, data)
        _remove([journal], data)  # copied or moved here: it speaks of another folder's files
        return []


def _settle(journals: list[str], data: bytes | None) -> list[str]:
    """Bring the files of a journal to one state, remove it, and say what was done."""
    entries = _journal_entries(data) if data else []
    states: list[State] = [_state(entry) for entry in entries]
    names = " and ".join(entry["file"] for entry in entries)
    notes = []
    if "old" in states and "new" in states and "other" not in states:
        for entry, state in zip(entries, states, strict=True):
            if state == "old":
                write_whole(entry["file"], _new_bytes(entry))
        notes.append(f"an interrupted note was finished in {names}")
    elif "old" in states and "other" in states:
        text = f"a note was interrupted between {names}, and one was edited since: compare them"
        notes.append(text)
    _remove(journals, data)
    return notes


def _remove(journals: list[str], data: bytes | None) -> None:
    for journal in journals:
        if read_whole(journal) == data:
            write_whole(journal, None)


def _journal_bytes(changes: list[Change]) -> bytes:
    import json  # noqa: PLC0415 - only a note needs it

    entries = [
        {
            "file": os.path.realpath(change.file),
            "old": _hash(change.old),
            "new": None if change.new is None else change.new.decode(),
        }
        for change in changes
    ]
    return json.dumps({"version": 1, "files": entries}).encode()


def _journal_entries(data: bytes) -> list[dict[str, Any]]:
    """Return a journal's files; one that is none of ours has none, and is cleared away."""
    import json  # noqa: PLC0415

    try:
        entries = json.loads(data)["files"]
        return [{key: entry[key] for key in ("file", "old", "new")} for entry in entries]
    except (ValueError, KeyError, TypeError):
        return []


def _new_bytes(entry: dict[str, Any]) -> bytes | None:
    new: str | None = entry["new"]
    return None if new is None else new.encode()


def _state(entry: dict[str, Any]) -> State:
    data = read_whole(entry["file"])
    if data == _new_bytes(entry):
        return "new"
    return "old" if _hash(data) == entry["old"] else "other"


def _hash(data: bytes | None) -> str | None:
    import hashlib  # noqa: PLC0415

    return None if data is None else hashlib.sha256(data).hexdigest()
