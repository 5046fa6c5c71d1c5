"""``eggfold rolling``: a weekend's clock sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from eggfold.commands.options import additives_option, bench_option, notes_options, shelf_option
from eggfold.commands.plan_options import plan_format_options

if TYPE_CHECKING:
    from eggfold.jobs.rolling import Rolling


@click.command()
@click.argument("plan", metavar="PLAN")
@click.option("--done", metavar="N", default="0", help="Plan the rest: so many bowls are boiled.")
@click.option("--now", metavar="TIME", help="Plan the rest from now, as in 14:20.")
@click.option("--eggs-left", metavar="N", help="Plan the rest with the eggs that are left.")
@additives_option
@bench_option
@notes_options
@shelf_option
@plan_format_options
def rolling(
    plan: str, done: str, now: str | None, eggs_left: str | None, form: str, why: bool, **given: Any
) -> int:
    """Plan a weekend's rolling: who does what when, and what does not fit.

    \b
    eggfold rolling recipes/weekend.yaml
    eggfold rolling recipes/weekend.yaml --done 2 --now 14:20 --eggs-left 40
    eggfold rolling recipes/weekend.yaml --format ics > weekend.ics
    """
    from eggfold.commands.plans import answer_plan, rescue_of  # noqa: PLC0415
    from eggfold.files.planned import open_rolling  # noqa: PLC0415
    from eggfold.jobs.rolling import build_rolling  # noqa: PLC0415
    from eggfold.pages.rolling import unfit_sentences  # noqa: PLC0415

    rescue = rescue_of(done, now, eggs_left)
    return answer_plan(
        given,
        lambda workspace: open_rolling(plan, workspace),
        lambda opened: build_rolling(opened, rescue),
        lambda answer: _written(answer, form, why=why),
        unfit_sentences,
    )


def _written(answer: Rolling, form: str, *, why: bool) -> str:
    if form == "json":
        from eggfold.formats.json import dumps  # noqa: PLC0415
        from eggfold.formats.plans_json import rolling_document  # noqa: PLC0415

        return f"{dumps(rolling_document(answer))}\n"
    if form == "ics":
        from eggfold.formats.ics import write_calendar  # noqa: PLC0415
        from eggfold.pages.agenda import rolling_entries  # noqa: PLC0415

        floating = answer.zone is None
        return write_calendar(answer.name, rolling_entries(answer), floating=floating)
    from eggfold.formats.text import page_text  # noqa: PLC0415
    from eggfold.pages.rolling import rolling_page  # noqa: PLC0415

    return page_text(rolling_page(answer, why=why))
