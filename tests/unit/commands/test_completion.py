"""What the shell is offered at TAB, through the program and through bash itself."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from typing import TYPE_CHECKING

import click
import pytest
from click.shell_completion import ShellComplete

from eggfold.commands.completion import VARIABLE
from eggfold.commands.options import OneOf
from eggfold.commands.root import root
from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

HEAVY = ("pydantic", "pint", "eggfold.units", "eggfold.engine")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Lie in a folder with the demo recipes, a plan and a shelf."""
    copy_recipes(tmp_path)
    (tmp_path / "saturday.yaml").write_text("bowls: []\n", encoding="utf-8")
    (tmp_path / "shelf.yaml").write_text(
        "items:\n  EU large eggs: {left: 12}\n  Malt syrup, dark: {left: 1 l}\n", encoding="utf-8"
    )
    monkeypatch.chdir(tmp_path)
    return tmp_path


def offered(*words: str) -> list[tuple[str, str, str | None]]:
    """Return kind, value and help of what is offered for the last word."""
    shell = ShellComplete(root, {}, "eggfold", VARIABLE)
    return [(i.type, i.value, i.help) for i in shell.get_completions([*words[:-1]], words[-1])]


def values(*words: str) -> list[str]:
    return [value for kind, value, _ in offered(*words) if kind == "plain"]


def asked(shell: str, words: list[str], cwd: Path, *args: str) -> subprocess.CompletedProcess[str]:
    """Ask the program as a shell does."""
    question = {
        VARIABLE: f"{shell}_complete",
        "COMP_WORDS": "\n".join(words),
        "COMP_CWORD": str(len(words) - 1) if shell != "fish" else words[-1],
    }
    return subprocess.run(
        [sys.executable, *args, "-m", "eggfold"],
        env=os.environ | question,
        cwd=cwd,
        capture_output=True,
        text=True,
        check=False,
    )


def test_commands_options_and_choices_are_offered() -> None:
    assert values("tri") == ["trials"]
    assert "--notebook" in values("trials", "--no")
    assert values("batch", "--as", "") == ["hookbait", "freebie"]
    assert values("schema", "re") == ["recipe"]


def test_grades_of_eggs_are_offered() -> None:
    assert values("batch", "--egg", "us-l") == ["us-large"]
    assert "eu-extra-large" in values("note", "weighed", "--egg", "EU")
    assert len(values("new", "--egg", "")) == 9


def test_plans_are_offered_where_a_plan_is_wanted() -> None:
    assert values("rolling", "recipes/") == ["recipes/weekend.yaml"]
    assert values("campaign", "recipes/") == ["recipes/season.yaml"]
    assert values("rolling", "") == ["saturday.yaml"]


def test_what_is_to_be_bought_for_may_be_a_plan() -> None:
    assert values("shopping", "recipes/w") == ["recipes/weekend.yaml"]
    assert values("batch", "recipes/w") == []


def test_recipes_are_offered_with_their_names_and_folders() -> None:
    assert offered("batch", "recipes/osierfen-c") == [
        ("plain", "recipes/osierfen-caraway.yaml", "Osierfen Caraway"),
        ("dir", "recipes/osierfen-c", None),
    ]
    assert offered("batch", "") == [("dir", "", None)]
    assert "recipes/additives.yaml" not in values("trials", "recipes/")
    assert values("boil", "--recipe", "recipes/osierfen-m") == ["recipes/osierfen-millet.yaml"]


def test_companions_and_files_to_check_are_offered_of_any_kind() -> None:
    assert values("trials", "--additives", "recipes/a") == ["recipes/additives.yaml"]
    assert values("check", "s") == ["saturday.yaml", "shelf.yaml"]


def test_a_broken_recipe_offers_the_rest_in_silence(folder: Path) -> None:
    (folder / "recipes" / "broken.yaml").write_bytes(b"name: [\xff\nadditives: [\n")
    (folder / "recipes" / "gone.yaml").symlink_to("nowhere.yaml")
    outcome = asked("bash", ["eggfold", "batch", "recipes/"], folder)
    assert outcome.returncode == 0
    assert outcome.stderr == ""
    assert "plain,recipes/osierfen-caraway.yaml" in outcome.stdout.splitlines()
    assert values("batch", "nowhere/") == []


def test_items_come_from_the_shelf_the_register_and_the_recipes(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert values("note", "bought", "malt") == ["Malt syrup, dark"]
    shutil.copy(folder / "shelf.yaml", folder / "recipes")
    monkeypatch.chdir(folder / "recipes")
    assert values("note", "bought", "mal") == ["Malt syrup, dark", "Malt syrup"]
    assert values("note", "bought", "Osierfen") == ["Osierfen hookbait mix", "Osierfen bulk mix"]
    assert values("note", "bought", "table") == ["Table salt"]


def test_names_that_would_steer_a_terminal_are_left_out(folder: Path) -> None:
    (folder / "additives.yaml").write_bytes(b'additives:\n  "Reed\\e[31m": {}\n  Reed oil: {}\n')
    (folder / "red\x1b[31m.yaml").write_text("name: Red\n", encoding="utf-8")
    (folder / "reed.yaml").write_text('name: "Reed\\a"\n', encoding="utf-8")
    assert values("note", "bought", "reed") == ["Reed oil"]
    assert offered("batch", "re") == [("plain", "reed.yaml", None), ("dir", "re", None)]


def test_nothing_heavy_is_loaded(folder: Path) -> None:
    outcome = asked("zsh", ["eggfold", "batch", "recipes/"], folder, "-X", "importtime")
    loaded = {line.rpartition("|")[2].strip() for line in outcome.stderr.splitlines()}
    assert "click" in loaded
    assert not [name for name in loaded if name.startswith(HEAVY)]


def test_each_shell_gets_a_set_up(folder: Path) -> None:
    for shell in ("bash", "zsh", "fish"):
        done = subprocess.run(
            [sys.executable, "-m", "eggfold"],
            env=os.environ | {VARIABLE: f"{shell}_source"},
            cwd=folder,
            capture_output=True,
            text=True,
            check=True,
        )
        assert f"{VARIABLE}={shell}_complete" in done.stdout
        assert shell != "fish" or 'string split -m 1 ","' in done.stdout


def test_a_question_that_is_not_whole_ends_in_silence(folder: Path) -> None:
    for question in ("bash_complete", "tcsh_complete", "bash_sing", "x"):
        done = subprocess.run(
            [sys.executable, "-m", "eggfold"],
            env=os.environ | {VARIABLE: question},
            cwd=folder,
            capture_output=True,
            check=False,
        )
        assert (done.returncode, done.stdout, done.stderr) == (1, b"", b"")


def test_bash_gets_words_with_spaces_and_commas_whole(folder: Path) -> None:
    (folder / "my reed, mix.yaml").write_text("name: Reed\n", encoding="utf-8")
    program = folder / "eggfold"
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m eggfold "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    script = """
        compopt() { printf 'compopt %s\\n' "$*"; }
        eval "$(_EGGFOLD_COMPLETE=bash_source ./eggfold)"
        COMP_WORDS=(eggfold batch 'my\\ re'); COMP_CWORD=2
        _eggfold_completion ./eggfold
        printf '<%s>\\n' "${COMPREPLY[@]}"
    """
    bash = shutil.which("bash")
    assert bash
    done = subprocess.run(
        [bash, "--norc", "-c", script], cwd=folder, capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines() == ["compopt -o plusdirs", "<my reed, mix.yaml>"]


def parameters(command: click.Command, path: str = "") -> Iterator[tuple[str, click.Parameter]]:
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            inner = command.get_command(context, name)
            assert inner
            yield from parameters(inner, f"{path} {name}".strip())
    else:
        yield from ((path, parameter) for parameter in command.params)


PARAMETERS = list(parameters(root))


def test_each_choice_names_the_nearest_word() -> None:
    choices = [p for _, p in PARAMETERS if isinstance(p.type, click.Choice)]
    assert choices
    assert [p.name for p in choices if not isinstance(p.type, OneOf)] == []


def test_each_file_is_completed() -> None:
    files = [
        (path, p.name or "")
        for path, p in PARAMETERS
        if any(word in p.make_metavar(click.Context(root)) for word in ("RECIPE", "FILE", "PLAN"))
    ]
    assert files
    for path, name in files:
        command = root
        for word in path.split():
            command = command.commands[word]  # type: ignore[assignment]
        parameter = next(p for p in command.params if p.name == name)
        found = parameter.shell_complete(click.Context(command), "recipes/")
        assert found, f"{path} {name} offers nothing"


def test_a_near_word_is_named(tmp_path: Path) -> None:
    outcome = run_eggfold(["batch", "recipes", "--as", "freebies"], tmp_path)
    assert outcome.exit == 2
    assert "Did you mean freebie?" in outcome.stderr
    far = run_eggfold(["batch", "recipes", "--as", "xyz"], tmp_path)
    assert "Did you mean" not in far.stderr


def test_formats_and_papers_are_offered() -> None:
    assert values("batch", "--format", "") == ["text", "json", "csv", "markdown", "html", "pdf"]
    assert values("rolling", "--format", "i") == ["ics"]
    assert values("labels", "--paper", "a") == ["a6", "a5", "a4"]
