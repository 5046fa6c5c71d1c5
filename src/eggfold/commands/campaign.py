"""``eggfold campaign``: a season of trips."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.options import (
    additives_option,
    bench_option,
    notes_options,
    shelf_option,
    today_of,
)
from eggfold.commands.plan_options import plan_format_options

if TYPE_CHECKING:
    from eggfold.jobs.campaign import Season


@click.command()
@click.argument("plan", metavar="PLAN")
@click.option("--date", "day", metavar="YYYY-MM-DD", help="Today, if it is another day.")
@additives_option
@bench_option
@notes_options
@shelf_option
@plan_format_options
def campaign(plan: str, day: str | None, form: str, why: bool, **given: Any) -> int:
    """Plan a season: when to roll, buy and thaw, and how full the freezer gets.

    \b
    eggfold campaign recipes/season.yaml
    eggfold campaign recipes/season.yaml --format ics > season.ics
    """
    from eggfold.commands.plans import answer_plan  # noqa: PLC0415
    from eggfold.files.planned import open_campaign  # noqa: PLC0415
    from eggfold.jobs.campaign import build_season  # noqa: PLC0415

    now = today_of(day).isoformat()
    return answer_plan(
        given,
        lambda workspace: open_campaign(plan, workspace, now),
        lambda opened: build_season(opened, now),
        lambda answer: _written(answer, form, why=why),
        lambda _: (),
    )


def _written(answer: Season, form: str, *, why: bool) -> str:
    if form == "json":
        from eggfold.formats.json import dumps  # noqa: PLC0415
        from eggfold.formats.plans_json import campaign_document  # noqa: PLC0415

        return f"{dumps(campaign_document(answer))}\n"
    if form == "ics":
        from eggfold.formats.ics import write_calendar  # noqa: PLC0415
        from eggfold.pages.agenda import campaign_entries  # noqa: PLC0415

        floating = answer.zone is None
        return write_calendar(answer.name, campaign_entries(answer), floating=floating)
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.pages.campaign import campaign_page  # noqa: PLC0415

    return page_text(campaign_page(answer, why=why))
