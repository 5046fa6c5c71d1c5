"""A changed shelf is read back: one that says anything else than it should is not written."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import pytest

from eggfold.edit.splice import Splice, refuse_harm, spliced
from eggfold.errors import FileAccessError, ProblemsError
from eggfold.load.shelf import open_shelf
from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

SHELF = """\
currency: EUR
items:
  Malt syrup: {left: 500 g, sold_in: [{size: 450 g, price: 3.40}]}
  Salt: {left: 1 kg, also: [Table salt]}
"""


def refuse(folder: Path, text: str) -> None:
    file = folder / "shelf.yaml"
    file.write_text(SHELF, encoding="utf-8")
    shelf, problems = open_shelf(str(file))
    assert shelf
    assert not problems
    refuse_harm(str(file), text, shelf, {"Salt"})


@pytest.mark.parametrize(
    ("old", "new"),
    [("left: 1 kg", "left: 900 g"), ("Salt: {", "Salt: {density: 1.2 g/ml, "), ("EUR", "GBP")],
)
def test_what_was_meant_to_change_may(tmp_path: Path, old: str, new: str) -> None:
    refuse(tmp_path, SHELF.replace(old, new))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("500 g", "50 g"),
        ("price: 3.40", "price: 3.4"),
        ("Malt syrup", "Malt"),
        ("  Malt syrup: {left: 500 g, sold_in: [{size: 450 g, price: 3.40}]}\n", ""),
        ("items:", "measures: us\nitems:"),
    ],
)
def test_what_else_changes_is_refused(tmp_path: Path, old: str, new: str) -> None:
    with pytest.raises(FileAccessError, match="cannot be changed safely"):
        refuse(tmp_path, SHELF.replace(old, new))


@pytest.mark.parametrize(
    ("old", "new"), [("1 kg", "1 kgg"), ("1 kg, also", "1 kg also: ["), ("  Salt", " Salt")]
)
def test_what_does_not_read_is_refused(tmp_path: Path, old: str, new: str) -> None:
    with pytest.raises(ProblemsError):
        refuse(tmp_path, SHELF.replace(old, new))


RECIPE = "name: Reed\nbase_mix: M\nadditives: [{name: Salt, form: powder, hookbait: 5 g per egg}]\n"
BOUGHT = ["note", "bought", "Salt", "1 kg"]
ROLLED = ["note", "rolled", "reed.yaml", "--eggs", "2", "--as", "hookbait"]
UNDO = ["note", "rolled", "--undo"]


@pytest.mark.parametrize("commands", [(BOUGHT,), (ROLLED,), (ROLLED, UNDO)])
def test_no_note_is_written_that_harms_the_rest_of_the_shelf(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, commands: tuple[list[str], ...]
) -> None:
    (tmp_path / "shelf.yaml").write_text(SHELF, encoding="utf-8")
    (tmp_path / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    *sound, harmful = commands
    for command in sound:
        assert run_eggfold(command, tmp_path).exit == 0
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert run_eggfold([*harmful, "--dry-run"], tmp_path).exit == 0
    put_wrong = 0

    def wrong(text: str, splices: list[Splice]) -> str:
        nonlocal put_wrong
        put_wrong += 1
        return spliced(text, splices).replace("450 g", "540 g")

    for module in [*sys.modules.values()]:
        if module.__name__.startswith("eggfold.stock") and hasattr(module, "spliced"):
            monkeypatch.setattr(module, "spliced", wrong)
    outcome = run_eggfold(harmful, tmp_path)
    assert outcome.exit == 4
    assert "cannot be changed safely" in outcome.stderr
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before
    assert put_wrong == 1
