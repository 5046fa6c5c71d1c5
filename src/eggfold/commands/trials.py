"""``eggfold trials``: which trial mix has earned a season."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from eggfold.commands.completion import complete_files, complete_recipes
from eggfold.commands.options import additives_option, page_options

if TYPE_CHECKING:
    from eggfold.jobs.trials import Trials


@click.command()
@click.argument(
    "recipes", nargs=-1, required=True, metavar="RECIPE...", shell_complete=complete_recipes
)
@click.option(
    "--notebook", metavar="FILE", help="The notebook to use.", shell_complete=complete_files
)
@additives_option
@page_options
def trials(
    recipes: tuple[str, ...], notebook: str | None, additives: str | None, form: str, why: bool
) -> int:
    """Compare the takes noted on each mix, and say how sure that is.

    \b
    eggfold trials recipes
    eggfold trials recipes/osierfen-caraway.yaml recipes/osierfen-millet.yaml --why
    """
    from eggfold.commands.run import finish, open_workspace  # noqa: PLC0415
    from eggfold.errors import FileAccessError, NoAnswerError  # noqa: PLC0415
    from eggfold.files.outings import read_outings  # noqa: PLC0415
    from eggfold.jobs.trials import build_trials  # noqa: PLC0415

    workspace = open_workspace(recipes, additives)
    try:
        noted = read_outings(workspace, notebook)
        compared = build_trials(*noted) if noted.files else None
    except (NoAnswerError, FileAccessError) as error:
        workspace.failures.append(error)
    else:
        if compared is not None:
            _show(compared, form, why=why)
    return finish(workspace)


def _show(compared: Trials, form: str, *, why: bool) -> None:
    if form == "json":
        from eggfold.formats.json import dumps, trials_document  # noqa: PLC0415

        click.echo(dumps(trials_document(compared)))
        return
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.pages.trials import trials_page  # noqa: PLC0415

    click.echo(page_text(trials_page(compared, why=why)), nl=False)
