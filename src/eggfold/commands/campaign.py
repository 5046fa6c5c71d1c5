"""``eggfold campaign``: a season of trips."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_campaigns
from eggfold.commands.options import command, plan_options, read_days


@command()
@click.argument("plan", metavar="PLAN", shell_complete=complete_campaigns)
@click.option(
    "--skip", multiple=True, metavar="TRIP", help="What if this trip falls away (its day or name)?"
)
@click.option(
    "--more", multiple=True, metavar="TRIP=4kg", help="What if that trip takes more bait?"
)
@click.option(
    "--without",
    multiple=True,
    callback=read_days,
    metavar="DATE",
    help="What if nobody rolls that day?",
)
@plan_options
def campaign(**given: Any) -> int:
    """Plan a season: when to roll, buy and thaw, and how full the freezer gets.

    Ask again whenever you like: what was noted counts, and trips that are over are left out.

    \b
    eggfold campaign recipes/season.yaml
    eggfold campaign recipes/season.yaml --skip "Long bank"
    eggfold campaign recipes/season.yaml --format ics --output season.ics
    """
    from eggfold.tasks.plans import run_campaign

    return run_campaign(given)
