"""``eggfold campaign``: a season of trips."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_campaigns
from eggfold.commands.plan_options import plan_options


@click.command()
@click.argument("plan", metavar="PLAN", shell_complete=complete_campaigns)
@plan_options
def campaign(plan: str, why: bool, **given: Any) -> int:
    """Plan a season: when to roll, buy and thaw, and how full the freezer gets.

    \b
    eggfold campaign recipes/season.yaml
    eggfold campaign recipes/season.yaml --format ics --output season.ics
    """
    from eggfold.commands.plans import Writers, answer_plan  # noqa: PLC0415
    from eggfold.files.planned import open_campaign  # noqa: PLC0415
    from eggfold.formats.plans_json import campaign_document  # noqa: PLC0415
    from eggfold.pages.agenda import campaign_entries  # noqa: PLC0415
    from eggfold.pages.campaign import campaign_page  # noqa: PLC0415
    from eggfold.plan.campaign import build_season  # noqa: PLC0415

    today = given["date"]
    return answer_plan(
        given,
        lambda workspace: open_campaign(plan, workspace, today),
        lambda opened: build_season(opened, today),
        Writers(
            lambda answer: (campaign_page(answer, why=why),), campaign_document, campaign_entries
        ),
        lambda _: (),
    )
