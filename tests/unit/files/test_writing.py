"""A file is replaced whole or not at all, and keeps what is the user's."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
import time
from typing import TYPE_CHECKING

import pytest

from eggfold.errors import FileAccessError
from eggfold.files.folder import JOURNAL_NAME
from eggfold.files.journal import mend, write_changes, writing
from eggfold.files.lock import LOCK_NAME, locked
from eggfold.files.writing import Change, write_whole
from running import environment, run_eggfold

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

RECIPE = "name: Reed bed\nbase_mix: Reed mix\n"
FISHED = ["note", "fished", "reed.yaml", "--rods", "2", "--hours", "6", "--takes", "1"]
ROLLED = ["note", "rolled", "reed.yaml", "--eggs", "2", "--as", "hookbait"]
SHELF = "items:\n  EU large eggs:\n    left: 30\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    return tmp_path


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_the_mode_is_kept(tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    file.write_bytes(b"old")
    file.chmod(0o640)
    write_whole(str(file), b"new")
    assert (file.read_bytes(), stat.S_IMODE(file.stat().st_mode)) == (b"new", 0o640)


def test_a_new_file_has_the_mode_of_any_new_file(tmp_path: Path) -> None:
    (tmp_path / "plain").write_bytes(b"")
    write_whole(str(tmp_path / "a.yaml"), b"new")
    assert (tmp_path / "a.yaml").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_link_stays_a_link_and_its_target_changes(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    target, link = tmp_path / "real" / "a.yaml", tmp_path / "a.yaml"
    target.write_bytes(b"old")
    link.symlink_to(target)
    write_whole(str(link), b"new")
    assert link.is_symlink()
    assert target.read_bytes() == b"new"
    assert names(tmp_path / "real") == ["a.yaml"]


def test_what_a_killed_run_left_is_cleared(tmp_path: Path) -> None:
    (tmp_path / ".a.yaml.new").write_bytes(b"half of i")
    write_whole(str(tmp_path / "a.yaml"), b"new")
    assert names(tmp_path) == ["a.yaml"]


def test_a_folder_is_no_file_to_write(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").mkdir()
    with pytest.raises(FileAccessError, match="not a plain file"):
        write_whole(str(tmp_path / "a.yaml"), b"new")


def test_what_does_not_read_back_is_not_put_in_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a.yaml"
    file.write_bytes(b"old")
    monkeypatch.setattr(os, "fsync", lambda descriptor: os.ftruncate(descriptor, 2))
    with pytest.raises(FileAccessError, match="does not read back; nothing was changed"):
        write_whole(str(file), b"new")
    assert file.read_bytes() == b"old"
    assert names(tmp_path) == ["a.yaml"]


FULL_DISK = """
import resource, signal, sys
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[1]), int(sys.argv[1])))
from eggfold.__main__ import run
sys.exit(run(sys.argv[2:]))
"""


@pytest.mark.parametrize("room", [0, 40, 200])
def test_a_full_disk_leaves_both_old_files_whole(folder: Path, room: int) -> None:
    notebook = "# a season\nfished: []\n" + "# and what it was like\n" * 20
    (folder / "notebook.yaml").write_text(notebook, encoding="utf-8")
    (folder / "shelf.yaml").write_text(SHELF, encoding="utf-8")
    before = names(folder)
    ended = subprocess.run(
        [sys.executable, "-c", FULL_DISK, str(room), *ROLLED],
        cwd=folder,
        env=environment() | {"PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 4
    assert "cannot write" in ended.stderr
    assert len(ended.stderr.splitlines()) == 1
    assert (folder / "notebook.yaml").read_text("utf-8") == notebook
    assert (folder / "shelf.yaml").read_text("utf-8") == SHELF
    assert names(folder) == before


@pytest.fixture
def read_only(folder: Path) -> Iterator[Path]:
    """A folder that may be read and not written, its parents open to everybody."""
    private = [path for path in folder.parents if path.name.startswith(("pytest-", "test_"))]
    modes = [(path, stat.S_IMODE(path.stat().st_mode)) for path in private]
    for path in private:
        path.chmod(0o755)
    folder.chmod(0o555)
    yield folder
    for path, mode in [(folder, 0o755), *modes]:
        path.chmod(mode)


WITHOUT_RIGHTS = """
import os, sys
from eggfold.__main__ import run
warm = run(["note", *sys.argv[1:], "--dry-run"])  # so that nothing is imported later
if os.geteuid() == 0:  # nothing is read-only to root
    os.setuid(65534)
sys.exit(warm or run(["note", *sys.argv[1:]]))
"""


def test_a_read_only_folder_is_said_and_left_alone(read_only: Path) -> None:
    ended = subprocess.run(
        [sys.executable, "-c", WITHOUT_RIGHTS, *FISHED[1:]],
        cwd=read_only,
        env=environment(),
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.stderr == f"eggfold: {read_only}: cannot write here (Permission denied)\n"
    assert ended.returncode == 4
    assert names(read_only) == ["reed.yaml"]


HOLDER = f"""
import fcntl, os, sys, time
descriptor = os.open(sys.argv[1] + "/{LOCK_NAME}", os.O_RDWR | os.O_CREAT)
fcntl.flock(descriptor, fcntl.LOCK_EX)
print("held", flush=True)
time.sleep(60)
"""


@pytest.fixture
def holder(tmp_path: Path) -> Iterator[subprocess.Popen[str]]:
    """Another process that holds the folder's lock."""
    other = subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(tmp_path)], stdout=subprocess.PIPE, text=True
    )
    assert other.stdout
    assert other.stdout.readline() == "held\n"
    yield other
    other.kill()
    other.communicate()


def test_a_held_lock_ends_the_wait_with_a_sentence(
    tmp_path: Path, holder: subprocess.Popen[str]
) -> None:
    start = time.monotonic()
    with pytest.raises(FileAccessError, match="another run"), locked([str(tmp_path)], wait_s=0.1):
        pass
    assert time.monotonic() - start >= 0.1
    assert holder.poll() is None


def test_the_lock_of_a_dead_holder_is_free(tmp_path: Path, holder: subprocess.Popen[str]) -> None:
    holder.kill()
    holder.wait()
    assert names(tmp_path) == [LOCK_NAME]
    with locked([str(tmp_path)], wait_s=5):
        pass
    assert names(tmp_path) == []


def test_a_lock_keeps_the_next_one_out(tmp_path: Path) -> None:
    with (
        locked([str(tmp_path)]),
        pytest.raises(FileAccessError, match="try again"),
        locked([str(tmp_path)], wait_s=0.05),
    ):
        pass
    assert names(tmp_path) == []


class StopError(Exception):
    """The power goes."""


def two_changes(folder: Path) -> list[Change]:
    for name in ("one.yaml", "two.yaml"):
        (folder / name).write_bytes(b"old")
    return [Change(str(folder / n), b"old", b"new") for n in ("one.yaml", "two.yaml")]


def stop_after(writes: int, changes: list[Change]) -> None:
    """Let so many files be written, then cut the power: nothing is mended any more."""
    left = [writes]

    def write(file: str, data: bytes | None) -> None:
        if not left[0]:
            raise StopError
        left[0] -= 1
        write_whole(file, data)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("eggfold.files.journal.write_whole", write)
        with pytest.raises(StopError):
            write_changes(changes)


@pytest.mark.parametrize(
    ("writes", "outcome", "said"),
    [(1, b"old", 0), (2, b"new", 1), (3, b"new", 0)],
)
def test_a_stop_between_two_files_is_finished_or_withdrawn(
    tmp_path: Path, writes: int, outcome: bytes, said: int
) -> None:
    changes = two_changes(tmp_path)
    stop_after(writes, changes)
    assert JOURNAL_NAME in names(tmp_path)
    notes = mend([str(tmp_path)])
    assert names(tmp_path) == ["one.yaml", "two.yaml"]
    assert {(tmp_path / n).read_bytes() for n in names(tmp_path)} == {outcome}
    assert len(notes) == said


def test_what_was_edited_since_is_left_alone(tmp_path: Path) -> None:
    changes = two_changes(tmp_path)
    stop_after(2, changes)
    (tmp_path / "one.yaml").write_bytes(b"mine")
    notes = mend([str(tmp_path)])
    assert [(tmp_path / n).read_bytes() for n in ("one.yaml", "two.yaml")] == [b"mine", b"old"]
    assert "compare them" in notes[0]


def test_an_error_in_the_second_file_puts_the_first_back(tmp_path: Path) -> None:
    changes = two_changes(tmp_path)
    (tmp_path / "two.yaml").unlink()
    (tmp_path / "two.yaml").mkdir()
    with pytest.raises(FileAccessError):
        write_changes(changes)
    assert (tmp_path / "one.yaml").read_bytes() == b"old"
    assert names(tmp_path) == ["one.yaml", "two.yaml"]


def test_a_copied_journal_changes_nothing_elsewhere(tmp_path: Path) -> None:
    changes = two_changes(tmp_path)
    stop_after(2, changes)
    copy = tmp_path / "copy"
    copy.mkdir()
    (copy / JOURNAL_NAME).write_bytes((tmp_path / JOURNAL_NAME).read_bytes())
    assert mend([str(copy)]) == []
    assert names(copy) == []
    assert (tmp_path / "two.yaml").read_bytes() == b"old"


@pytest.mark.parametrize("data", [b"", b"{", b'{"files": [{"file": 1}]}', b"[]"])
def test_a_journal_that_says_nothing_is_cleared_away(tmp_path: Path, data: bytes) -> None:
    (tmp_path / JOURNAL_NAME).write_bytes(data)
    with writing([str(tmp_path / "one.yaml")]) as notes:
        assert notes == []
    assert names(tmp_path) == []


def test_the_next_command_of_any_kind_finishes_what_was_interrupted(folder: Path) -> None:
    shelf, notebook = folder / "shelf.yaml", folder / "notebook.yaml"
    shelf.write_text(SHELF, encoding="utf-8")
    entry = b"rolled:\n  - {date: 2025-05-01, recipe: Reed bed, strength: hookbait, eggs: 2}\n"
    changes = [
        Change(str(shelf), SHELF.encode(), SHELF.replace("30", "28").encode()),
        Change(str(notebook), None, entry),
    ]
    stop_after(2, changes)
    assert not notebook.exists()
    outcome = run_eggfold(["batch", "reed.yaml"], folder)
    assert outcome.exit == 0
    assert "an interrupted note was finished" in outcome.stderr
    assert notebook.read_bytes() == entry
    assert names(folder) == ["notebook.yaml", "reed.yaml", "shelf.yaml"]


def test_a_link_to_nowhere_is_no_journal(tmp_path: Path) -> None:
    (tmp_path / JOURNAL_NAME).symlink_to(tmp_path / "nowhere")
    assert mend([str(tmp_path)]) == []
