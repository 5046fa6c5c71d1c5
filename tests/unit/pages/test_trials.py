"""The words around the numbers of the trials page."""

from __future__ import annotations

import pytest

from eggfold.formats.plain_text import page_text
from eggfold.load.notebook import Fished
from eggfold.pages.trials import trials_page
from eggfold.recipe.trials import build_trials


@pytest.mark.parametrize(
    ("hours", "shown"), [("1", "1 rod-hour"), ("0.5", "0.5 rod-hours"), ("2", "2 rod-hours")]
)
def test_one_rod_hour_is_one(hours: str, shown: str) -> None:
    keys = {"date": "2025-05-01", "rods": "1", "hours": hours, "takes": "1"}
    fished = [Fished.model_validate({**keys, "recipe": name}) for name in ("Reed", "Alder")]
    page = trials_page(build_trials({"Reed": "reed.yaml"}, fished, {"alder"}))
    assert page.aside == shown
    assert f"Alder (1 take in {shown})" in page_text(page, 400)


def test_a_mix_alone_has_no_chance_to_be_best_in_its_sums_either() -> None:
    keys = {"date": "2025-05-01", "rods": "1", "hours": "8", "takes": "1"}
    fished = [Fished.model_validate({**keys, "recipe": "Reed"})]
    page = trials_page(build_trials({"Reed": "reed.yaml"}, fished), why=True)
    assert "chance to be best:" not in page_text(page, 400)
