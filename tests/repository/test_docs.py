"""README and docs tell the truth: their commands print what the page shows.

A console block holds commands behind ``$`` and what they print; a line ``...`` stands for any
lines. A yaml block that begins with ``# file: NAME`` is put among a copy of the demo recipes
and must pass ``check``; a python block so named is put beside them. Each console block begins anew,
but those of a tutorial follow on one another. The README's only sh block sets up, and is left to
the CI run.
"""

from __future__ import annotations

import re
import shlex
from typing import TYPE_CHECKING

import pytest

from repository.fences import Block, read_blocks
from running import ROOT, copy_recipes, run_python, start_eggfold

if TYPE_CHECKING:
    from pathlib import Path

README = ROOT / "README.md"
PAGES = [README, *sorted((ROOT / "docs").rglob("*.md"))]
TUTORIALS = sorted((ROOT / "docs").glob("tutorial-*.md"))
BLOCKS = [block for page in PAGES for block in read_blocks(page)]
CONSOLE = [block for block in BLOCKS if block.language == "console"]
ALONE = [block for block in CONSOLE if block.page not in TUTORIALS]
FILES = [block for block in BLOCKS if block.language == "yaml" and block.file]
SCRIPTS = [block for block in BLOCKS if block.language == "python" and block.file]


def block_id(block: Block) -> str:
    return f"{block.page.name}:{block.line}"


def place(block: Block, folder: Path) -> Path:
    """Write a named block among the recipes, or where its name has a folder, there."""
    name = block.file or ""
    path = folder / (name if "/" in name else f"recipes/{name}")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(block.text, encoding="utf-8")
    return path


def prepare(page: Path, folder: Path) -> None:
    """Lay out the recipes and the page's own files."""
    copy_recipes(folder)
    for block in FILES:
        if block.page == page:
            place(block, folder)
    for block in SCRIPTS:
        if block.page == page:
            (folder / str(block.file)).write_text(block.text, encoding="utf-8")


def pattern(shown: str) -> str:
    """Return the expression that a shown output stands for."""
    lines = [
        r"(?:.*\n)*" if line == "..." else f"{re.escape(line)}\n" for line in shown.splitlines()
    ]
    return "".join(lines)


def run(command: str, folder: Path) -> str:
    """Return what a command of a console block prints."""
    program, *args = shlex.split(command)
    if program == "python":
        return run_python(*args, cwd=folder, merged=True).stdout
    assert program == "eggfold"
    return start_eggfold(args, folder, merged=True).stdout


def verify(block: Block, folder: Path) -> None:
    """Run a console block and compare what it prints with what it shows."""
    assert block.runs
    for command, shown in block.runs:
        printed = run(command, folder)
        if "..." in shown.splitlines():
            assert re.fullmatch(pattern(shown), printed), f"$ {command}\n{printed}"
        else:
            assert printed == shown, f"$ {command}"


@pytest.mark.parametrize("block", ALONE, ids=block_id)
def test_commands_print_what_the_page_shows(block: Block, tmp_path: Path) -> None:
    prepare(block.page, tmp_path)
    verify(block, tmp_path)


@pytest.mark.parametrize("page", TUTORIALS, ids=lambda page: page.name)
def test_a_tutorial_runs_from_top_to_bottom(page: Path, tmp_path: Path) -> None:
    prepare(page, tmp_path)
    for block in CONSOLE:
        if block.page == page:
            verify(block, tmp_path)


@pytest.mark.parametrize("block", FILES, ids=block_id)
def test_shown_files_pass_the_check(block: Block, tmp_path: Path) -> None:
    prepare(block.page, tmp_path)
    path = place(block, tmp_path).relative_to(tmp_path)
    outcome = start_eggfold(["check", str(path)], tmp_path)
    assert outcome.exit == 0, outcome.stdout


def test_the_pages_show_commands_and_files() -> None:
    assert README in {block.page for block in CONSOLE}
    assert FILES


def test_only_the_set_up_lines_are_not_run() -> None:
    shells = [b for b in BLOCKS if b.language in {"sh", "bash", "shell", ""}]
    assert [block.page for block in shells] == [README]
    assert len(shells[0].text.splitlines()) == 2


def command_names(tmp_path: Path) -> list[str]:
    text = start_eggfold(["--help"], tmp_path).stdout
    _, _, commands = text.partition("Commands:\n")
    return re.findall(r"^  ([a-z]+)\b", commands, re.MULTILINE)


def test_each_command_stands_in_the_readme_and_the_docs(tmp_path: Path) -> None:
    names = command_names(tmp_path)
    readme = README.read_text("utf-8").splitlines()
    table = "\n".join(line for line in readme if line.startswith("|"))
    docs = "\n".join(page.read_text("utf-8") for page in PAGES[1:])
    assert "batch" in names
    for name in names:
        assert re.search(rf"`(eggfold )?{name}\b", table), f"{name} is not in the README's table"
        assert re.search(rf"(`|eggfold ){name}\b", docs), f"{name} is not in docs/"
