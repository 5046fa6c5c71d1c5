"""A folder that somebody was sent makes no command write anything, whatever journal lies in it."""

from __future__ import annotations

import json
import os
from typing import TYPE_CHECKING

import pytest

from eggfold.commands.root import SUMMARIES
from eggfold.formats.registry import CALENDAR, FORMATS
from eggfold.load.folder import JOURNAL_NAME
from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

CARAWAY = "recipes/osierfen-caraway.yaml"
SIZE = ("--as", "freebie", "--eggs", "2")
READING = (
    ("batch", CARAWAY),
    ("shopping", CARAWAY, *SIZE),
    ("doses", CARAWAY),
    ("doses", "--additives", "recipes/additives.yaml"),
    ("boil", "--recipe", CARAWAY),
    ("buoyancy", "--core", "12mm", "--skin", "2mm", "--recipe", CARAWAY),
    ("powder", CARAWAY),
    ("labels", CARAWAY, *SIZE),
    ("shelf", "recipes"),
    ("trials", "recipes"),
    ("rolling", "recipes/weekend.yaml"),
    ("campaign", "recipes/season.yaml"),
    ("check", "recipes"),
    ("check", "recipes", "--fix", "--dry-run"),
    ("check", "recipes/notebook.yaml"),
)
NOTES = (
    ("note", "weighed", CARAWAY, "--eggs", "1", "--before", "900g", "--after", "768g"),
    ("note", "rolled", CARAWAY, "--eggs", "1", "--force"),
    ("note", "rolled", "--undo", "--notebook", "recipes/notebook.yaml"),
    ("note", "fished", CARAWAY, "--rods", "1", "--hours", "2", "--takes", "0"),
    ("note", "bought", "Malt syrup", "450g", "--shelf", "recipes/shelf.yaml"),
)
ROLLED = """\
rolled:
  - {date: 2025-05-01, recipe: Osierfen Caraway, strength: hookbait, eggs: 1}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    home = tmp_path / "home"
    home.mkdir()
    copy_recipes(home, outings=True)
    notebook = home / "recipes" / "notebook.yaml"
    notebook.write_text(notebook.read_text("utf-8") + ROLLED, encoding="utf-8")
    (tmp_path / "victim").write_bytes(b"kept")
    return home


def hostile(folder: Path, what: str) -> None:
    """Put a journal beside the recipes that would create and overwrite files."""
    flag = folder / "recipes" / JOURNAL_NAME
    shelf = folder / "recipes" / "shelf.yaml"
    named = {"../../victim": "mine", "../../made": "mine", str(shelf): "items: {}"}
    files = [{"file": file, "old": None, "new": text} for file, text in named.items()]
    steps = [[file, None, None] for file in named]
    data = json.dumps({"version": 1, "files": files, "title": "rolled", "steps": steps})
    if what == "link":
        flag.symlink_to("../../victim")
    elif what == "pipe":
        os.mkfifo(flag)
    elif what == "folder":
        flag.mkdir()
    else:
        flag.write_text(data, encoding="utf-8")


def everything(folder: Path) -> dict[str, bytes | None]:
    """Return all that stands in a folder and those below: bytes of files, links by their targets."""
    found: dict[str, bytes | None] = {}
    for path in folder.parent.rglob("*"):
        plain = path.is_file() and not path.is_symlink()
        linked = os.fsencode(path.readlink()) if path.is_symlink() else None
        found[str(path)] = path.read_bytes() if plain else linked
    return found


def test_every_command_is_tried() -> None:
    assert {args[0] for args in READING + NOTES} == SUMMARIES.keys() - {"new", "schema"}


@pytest.mark.parametrize("what", ["journal", "link", "pipe", "folder"])
@pytest.mark.parametrize("args", READING, ids=" ".join)
def test_a_command_that_reads_writes_nothing(
    folder: Path, args: tuple[str, ...], what: str
) -> None:
    hostile(folder, what)
    before = everything(folder)
    told = f"then delete {folder / 'recipes' / JOURNAL_NAME}"
    reads_a_recipe = "--additives" not in args
    answered = 0
    for form in (*FORMATS, CALENDAR) if what == "journal" else ["json"]:
        outcome = run_eggfold([*args, "--format", form], folder)
        assert everything(folder) == before
        if "--format" in outcome.stderr:  # it has no such format
            continue
        assert outcome.exit == 0, outcome.stderr
        assert (told in outcome.stderr) == reads_a_recipe
        answered += 1
    assert answered


@pytest.mark.parametrize("what", ["journal", "link", "pipe", "folder"])
@pytest.mark.parametrize("args", [*NOTES, ("check", "recipes", "--fix")], ids=" ".join)
def test_a_command_that_writes_refuses_it(folder: Path, args: tuple[str, ...], what: str) -> None:
    hostile(folder, what)
    before = everything(folder)
    if args[0] == "note":
        outcome = run_eggfold([*args, "--dry-run"], folder)
        assert outcome.exit == 0
        assert everything(folder) == before
    for form in ("text", "json"):
        outcome = run_eggfold([*args, "--format", form], folder)
        assert outcome.exit == 4
        assert f"then delete {folder / 'recipes' / JOURNAL_NAME}" in outcome.stderr
        assert everything(folder) == before
