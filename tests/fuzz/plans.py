"""A plan that was read without fault: it answers, whichever recipe its names may mean."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from eggfold.errors import NoAnswerError
from eggfold.formats.ics import write_calendar
from eggfold.formats.json import dumps
from eggfold.formats.plain_text import page_text
from eggfold.formats.plans_json import campaign_document, rolling_document
from eggfold.load.load_plan import MODELS, SPARE, OpenPlan, asked_of
from eggfold.load.load_recipe import Companions, open_placed, open_recipe
from eggfold.load.reading import Placed, read_model
from eggfold.load.workspace import Findings
from eggfold.pages.agenda import campaign_entries, rolling_entries
from eggfold.pages.campaign import campaign_page
from eggfold.pages.figures import METRIC
from eggfold.pages.rolling import rolling_page, unfit_sentences
from eggfold.plan.campaign import build_season
from eggfold.plan.rolling import build_rolling

if TYPE_CHECKING:
    from collections.abc import Iterable

    from eggfold.pages.agenda import AgendaEntry
    from eggfold.pages.page import Page


def answer_plan(file: str, kind: str, placed: Placed, recipe: str, today: str) -> None:
    """Answer a plan or a season with one recipe for all names, in every format of its own."""
    plan: Any = read_model(MODELS[kind], placed, SPARE[kind]).model
    one = open_recipe(recipe, Companions(), *open_placed(recipe))
    recipes = {asked.quantity.recipe: one for asked in asked_of(plan)}
    opened: OpenPlan[Any] = OpenPlan(file, plan, placed, [], recipes, one.companions, Findings())
    try:
        _answer(opened, kind, today)
    except NoAnswerError as error:
        str(error).encode()


def _answer(opened: OpenPlan[Any], kind: str, today: str) -> None:
    if kind == "campaign":
        season = build_season(opened, today)
        page, document = campaign_page(season, METRIC, why=True), campaign_document(season)
        _write(opened, page, document, campaign_entries(season, METRIC))
    else:
        rolling = build_rolling(opened)
        "\n".join(unfit_sentences(rolling, METRIC)).encode()
        page, document = rolling_page(rolling, METRIC, why=True), rolling_document(rolling)
        _write(opened, page, document, rolling_entries(rolling, METRIC))


def _write(
    opened: OpenPlan[Any], page: Page, document: dict[str, Any], entries: Iterable[AgendaEntry]
) -> None:
    page_text(page).encode()
    dumps(document).encode()
    write_calendar("plan", entries, floating=opened.plan.zone is None).encode()
