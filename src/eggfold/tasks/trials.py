"""``trials``: which trial mix has earned a season."""

from __future__ import annotations

from functools import partial

from eggfold.errors import FileAccessError, NoAnswerError
from eggfold.load.outings import read_outings
from eggfold.pages.trials import trials_page
from eggfold.recipe.trials import build_trials
from eggfold.tasks.asked import Given
from eggfold.tasks.delivery import Answer, deliver, destination_of
from eggfold.tasks.run import finish, open_workspace


def run_trials(given: Given) -> int:
    """Write the comparison; return the exit code."""
    to = destination_of(given)
    workspace = open_workspace(
        given["recipes"] or (".",), {"additives": given["additives"], "without_notes": True}
    )
    try:
        noted = read_outings(workspace, given["notebook"])
        compared = build_trials(*noted) if noted.files else None
    except (NoAnswerError, FileAccessError) as error:
        workspace.failures.append(error)
        return finish(workspace)
    if compared is not None:
        workspace.failures += deliver(
            to, Answer("trials", compared, partial(trials_page, full=given["full"]), given["why"])
        )
    return finish(workspace)
