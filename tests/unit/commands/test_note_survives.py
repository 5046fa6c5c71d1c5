"""Notes outlive a kill at any step and two writers at once."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from eggfold.load.folder import interrupted
from eggfold.load.notebook import open_notebook
from killed_notes import note, write_seed
from running import TESTS, environment

if TYPE_CHECKING:
    from pathlib import Path

ENTRIES_EACH = 40

WRITER = """
import sys
from pathlib import Path
from killed_notes import note
for number in range(int(sys.argv[2]), int(sys.argv[3])):
    assert not note(Path(sys.argv[1]), number)
"""


def start(*args: str) -> subprocess.Popen[str]:
    """Start this interpreter with the tests' own modules."""
    paths = environment()["PYTHONPATH"] + f":{TESTS}"
    return subprocess.Popen(
        [sys.executable, *args],
        env=environment() | {"PYTHONPATH": paths},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def outputs(runs: list[subprocess.Popen[str]]) -> list[str]:
    """Return what all runs printed, once all have ended well."""
    ended = [(*run.communicate(), run.returncode) for run in runs]
    assert [(errors, code) for _, errors, code in ended] == [("", 0)] * len(runs)
    return [printed for printed, _, _ in ended]


def test_no_acknowledged_entry_is_lost_to_a_kill(tmp_path: Path) -> None:
    script = str(TESTS / "killed_notes.py")
    (printed,) = outputs([start(script, str(tmp_path / "notes"))])
    killed, caught = (int(word) for word in printed.split())
    assert killed > caught > 0


def test_two_writers_lose_nothing(tmp_path: Path) -> None:
    folder = tmp_path / "both"
    write_seed(folder)
    spans = [(1 + i * ENTRIES_EACH, 1 + (i + 1) * ENTRIES_EACH) for i in range(2)]
    outputs([start("-c", WRITER, str(folder), str(a), str(b)) for a, b in spans])
    notebook, problems = open_notebook(str(folder / "notebook.yaml"))
    numbers = [outing.takes for outing in notebook.fished[1:]]
    numbers += [int(bowl.finished.value) - 100 for bowl in notebook.rolled if bowl.finished]
    assert problems == []
    assert sorted(numbers) == list(range(1, 2 * ENTRIES_EACH + 1))


@pytest.mark.parametrize("full", [True, False])
def test_a_note_that_cannot_be_shown_is_written_and_said_to_be(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    *,
    full: bool,
) -> None:
    folder = tmp_path / "told"
    write_seed(folder)
    reading, writing = os.pipe()
    os.close(reading)
    output = os.open("/dev/full", os.O_WRONLY) if full else writing
    for number in (1, 2):
        with os.fdopen(os.dup(output), "w", encoding="utf-8") as stream, monkeypatch.context() as m:
            m.setattr(sys, "stdout", stream)
            assert note(folder, number) == 0
        told = capsys.readouterr().err
        assert told.startswith("eggfold: the note was written, only its answer cannot be shown: ")
        assert told.count("\n") == 1
    notebook, _ = open_notebook(str(folder / "notebook.yaml"))
    assert [len(notebook.fished), len(notebook.rolled)] == [2, 1]
    assert not interrupted(str(folder))
