"""A note that was stopped is finished by the next that writes, and by nothing that a folder brings along."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from eggfold.edit.commit import warnings, writing, written
from eggfold.edit.writing import Change, place
from eggfold.errors import FileAccessError
from eggfold.load.folder import JOURNAL_NAME

FILES = ("one.yaml", "two.yaml")


class StopError(BaseException):
    """The power goes."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    inside = tmp_path / "inside"
    inside.mkdir()
    for name in FILES:
        (inside / name).write_bytes(b"old")
    return inside


@pytest.fixture(autouse=True)
def state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path / "state" / "eggfold"


def changes(folder: Path) -> list[Change]:
    return [Change(str(folder / name), b"old", b"new") for name in FILES]


def texts(folder: Path) -> list[bytes]:
    return [(folder / name).read_bytes() for name in FILES]


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def write_all(folder: Path) -> None:
    with writing([str(folder)]) as finished, written(changes(folder), "rolled Reed bed"):
        assert finished is None


def stop_after(placed: int, folder: Path) -> None:
    """Let so many texts take their place, then cut the power; after the last, before the answer."""
    left = [placed]

    def placing(file: str, *, gone: bool) -> None:
        if not left[0]:
            raise StopError
        left[0] -= 1
        place(file, gone=gone)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("eggfold.edit.commit.place", placing)
        stop_before_the_answer(changes(folder))


def stop_before_the_answer(wanted: list[Change]) -> None:
    folders = [str(Path(change.file).parent) for change in wanted]
    with pytest.raises(StopError), writing(folders), written(wanted, "rolled Reed bed"):
        raise StopError


def test_a_note_that_ends_well_leaves_nothing_behind(folder: Path, state: Path) -> None:
    write_all(folder)
    assert texts(folder) == [b"new", b"new"]
    assert names(folder) == list(FILES)
    assert names(state) == []


@pytest.mark.parametrize("placed", [0, 1, 2])
def test_a_note_that_was_stopped_is_finished_in_place_of_the_next(
    folder: Path, state: Path, placed: int
) -> None:
    stop_after(placed, folder)
    stopped = texts(folder)
    assert "this finishes it: eggfold check --fix" in next(warnings([str(folder)]))
    assert texts(folder) == stopped == [b"new"] * placed + [b"old"] * (2 - placed)
    with pytest.raises(StopError), writing([str(folder)]):
        raise StopError  # before it was said that it is finished: so it is once more
    with writing([str(folder)]) as finished:
        assert "(rolled Reed bed)" in str(finished)
        assert "you are done" in str(finished)
    assert texts(folder) == [b"new", b"new"]
    assert names(folder) == list(FILES)
    assert names(state) == []
    assert list(warnings([str(folder)])) == []


def test_files_in_two_folders_are_finished_from_either(folder: Path) -> None:
    above = folder.parent / "shelf.yaml"
    above.write_bytes(b"old")
    stop_before_the_answer([Change(str(above), b"old", b"new"), changes(folder)[0]])
    with writing([str(folder.parent)]) as finished:
        assert finished
    assert JOURNAL_NAME not in names(folder) + names(folder.parent)


def test_a_note_is_not_interrupted_while_it_is_written(folder: Path) -> None:
    with writing([str(folder)]), written(changes(folder), "rolled Reed bed"):
        assert JOURNAL_NAME in names(folder)
        assert list(warnings([str(folder)])) == []


def refused(folder: Path) -> str:
    """Return how a flag is refused; all that stands here stays as it is."""
    before = names(folder), texts(folder)
    with pytest.raises(FileAccessError) as refusal:
        write_all(folder)
    assert f"then delete {folder / JOURNAL_NAME}" in str(refusal.value)
    assert (names(folder), texts(folder)) == before
    assert list(warnings([str(folder)])) == [str(refusal.value)]
    return str(refusal.value)


def test_what_was_edited_since_is_left_alone(folder: Path) -> None:
    stop_after(1, folder)
    (folder / "one.yaml").write_bytes(b"mine")
    with pytest.raises(FileAccessError, match="was changed since this note: rolled Reed bed"):
        write_all(folder)
    assert texts(folder) == [b"mine", b"old"]


def test_a_staged_text_that_is_another_is_not_taken(folder: Path) -> None:
    stop_after(1, folder)
    (folder / ".two.yaml.new").write_bytes(b"theirs")
    with pytest.raises(FileAccessError, match="was changed since"):
        write_all(folder)
    assert texts(folder) == [b"new", b"old"]


def test_a_folder_that_was_unpacked_brings_no_record_along(folder: Path) -> None:
    stop_after(1, folder)
    copy = folder.parent / "copy"
    shutil.copytree(folder, copy)
    assert "no note that you were writing" in refused(copy)


def test_a_journal_of_before_is_refused(folder: Path) -> None:
    text = '{"version": 1, "files": [{"file": "../../out", "old": null, "new": "mine"}]}'
    (folder / JOURNAL_NAME).write_text(text, encoding="utf-8")
    assert "with this version" in refused(folder)


def test_what_is_no_plain_file_is_no_flag(folder: Path) -> None:
    flag = folder / JOURNAL_NAME
    flag.symlink_to("/dev/zero")
    assert "no file of eggfold" in refused(folder)
    flag.unlink()
    flag.symlink_to("nowhere")
    assert "no file of eggfold" in refused(folder)
    flag.unlink()
    os.mkfifo(flag)
    assert "no file of eggfold" in refused(folder)
    flag.unlink()
    flag.mkdir()
    assert "no file of eggfold" in refused(folder)


@pytest.mark.skipif(os.geteuid() != 0, reason="only root gives files away")
def test_the_flag_of_another_user_is_refused(folder: Path) -> None:
    stop_after(1, folder)
    os.chown(folder / JOURNAL_NAME, 65534, -1)
    assert "another user" in refused(folder)


@pytest.mark.parametrize("text", ["", "{", "[]", '{"title": "x", "steps": [1]}'])
def test_a_broken_record_is_none(folder: Path, state: Path, text: str) -> None:
    stop_after(1, folder)
    (record,) = state.iterdir()
    record.write_text(text, encoding="utf-8")
    assert "no note that you were writing" in refused(folder)


@pytest.mark.parametrize("home", ["here", "state/eggfold/file"])
def test_without_a_record_nothing_is_written(
    folder: Path, state: Path, monkeypatch: pytest.MonkeyPatch, home: str
) -> None:
    state.mkdir(parents=True)
    (state / "file").write_bytes(b"")
    monkeypatch.setenv("XDG_STATE_HOME", home if home == "here" else str(state.parents[1] / home))
    with pytest.raises(FileAccessError, match="XDG_STATE_HOME"):
        write_all(folder)
    assert (names(folder), texts(folder)) == (list(FILES), [b"old", b"old"])


def test_a_file_that_cannot_be_written_leaves_the_other_as_it_was(folder: Path) -> None:
    both = changes(folder)
    (folder / "two.yaml").unlink()
    (folder / "two.yaml").mkdir()
    with pytest.raises(FileAccessError, match="plain"), writing([str(folder)]), written(both, "x"):
        pass
    assert (folder / "one.yaml").read_bytes() == b"old"
    assert names(folder) == list(FILES)
