"""Where answers go: one document, a folder, a pipe; nothing overwritten, nothing half-written."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from eggfold.edit.writing import write_file
from eggfold.errors import FileAccessError
from eggfold.formats.registry import FORMATS
from eggfold.pages.page import Page
from eggfold.reference.paper import PAPERS
from eggfold.tasks.delivery import Answer, file_names
from eggfold.tasks.surroundings import bar_text, with_progress
from running import RECIPES, Outcome, copy_recipes, environment, run_eggfold, run_python

CARAWAY = "recipes/osierfen-caraway.yaml"
SIX = ("--as", "freebie", "--eggs", "6")
ALL = len(list(RECIPES.glob("osierfen-*.yaml"))) + 1
"""A card for each demo recipe, and the shopping list."""
NO_LIBRARY = """
import sys
sys.modules["reportlab"] = None
from eggfold.__main__ import run
sys.exit(run(sys.argv[1:]))
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    copy_recipes(tmp_path)
    return tmp_path


def batch(folder: Path, *args: str) -> Outcome:
    return run_eggfold(["batch", *args], folder)


def test_a_folder_gets_a_file_per_recipe_and_the_list(folder: Path) -> None:
    outcome = batch(folder, "recipes", *SIX, "--format", "pdf", "--output", "cards/")
    assert outcome == Outcome(
        "",
        f"wrote {ALL} files into cards\n"
        "recipes/season.yaml: skipped: this is a season plan\n"
        "recipes/weekend.yaml: skipped: this is a weekend plan\n",
        0,
    )
    assert sorted(path.name for path in (folder / "cards").iterdir()) == [
        "osierfen-caraway-freebie.pdf",
        "osierfen-millet-freebie.pdf",
        "osierfen-reedmace-freebie.pdf",
        "osierfen-stillwater-fish-freebie.pdf",
        "osierfen-weir-us-freebie.pdf",
        "shopping.pdf",
    ]


@pytest.mark.parametrize("form", list(FORMATS))
def test_every_format_goes_into_a_folder(folder: Path, form: str) -> None:
    outcome = batch(folder, CARAWAY, "--format", form, "--output", "new/cards")
    assert (outcome.stdout, outcome.exit) == ("", 0)
    (written,) = (folder / "new" / "cards").iterdir()
    assert written.suffix == FORMATS[form].endings[0]
    assert written.read_bytes().startswith(b"%PDF") == (form == "pdf")


@pytest.mark.parametrize(
    ("name", "start"),
    [
        ("card.txt", b"Osierfen"),
        ("card.csv", b"page,section"),
        ("card.MD", b"# Osierfen"),
        ("card.htm", b"<!doctype html>"),
        ("card.pdf", b"%PDF"),
        ("card.json", b"{\n"),
        ("card.text", b"Osierfen"),
    ],
)
def test_the_ending_says_the_format(folder: Path, name: str, start: bytes) -> None:
    outcome = batch(folder, CARAWAY, "--output", name)
    assert outcome == Outcome("", f"wrote {name}\n", 0)
    assert (folder / name).read_bytes().startswith(start)


def test_the_option_beats_the_ending(folder: Path) -> None:
    batch(folder, CARAWAY, "--output", "card.txt", "--format", "csv")
    assert (folder / "card.txt").read_bytes().startswith(b"page,section")


def test_an_ending_that_is_nearly_known_is_a_mistake(folder: Path) -> None:
    outcome = batch(folder, CARAWAY, "--output", "card.pfd")
    assert outcome.exit == 2
    assert "did you mean .pdf?" in outcome.stderr
    assert not (folder / "card.pfd").exists()


@pytest.mark.parametrize("name", ["card.docx", "card.v2", "osierfen.wall"])
def test_an_ending_of_no_format_takes_text_and_says_so(folder: Path, name: str) -> None:
    outcome = batch(folder, CARAWAY, "--output", name)
    assert outcome.exit == 0
    assert outcome.stderr == f"wrote {name} as text; --format takes the others\n"
    assert (folder / name).read_bytes().startswith(b"Osierfen")


def test_a_device_without_an_ending_takes_text(folder: Path) -> None:
    outcome = batch(folder, CARAWAY, "--output", "/dev/null", "--force")
    assert outcome.exit == 0


def test_what_is_written_is_what_is_printed(folder: Path) -> None:
    for form in ("text", "json", "csv", "markdown", "html"):
        printed = batch(folder, CARAWAY, "--format", form)
        batch(folder, CARAWAY, "--format", form, "--output", "same.out", "--force")
        assert (folder / "same.out").read_bytes().decode() == printed.stdout


def test_json_in_a_folder_is_one_object_per_file(folder: Path) -> None:
    both = (CARAWAY, "recipes/osierfen-millet.yaml")
    batch(folder, *both, *SIX, "--format", "json", "--output", "data/")
    card = json.loads((folder / "data" / "osierfen-caraway-freebie.json").read_text())
    assert [one["recipe"] for one in card["batches"]] == ["Osierfen Caraway"]
    assert card["kind"] == "batch"
    assert json.loads((folder / "data" / "shopping.json").read_text())["kind"] == "shopping"


def test_existing_files_stay_without_force(folder: Path) -> None:
    (folder / "card.txt").write_text("mine")
    outcome = batch(folder, CARAWAY, "--output", "card.txt")
    assert outcome.exit == 4
    assert outcome.stderr == "eggfold: card.txt: it is there already; --force writes over it\n"
    assert (folder / "card.txt").read_text() == "mine"
    assert batch(folder, CARAWAY, "--output", "card.txt", "--force").exit == 0
    assert (folder / "card.txt").read_text().startswith("Osierfen")


def test_in_a_folder_only_the_file_that_is_there_fails(folder: Path) -> None:
    cards = folder / "cards"
    cards.mkdir()
    (cards / "osierfen-millet-freebie.txt").write_text("mine")
    outcome = batch(folder, "recipes", *SIX, "--output", "cards")
    assert outcome.exit == 4
    assert f"wrote {ALL - 1} of {ALL} files into cards\n" in outcome.stderr
    assert "eggfold: cards/osierfen-millet-freebie.txt: it is there already" in outcome.stderr
    assert (cards / "osierfen-millet-freebie.txt").read_text() == "mine"
    assert len(list(cards.iterdir())) == ALL


def test_recipes_of_one_name_get_numbers_and_a_note(folder: Path) -> None:
    (folder / "other").mkdir()
    (folder / "other" / "osierfen-weir-us.yaml").write_bytes(
        (folder / "recipes" / "osierfen-weir-us.yaml").read_bytes()
    )
    both = ("recipes/osierfen-weir-us.yaml", "other/osierfen-weir-us.yaml")
    outcome = batch(folder, *both, *SIX, "--output", "cards")
    assert sorted(path.name for path in (folder / "cards").iterdir()) == [
        "osierfen-weir-us-freebie-2.txt",
        "osierfen-weir-us-freebie.txt",
        "shopping.txt",
    ]
    assert "osierfen-weir-us-freebie-2.txt: numbered" in outcome.stderr


def test_a_number_never_takes_a_name_that_is_there() -> None:
    parts = [Answer(stem, None, Page) for stem in ("a", "A", "a-2", "a")]
    names = [name for _, name in file_names(parts, ".txt")]
    assert names == ["a.txt", "A-2.txt", "a-2-2.txt", "a-3.txt"]


def test_good_recipes_are_written_though_others_fail(folder: Path) -> None:
    (folder / "recipes" / "bad.yaml").write_text("name: Bad\nbase_mxi: x\n")
    outcome = batch(folder, "recipes", *SIX, "--output", "cards")
    assert outcome.exit == 1
    assert f"wrote {ALL} files into cards" in outcome.stderr
    assert "bad.yaml:2:1" in outcome.stderr


@pytest.mark.parametrize("target", ["taken/cards/", "taken/card.txt"])
def test_a_folder_that_cannot_be_written_is_said(folder: Path, target: str) -> None:
    (folder / "taken").write_text("a file where a folder is wanted")
    outcome = batch(folder, CARAWAY, "--output", target)
    assert outcome.exit == 4
    assert outcome.stderr.startswith("eggfold: taken/card")
    assert "Traceback" not in outcome.stderr


def test_a_folder_without_rights_is_said(folder: Path) -> None:
    # /proc takes no files from anybody, whatever their rights
    outcome = batch(folder, CARAWAY, "--output", "/proc/card.txt")
    assert outcome.exit == 4
    assert outcome.stderr.startswith("eggfold: /proc/card.txt: ")


def test_the_folder_of_a_document_must_be_there(folder: Path) -> None:
    outcome = batch(folder, CARAWAY, "--output", "no/card.txt")
    assert (outcome.stderr, outcome.exit) == (
        "eggfold: no/card.txt: its folder does not exist\n",
        4,
    )


def test_patterns_are_expanded(folder: Path) -> None:
    quoted = batch(folder, "recipes/osierfen-[cm]*.yaml", *SIX, "--output", "cards")
    assert "wrote 3 files into cards" in quoted.stderr
    nothing = batch(folder, "recipes/*.yml")
    assert nothing.exit == 4
    assert nothing.stderr == "eggfold: recipes/*.yml: no file is named so\n"


def test_a_missing_library_is_said_with_the_line_that_installs_it(folder: Path) -> None:
    args = ["batch", CARAWAY, "--output", "card.pdf"]
    outcome = run_python("-c", NO_LIBRARY, *args, cwd=folder)
    assert outcome == Outcome(
        "",
        "eggfold: a PDF needs the extra pdf; install it with: python -m pip install 'eggfold[pdf]'\n",
        2,
    )
    assert run_python("-c", NO_LIBRARY, "batch", CARAWAY, cwd=folder).exit == 0


def test_a_pdf_goes_to_a_pipe_and_not_to_a_terminal(folder: Path) -> None:
    piped = batch(folder, CARAWAY, "--format", "pdf")
    assert piped.stdout.startswith("Osierfen Caraway")
    code = "import pty, sys; sys.exit(pty.spawn([sys.executable, '-m', 'eggfold', *sys.argv[1:]]) >> 8)"
    shown_there = run_python("-c", code, "batch", CARAWAY, "--format", "pdf", cwd=folder)
    assert shown_there.exit == 2
    assert "a PDF is not for the terminal" in shown_there.stdout


def test_the_date_is_the_option_then_the_environment(folder: Path) -> None:
    assert "2026-01-01" in batch(folder, CARAWAY, "--format", "pdf").stdout
    stated = batch(folder, CARAWAY, "--format", "pdf", "--date", "2026-05-17")
    assert "2026-05-17" in stated.stdout
    wrong = batch(folder, CARAWAY, "--date", "2026-02-30")
    assert wrong.exit == 2
    assert "there is no 2026-02-30" in wrong.stderr


@pytest.mark.parametrize(
    ("option", "value", "hint"),
    [
        ("--format", "htlm", "did you mean html?"),
        ("--format", "docx", "it is one of text, json, csv, markdown, html or pdf"),
        ("--paper", "leter", "did you mean letter?"),
    ],
)
def test_an_unknown_word_names_the_nearest(
    folder: Path, option: str, value: str, hint: str
) -> None:
    outcome = batch(folder, CARAWAY, option, value)
    assert outcome.exit == 2
    assert hint in outcome.stderr


def test_help_names_every_format_and_paper(folder: Path) -> None:
    text = batch(folder, "--help").stdout
    assert f"[{'|'.join(FORMATS)}]" in text
    assert f"[{'|'.join(PAPERS)}]" in text


@pytest.mark.parametrize("command", ["shopping", "doses", "boil"])
def test_other_commands_write_too(folder: Path, command: str) -> None:
    recipes = [] if command == "boil" else [CARAWAY]
    outcome = run_eggfold([command, *recipes, "--output", "sheets/", "--format", "csv"], folder)
    assert outcome == Outcome("", "wrote 1 file into sheets\n", 0)
    assert (folder / "sheets" / f"{command}.csv").read_bytes().startswith(b"page,section")


def test_a_file_keeps_its_mode_and_a_link_its_target(tmp_path: Path) -> None:
    target, link = tmp_path / "card.txt", tmp_path / "link.txt"
    target.write_text("old")
    target.chmod(0o640)
    link.symlink_to(target)
    write_file(link, b"new", force=True)
    assert link.is_symlink()
    assert target.read_bytes() == b"new"
    assert target.stat().st_mode & 0o777 == 0o640
    write_file(tmp_path / "fresh.txt", b"x", force=False)
    mask = os.umask(0)
    os.umask(mask)
    assert (tmp_path / "fresh.txt").stat().st_mode & 0o777 == 0o666 & ~mask


def test_nothing_is_half_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "card.txt"
    target.write_text("old")

    def fail(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(FileAccessError, match="No space left"):
        write_file(target, b"new", force=True)
    assert [path.name for path in tmp_path.iterdir()] == ["card.txt"]
    assert target.read_text() == "old"


class Terminal(io.StringIO):
    """A standard error that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def test_a_bar_is_shown_after_a_second_only(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = Terminal()
    clock = iter([0.0, 0.5, 1.5, 1.5, 1.55, 1.7, 1.7])
    monkeypatch.setattr(sys, "stderr", screen)
    monkeypatch.setattr(time, "monotonic", lambda: next(clock))
    assert list(with_progress("abcd", 4, "writing")) == list("abcd")
    drawn = [part for part in screen.getvalue().split("\r") if part.strip()]
    assert drawn == [bar_text(1, 4, "writing"), bar_text(3, 4, "writing")]
    assert screen.getvalue().endswith(" \r")


def test_no_bar_where_nobody_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    file = io.StringIO()
    monkeypatch.setattr(sys, "stderr", file)
    assert list(with_progress("ab", 2, "writing")) == ["a", "b"]
    assert file.getvalue() == ""


def test_a_bar_fills() -> None:
    assert bar_text(0, 200, "writing") == f"writing [{'.' * 30}]   0 of 200"
    assert bar_text(200, 200, "writing") == f"writing [{'#' * 30}] 200 of 200"


def test_a_pdf_is_not_for_the_terminal(folder: Path) -> None:
    terminal, its_end = os.openpty()
    with open(terminal, closefd=True), open(its_end, "wb") as end:  # noqa: PTH123 - no paths
        ended = subprocess.run(
            [sys.executable, "-m", "eggfold", "batch", CARAWAY, *SIX, "--format", "pdf"],
            cwd=folder,
            env=environment(),
            stdout=end,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert ended.returncode == 2
    assert b"a PDF is not for the terminal" in ended.stderr
