"""TAB in zsh and fish themselves: the shells run, read the set-up and are asked as by a hand."""

from __future__ import annotations

import os
import pty
import re
import select
import shutil
import subprocess
import sys
import time
from functools import partial
from typing import TYPE_CHECKING

import pytest

from running import copy_recipes, environment

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

LONGEST_S = 60


def shell(name: str) -> str:
    """Return where a shell is; without it there is nothing to ask."""
    found = shutil.which(name)
    if not found:
        pytest.skip(f"{name} is not installed")
    return found


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """Return a folder with recipes, a shelf and the program."""
    copy_recipes(tmp_path)
    for name in ("my reed, mix", "half:half"):
        (tmp_path / f"{name}.yaml").write_text("name: Reed\n", encoding="utf-8")
    (tmp_path / "shelf.yaml").write_text(
        "items:\n  EU large eggs: {left: 12}\n  Malt syrup, dark: {left: 1 l}\n", encoding="utf-8"
    )
    program = tmp_path / "eggfold"
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m eggfold "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    return tmp_path


def at_home(home: Path) -> dict[str, str]:
    path = f"{home}{os.pathsep}{os.environ['PATH']}"
    given = {"PATH": path, "HOME": str(home), "XDG_CONFIG_HOME": str(home), "TERM": "dumb"}
    return environment() | given


ZSHRC = """
PS1=ready
autoload -Uz compinit && compinit -D -u
eval "$(_EGGFOLD_COMPLETE=zsh_source eggfold)"
tell() { print -r -- "$BUFFER|" >> told; BUFFER= }
zle -N tell && bindkey '^X' tell
"""
AT_TAB = {
    "eggfold tri": "eggfold trials ",
    "eggfold batch recipes/osierfen-c": "eggfold batch recipes/osierfen-caraway.yaml ",
    "eggfold batch --as f": "eggfold batch --as freebie ",
    "eggfold note bought Malt": r"eggfold note bought Malt\ syrup,\ dark ",
    r"eggfold batch my\ re": r"eggfold batch my\ reed,\ mix.yaml ",
    "eggfold batch half": "eggfold batch half:half.yaml ",
    "eggfold rolling rec": "eggfold rolling recipes/",
}
"""What is typed before TAB, and what stands there after it."""


def test_zsh_completes_what_is_typed(home: Path) -> None:
    zsh = shell("zsh")
    (home / ".zshrc").write_text(ZSHRC, encoding="utf-8")
    told = home / "told"
    told.touch()
    terminal, its_side = pty.openpty()
    with subprocess.Popen(
        [zsh, "-i"],
        cwd=home,
        env=at_home(home),
        stdin=its_side,
        stdout=its_side,
        stderr=its_side,
        start_new_session=True,
    ) as process:
        _read_until(terminal, lambda shown: b"ready" in shown)
        for number, typed in enumerate(AT_TAB, start=1):
            os.write(terminal, f"{typed}\t\x18".encode())
            _read_until(terminal, partial(_has_lines, told, number))
        os.write(terminal, b"eggfold batch recipes/osierfen-\t")
        listed = _read_until(terminal, lambda shown: b"Weir" in shown)
        process.kill()
    os.close(its_side)
    os.close(terminal)
    assert told.read_text().splitlines() == [f"{after}|" for after in AT_TAB.values()]
    assert re.search(rb"recipes/osierfen-caraway\.yaml +-- Osierfen Caraway", listed)
    assert b"weekend" not in listed


def _has_lines(file: Path, number: int, _shown: bytes) -> bool:
    return len(file.read_text("utf-8").splitlines()) == number


def _read_until(terminal: int, is_enough: Callable[[bytes], bool]) -> bytes:
    """Return what a terminal shows until it is enough, or has taken too long."""
    shown, deadline = b"", time.monotonic() + LONGEST_S
    while not is_enough(shown) and time.monotonic() < deadline:
        if select.select([terminal], [], [], 0.05)[0]:
            shown += os.read(terminal, 65536)
    return shown


OFFERED = {
    "eggfold tri": ["trials"],
    "eggfold batch --as ": ["freebie", "hookbait"],
    "eggfold batch recipes/osierfen-c": ["recipes/osierfen-caraway.yaml"],
    "eggfold note bought malt": ["Malt syrup, dark"],
    "eggfold batch my": ["my reed, mix.yaml"],
    "eggfold rolling rec": ["recipes/"],
}
"""What fish is asked, and what it offers."""


def test_fish_offers_what_may_follow(home: Path) -> None:
    asked = "\n".join(f"complete -C '{typed}'; echo ==" for typed in OFFERED)
    script = f"_EGGFOLD_COMPLETE=fish_source eggfold | source\n{asked}"
    done = subprocess.run(
        [shell("fish"), "--no-config", "-c", script],
        cwd=home,
        env=at_home(home),
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stderr == ""
    *answers, rest = done.stdout.split("==\n")
    assert rest == ""
    for (typed, wanted), answer in zip(OFFERED.items(), answers, strict=True):
        assert [line.split("\t")[0] for line in answer.splitlines() if line] == wanted, typed
    assert "\nrecipes/osierfen-caraway.yaml\tOsierfen Caraway\n" in done.stdout
