"""``eggfold rolling``: a weekend's clock sheet."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_rolling
from eggfold.commands.plan_options import plan_options


@click.command()
@click.argument("plan", metavar="PLAN", shell_complete=complete_rolling)
@click.option("--done", metavar="N", default="0", help="Plan the rest: so many bowls are boiled.")
@click.option("--now", metavar="TIME", help="Plan the rest from now, as in 14:20.")
@click.option("--eggs-left", metavar="N", help="Plan the rest with the eggs that are left.")
@plan_options
def rolling(
    plan: str, done: str, now: str | None, eggs_left: str | None, why: bool, **given: Any
) -> int:
    """Plan a weekend's rolling: who does what when, and what does not fit.

    \b
    eggfold rolling recipes/weekend.yaml
    eggfold rolling recipes/weekend.yaml --done 2 --now 14:20 --eggs-left 95
    eggfold rolling recipes/weekend.yaml --format ics --output weekend.ics
    """
    from eggfold.commands.plans import Writers, answer_plan, rescue_of  # noqa: PLC0415
    from eggfold.files.planned import open_rolling  # noqa: PLC0415
    from eggfold.formats.plans_json import rolling_document  # noqa: PLC0415
    from eggfold.pages.agenda import rolling_entries  # noqa: PLC0415
    from eggfold.pages.rolling import rolling_page, unfit_sentences  # noqa: PLC0415
    from eggfold.plan.rolling import build_rolling  # noqa: PLC0415

    rescue = rescue_of(done, now, eggs_left)
    return answer_plan(
        given,
        lambda workspace: open_rolling(plan, workspace),
        lambda opened: build_rolling(opened, rescue),
        Writers(lambda answer: (rolling_page(answer, why=why),), rolling_document, rolling_entries),
        unfit_sentences,
    )
