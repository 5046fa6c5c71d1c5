"""The pages of ``docs/commands/`` say what the commands say; ``--update-golden`` rewrites them."""

from __future__ import annotations

import shlex
import shutil
from pathlib import Path

import pytest

from eggfold.commands.root import SUMMARIES
from repository.command_pages import build_pages, command_of, examples_of
from running import ROOT, copy_recipes, run_eggfold

FOLDER = ROOT / "docs" / "commands"


def update(pages: dict[str, str]) -> None:
    """Write the pages, and remove those of commands that are gone."""
    FOLDER.mkdir(exist_ok=True)
    for name, text in pages.items():
        (FOLDER / name).write_text(text, encoding="utf-8")
    for path in FOLDER.glob("*.md"):
        if path.name not in pages:
            path.unlink()


def test_the_pages_are_those_of_the_program(request: pytest.FixtureRequest) -> None:
    pages = build_pages()
    if request.config.getoption("--update-golden"):
        update(pages)
    assert {path.name: path.read_text("utf-8") for path in FOLDER.glob("*.md")} == pages


@pytest.mark.parametrize("name", SUMMARIES)
def test_the_examples_of_a_help_run(name: str, tmp_path: Path) -> None:
    copy_recipes(tmp_path, outings=True)
    shutil.copytree(
        tmp_path / "recipes", tmp_path, dirs_exist_ok=True
    )  # as typed in the folder too
    examples = examples_of(command_of(name))
    assert len(examples) >= 2
    for example in examples:
        outcome = run_eggfold(shlex.split(example.arguments), tmp_path)
        assert outcome.exit == 0, f"$ {example.typed}\n{outcome.stderr}"
        assert len(f"  {example.typed}") <= 80
