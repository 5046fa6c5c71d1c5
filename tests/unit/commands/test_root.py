"""The list of commands tells what each command tells of itself."""

from __future__ import annotations

from pathlib import Path

import click
import pytest

from eggfold.commands.root import SUMMARIES, root
from running import run_eggfold


@pytest.mark.parametrize("name", SUMMARIES)
def test_the_summary_is_the_first_sentence_of_the_help(name: str) -> None:
    command = root.get_command(click.Context(root), name)
    assert command is not None
    assert command.get_short_help_str(200) == SUMMARIES[name]


def test_a_slip_in_a_command_names_the_nearest(tmp_path: Path) -> None:
    outcome = run_eggfold(["bach"], tmp_path)
    assert outcome.exit == 2
    assert "batch" in outcome.stderr
