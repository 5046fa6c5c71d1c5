"""``eggfold trials``: which trial mix has earned a season."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_files
from eggfold.commands.options import (
    additives_option,
    command,
    delivery_options,
    display_options,
    recipes_or_here,
    why_option,
)


@command()
@recipes_or_here
@click.option(
    "--notebook", metavar="FILE", help="The notebook to use.", shell_complete=complete_files
)
@additives_option
@delivery_options
@why_option
@display_options
def trials(**given: Any) -> int:
    """Compare the takes noted on each mix, and say how sure that is.

    Without a recipe, all in the working folder.

    \b
    eggfold trials recipes
    eggfold trials recipes --full
    eggfold trials recipes --why
    """
    from eggfold.tasks.trials import run_trials

    return run_trials(given)
