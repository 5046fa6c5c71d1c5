"""``eggfold rolling``: a weekend's clock sheet."""

from __future__ import annotations

from typing import Any

import click

from eggfold.commands.completion import complete_rolling
from eggfold.commands.options import command, plan_options


@command()
@click.argument("plan", metavar="PLAN", shell_complete=complete_rolling)
@click.option("--done", metavar="N", default="0", help="Plan the rest: so many bowls are boiled.")
@click.option("--now", metavar="TIME", help="Plan the rest from now, as in 14:20.")
@click.option("--late", metavar="TIME", help="Shift what is left of the plan, as in 25min.")
@click.option("--eggs-left", metavar="N", help="Plan the rest with the eggs that are left.")
@plan_options
def rolling(**given: Any) -> int:
    """Plan a weekend's rolling: who does what when, and what does not fit.

    \b
    eggfold rolling recipes/weekend.yaml
    eggfold rolling recipes/weekend.yaml --done 2 --now 14:20 --eggs-left 120
    eggfold rolling recipes/weekend.yaml --late 25min
    eggfold rolling recipes/weekend.yaml --format ics --output weekend.ics
    """
    from eggfold.tasks.plans import run_rolling

    return run_rolling(given)
