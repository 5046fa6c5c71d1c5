"""``eggfold campaign``: a season of trips."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_campaigns
from eggfold.commands.options import command, plan_options


@command()
@click.argument("plan", metavar="PLAN", shell_complete=complete_campaigns)
@plan_options
def campaign(**given: Any) -> int:
    """Plan a season: when to roll, buy and thaw, and how full the freezer gets.

    \b
    eggfold campaign recipes/season.yaml
    eggfold campaign recipes/season.yaml --format ics --output season.ics
    """
    from eggfold.tasks.plans import run_campaign

    return run_campaign(given)
