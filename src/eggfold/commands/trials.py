"""``eggfold trials``: which trial mix has earned a season."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_files, complete_recipes
from eggfold.commands.display import display_options
from eggfold.commands.options import additives_option, delivery_options, why_option


@click.command()
@click.argument(
    "recipes", nargs=-1, required=True, metavar="RECIPE...", shell_complete=complete_recipes
)
@click.option(
    "--notebook", metavar="FILE", help="The notebook to use.", shell_complete=complete_files
)
@additives_option
@delivery_options
@why_option
@display_options
def trials(recipes: tuple[str, ...], additives: str | None, *, why: bool, **given: Any) -> int:
    """Compare the takes noted on each mix, and say how sure that is.

    \b
    eggfold trials recipes
    eggfold trials recipes --why
    """
    from eggfold.commands.delivery import Part, deliver, destination_of  # noqa: PLC0415
    from eggfold.commands.run import finish, open_workspace  # noqa: PLC0415
    from eggfold.errors import FileAccessError, NoAnswerError  # noqa: PLC0415
    from eggfold.files.outings import read_outings  # noqa: PLC0415
    from eggfold.formats.json import document  # noqa: PLC0415
    from eggfold.pages.trials import trials_page  # noqa: PLC0415
    from eggfold.recipe.trials import build_trials  # noqa: PLC0415

    to = destination_of(given)
    workspace = open_workspace(recipes, additives, {"without_notes": True})
    try:
        noted = read_outings(workspace, given["notebook"])
        compared = build_trials(*noted) if noted.files else None
    except (NoAnswerError, FileAccessError) as error:
        workspace.failures.append(error)
        return finish(workspace)
    if compared is not None:
        page, data = trials_page(compared, why=why), document("trials", compared)
        workspace.failures += deliver(to, Part("trials", lambda: (page,), lambda: data))
    return finish(workspace)
