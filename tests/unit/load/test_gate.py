"""What is named has to be a file: nothing waits for a pipe, and nothing is read beyond a limit."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from running import environment, run_eggfold

RECIPE = "name: Rößler's reeds\nbase_mix: {name: Reed mix, amount: 130 g}\n"
OUTING = ("--rods", "2", "--hours", "3", "--takes", "1")
COMMANDS = (
    ("check", "{}"),
    ("batch", "{}"),
    ("batch", "reed.yaml", "--additives", "{}"),
    ("batch", "reed.yaml", "--notebook", "{}"),
    ("batch", "reed.yaml", "--bench", "{}"),
    ("shopping", "reed.yaml", "--shelf", "{}"),
    ("rolling", "{}"),
    ("note", "fished", "reed.yaml", *OUTING, "--notebook", "{}"),
    ("note", "bought", "Malt", "1 kg", "--shelf", "{}"),
)
IN_TIME_S = 20


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    return tmp_path


def run_in_time(
    folder: Path, *args: str, stdin: int = subprocess.DEVNULL
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "eggfold", *args],
        cwd=folder,
        env=environment(),
        stdin=stdin,
        capture_output=True,
        text=True,
        timeout=IN_TIME_S,
        check=False,
    )


def make_pipe(path: Path) -> None:
    os.mkfifo(path)


def make_device(path: Path) -> None:
    path.symlink_to("/dev/zero")


def make_socket(path: Path) -> None:
    here = Path.cwd()
    os.chdir(path.parent)  # a socket's path is short
    with socket.socket(socket.AF_UNIX) as made:
        made.bind(path.name)
    os.chdir(here)


@pytest.mark.skipif(sys.platform == "win32", reason="it has none of these")
@pytest.mark.parametrize("make", [make_pipe, make_device, make_socket])
@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_what_is_no_file_is_refused_at_once(
    folder: Path, make: type, command: tuple[str, ...]
) -> None:
    make(folder / "odd.yaml")
    ended = run_in_time(folder, *(word.replace("{}", "odd.yaml") for word in command))
    assert ended.returncode == 4
    assert "odd.yaml: this is a pipe or a device and no file" in ended.stderr
    assert "Traceback" not in ended.stderr


@pytest.mark.parametrize("option", ["--additives", "--notebook", "--bench"])
def test_a_folder_is_no_companion(folder: Path, option: str) -> None:
    (folder / "odd.yaml").mkdir()
    outcome = run_eggfold(["batch", "reed.yaml", option, "odd.yaml"], folder)
    assert outcome.exit == 4
    assert "odd.yaml: this is a folder" in outcome.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="a closed input is another thing there")
def test_a_closed_standard_input_is_said(folder: Path) -> None:
    command = f"{sys.executable} -m eggfold check - <&-"
    ended = subprocess.run(
        ["/bin/sh", "-c", command],
        cwd=folder,
        env=environment(),
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == 4
    assert "-: standard input is closed" in ended.stderr


def test_standard_input_is_read_up_to_the_limit_and_no_further(folder: Path) -> None:
    endlessly = "while True: print('# more')"
    with subprocess.Popen(
        [sys.executable, "-c", endlessly], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as endless:
        assert endless.stdout
        ended = run_in_time(folder, "check", "-", stdin=endless.stdout.fileno())
        endless.kill()
    assert ended.returncode == 1
    assert "-:1:1: the file is larger than 1 MiB" in ended.stdout


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_a_huge_file_is_not_read_through(folder: Path, command: tuple[str, ...]) -> None:
    with (folder / "huge.yaml").open("wb") as stream:
        stream.truncate(2**40)
    ended = run_in_time(folder, *(word.replace("{}", "huge.yaml") for word in command))
    assert ended.returncode == 1
    assert "huge.yaml:1:1: the file is larger than" in ended.stdout + ended.stderr


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be", "utf-8-sig"])
def test_a_text_with_a_mark_is_read_and_written_as_it_was(folder: Path, encoding: str) -> None:
    def written(text: str) -> bytes:
        mark = "" if encoding == "utf-8-sig" else "\ufeff"
        return (mark + text).encode(encoding)

    (folder / "reed.yaml").write_bytes(written(RECIPE))
    notebook = folder / "notebook.yaml"
    notebook.write_bytes(written("# Übersicht\nfished: []\n"))
    args = ["note", "fished", "reed.yaml", *OUTING, "--date", "2025-05-01"]
    assert run_eggfold(args, folder).exit == 0
    text = notebook.read_bytes().decode(encoding).removeprefix("\ufeff")
    noted = "# Übersicht\nfished:\n  - {date: 2025-05-01, recipe: Rößler's reeds"
    assert text.startswith(noted)
    assert notebook.read_bytes() == written(text)


def test_a_text_in_another_encoding_is_told_how_to_save_it(folder: Path) -> None:
    (folder / "old.yaml").write_bytes("name: Rößler".encode("latin-1"))
    (folder / "half.yaml").write_bytes("\ufeffname: R".encode("utf-16-le") + b"\x00")
    found = run_eggfold(["check", "old.yaml", "half.yaml"], folder).stdout
    assert "old.yaml:1:8: byte 0xf6 is not UTF-8" in found
    assert "try: save the file as UTF-8: most editors have the encoding under Save as" in found
    assert "half.yaml:1:8: byte 0x00 is not UTF-16" in found


@pytest.mark.parametrize("text", [b"n\0ame: Reed\n", b" \0name: Reed\n", b"\0name: Reed\n"])
def test_one_byte_of_nothing_makes_no_other_encoding(folder: Path, text: bytes) -> None:
    (folder / "slip.yaml").write_bytes(text)
    found = run_eggfold(["check", "slip.yaml"], folder).stdout
    at = text.index(b"\0") + 1
    assert f"slip.yaml:1:{at}: the control character U+0000" in found
