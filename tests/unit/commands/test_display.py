"""Colour and width: what a stream can show, through a real pseudo-terminal too."""

from __future__ import annotations

import fcntl
import io
import os
import pty
import re
import struct
import subprocess
import sys
import termios
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import eggfold
from eggfold.tasks.surroundings import Look, look_of
from running import ROOT, SOURCE_DATE, copy_recipes, run_eggfold

if TYPE_CHECKING:
    from collections.abc import Mapping

BOLD = "\x1b[1m"
BOIL = ("boil", "--diameter", "14mm")


class Terminal(io.StringIO):
    """A stream that is a terminal of unknown size."""

    def isatty(self) -> bool:
        return True


def environment(given: Mapping[str, str]) -> dict[str, str]:
    package = str(Path(eggfold.__file__).resolve().parents[1])
    kept = {"PATH": os.environ["PATH"], "PYTHONPATH": package, "TERM": "xterm"}
    return kept | {"SOURCE_DATE_EPOCH": SOURCE_DATE} | dict(given)


def command(args: tuple[str, ...]) -> list[str]:
    return [sys.executable, "-m", "eggfold", *args]


def on_terminal(*args: str, columns: int = 100, **given: str) -> str:
    """Return what a run writes to a terminal so many columns wide."""
    leader, follower = pty.openpty()
    fcntl.ioctl(follower, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    with subprocess.Popen(
        command(args), cwd=ROOT, env=environment(given), stdin=follower, stdout=follower
    ) as process:
        os.close(follower)
        written = b"".join(iter(lambda: _read(leader), b""))
    os.close(leader)
    assert process.returncode == 0
    return written.decode().replace("\r\n", "\n")


def _read(leader: int) -> bytes:
    try:
        return os.read(leader, 65536)
    except OSError:  # Linux's way to say that the other end is closed
        return b""


def piped(*args: str, **given: str) -> bytes:
    done = subprocess.run(
        command(args), cwd=ROOT, env=environment(given), capture_output=True, check=True
    )
    assert done.stderr == b""
    return done.stdout


def rule(text: str) -> int:
    """Return the width of the line under the title."""
    return max(len(line) for line in text.splitlines() if set(line) == {"="})


@pytest.mark.parametrize(
    ("columns", "width"), [(40, 60), (60, 60), (97, 97), (120, 120), (200, 120)]
)
def test_text_takes_the_width_of_the_terminal(columns: int, width: int) -> None:
    shown = on_terminal(*BOIL, columns=columns, NO_COLOR="1")
    assert rule(shown) == width
    assert max(map(len, shown.splitlines())) <= width
    assert "\x1b" not in shown


def test_columns_speaks_for_the_terminal_and_not_for_a_pipe() -> None:
    assert rule(on_terminal(*BOIL, COLUMNS="72", NO_COLOR="1")) == 72
    assert rule(on_terminal(*BOIL, COLUMNS="wide", NO_COLOR="1")) == 100
    assert rule(piped(*BOIL, COLUMNS="72").decode()) == 80


def test_a_pipe_is_plain_and_a_terminal_has_bold_headings() -> None:
    plain = piped(*BOIL)
    assert b"\x1b" not in plain
    shown = on_terminal(*BOIL, columns=80)
    assert f"{BOLD}TAKE CARE\x1b[0m\n" in shown
    assert re.sub(r"\x1b\[[01]m", "", shown).encode() == plain


def test_options_and_environment_choose_the_colour() -> None:
    assert BOLD not in on_terminal(*BOIL, TERM="dumb")
    assert BOLD not in on_terminal(*BOIL, "--color", "never")
    assert BOLD in on_terminal(*BOIL, "--color", "always", NO_COLOR="1")
    assert BOLD.encode() in piped(*BOIL, FORCE_COLOR="1")
    assert BOLD.encode() in piped(*BOIL, "--color", "always")


@pytest.mark.parametrize(
    ("environ", "color", "expected"),
    [
        ({}, "auto", True),
        ({"NO_COLOR": ""}, "auto", True),
        ({"NO_COLOR": "1"}, "auto", False),
        ({"NO_COLOR": "1", "FORCE_COLOR": "1"}, "auto", False),
        ({"TERM": "dumb"}, "auto", False),
        ({"TERM": "dumb", "FORCE_COLOR": "1"}, "auto", True),
        ({"TERM": "dumb"}, "always", True),
        ({}, "never", False),
    ],
)
def test_colour_on_a_terminal(environ: dict[str, str], color: str, expected: bool) -> None:
    assert look_of(Terminal(), environ, color) == Look(80, expected)


@pytest.mark.parametrize(
    ("environ", "color", "expected"),
    [
        ({}, "auto", False),
        ({"FORCE_COLOR": ""}, "auto", False),
        ({"FORCE_COLOR": "1"}, "auto", True),
        ({"FORCE_COLOR": "1"}, "never", False),
        ({"NO_COLOR": "1"}, "always", True),
        ({"COLUMNS": "120"}, "auto", False),
    ],
)
def test_colour_into_a_pipe(environ: dict[str, str], color: str, expected: bool) -> None:
    assert look_of(io.StringIO(), environ, color) == Look(80, expected)


@pytest.mark.parametrize("encoding", ["cp437", "latin-1", "cp1252", "koi8-r"])
def test_a_narrow_encoding_shows_stand_ins(encoding: str) -> None:
    whole = piped(*BOIL, PYTHONUTF8="1").decode()
    narrow = piped(*BOIL, PYTHONIOENCODING=encoding, PYTHONUTF8="0").decode(encoding)
    assert len(narrow.splitlines()) == len(whole.splitlines())
    assert "Boiling water and hot baskets scald" in narrow
    assert "?" not in narrow


def test_the_plain_locale_works() -> None:
    assert b"TAKE CARE" in piped(
        *BOIL, LANG="C", LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0"
    )


@pytest.mark.parametrize(
    "command",
    [
        "batch recipes/osierfen-caraway.yaml",
        "shopping recipes/osierfen-caraway.yaml",
        "doses recipes/osierfen-caraway.yaml",
        "powder recipes/osierfen-millet.yaml",
        "shelf recipes",
        "rolling recipes/weekend.yaml",
        "campaign recipes/season.yaml --date 2027-03-01",
    ],
)
def test_pages_in_kitchen_units_name_the_country(tmp_path: Path, command: str) -> None:
    copy_recipes(tmp_path)
    page = run_eggfold([*command.split(), "--units", "imperial"], tmp_path).stdout
    assert re.search(r" (oz|lb|fl oz|tsp)\b", page)
    assert "UNITS  imperial (UK)" in page
    assert "UNITS" not in run_eggfold(command.split(), tmp_path).stdout


def test_a_closed_output_is_named_before_anything_is_done() -> None:
    line = ["sh", "-c", '"$@" >&-', "sh", *command(BOIL)]
    done = subprocess.run(line, cwd=ROOT, env=environment({}), stderr=subprocess.PIPE, check=False)
    assert (done.returncode, done.stderr) == (
        4,
        b"eggfold: cannot write: standard output is closed\n",
    )


def test_closed_errors_do_not_come_out_among_the_results() -> None:
    line = ["sh", "-c", '"$@" 2>&-', "sh", *command(("check", "nowhere.yaml", "--format", "json"))]
    done = subprocess.run(line, cwd=ROOT, env=environment({}), stdout=subprocess.PIPE, check=False)
    assert done.returncode == 4
    assert b"No such file" not in done.stdout
