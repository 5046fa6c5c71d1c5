"""``eggfold check``: every problem in every file."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_files
from eggfold.commands.options import additives_option, command, format_option


@command()
@click.argument("files", nargs=-1, metavar="[FILE...]", shell_complete=complete_files)
@click.option(
    "--fix", is_flag=True, help="Mend what has one right answer, and show the difference."
)
@click.option("--dry-run", is_flag=True, help="With --fix: show the difference, write nothing.")
@additives_option
@format_option
def check(**given: Any) -> int:
    """Show every problem in every file, each with its place.

    Without a file, all in the working folder.

    \b
    eggfold check recipes
    eggfold check recipes/osierfen-caraway.yaml --format json
    eggfold check recipes --fix --dry-run
    """
    from eggfold.tasks.check import run_check

    return run_check(given | {"files": given["files"] or (".",)})
