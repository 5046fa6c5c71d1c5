"""A file is replaced whole or not at all, and keeps what is the user's."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
import time
from typing import TYPE_CHECKING

import pytest

from eggfold.edit.commit import LOCK_NAME, locked
from eggfold.edit.writing import write_whole
from eggfold.errors import FileAccessError
from running import environment

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
    private = [
        path for path in folder.parents if path.name.startswith(("pytest-", "popen-", "test_"))
    ]
    modes = [(path, stat.S_IMODE(path.stat().st_mode)) for path in private]
    for path in private:
        path.chmod(0o755)
    folder.chmod(0o555)
    yield folder
    for path, mode in [(folder, 0o755), *modes]:
        path.chmod(mode)


WITHOUT_RIGHTS = """
import os, sys
from pathlib import Path
from tempfile import TemporaryDirectory
from eggfold.__main__ import run
with TemporaryDirectory() as warm:  # all is imported now: others may not read the interpreter's files
    recipe = Path(warm, sys.argv[2])
    recipe.write_bytes(Path(sys.argv[2]).read_bytes())
    code = run(["note", sys.argv[1], str(recipe), *sys.argv[3:]])
if os.geteuid() == 0:  # nothing is read-only to root
    os.setuid(65534)
sys.exit(code or run(["note", *sys.argv[1:]]))
"""


def test_a_folder_above_that_cannot_be_looked_into_has_no_companions(read_only: Path) -> None:
    read_only.parent.chmod(0o700)
    ended = subprocess.run(
        [sys.executable, "-c", WITHOUT_RIGHTS, *FISHED[1:]],
        cwd=read_only,
        env=environment(),
        capture_output=True,
        text=True,
        check=False,
    )
    assert "cannot write here (Permission denied)" in ended.stderr
    assert ended.returncode == 4


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


@pytest.mark.parametrize("pipe", [True, False])
def test_a_lock_that_is_none_is_refused_and_left_alone(tmp_path: Path, *, pipe: bool) -> None:
    if pipe:
        os.mkfifo(tmp_path / LOCK_NAME)
    else:
        (tmp_path / LOCK_NAME).symlink_to("elsewhere")
    with pytest.raises(FileAccessError, match="delete it"), locked([str(tmp_path)]):
        pass
    assert names(tmp_path) == [LOCK_NAME]


@pytest.mark.parametrize("target", ["gone.yaml", ".profile"])
def test_a_link_out_of_the_folder_is_not_written_through(tmp_path: Path, target: str) -> None:
    (tmp_path / ".profile").write_bytes(b"")
    (tmp_path / "a.yaml").symlink_to(target)
    with pytest.raises(FileAccessError, match="is a link to"):
        write_whole(str(tmp_path / "a.yaml"), b"new")
    assert names(tmp_path) == [".profile", "a.yaml"]
    assert (tmp_path / ".profile").read_bytes() == b""
