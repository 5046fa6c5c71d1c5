"""The figures of both plans: what is bought, what it costs, what one more saves, what does not fit."""

from __future__ import annotations

import json
from datetime import datetime
from typing import TYPE_CHECKING, Any

import pytest

from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

SATURDAY = """\
start: 2027-04-10 09:00
hours: 9 h
people: {people}
tables: {tables}
breaks: [{{at: 12:30, lasts: 45 min}}]
bowls: [{{recipe: Osierfen Caraway, bait: {bait}}}]
"""


def season(folder: Path) -> dict[str, Any]:
    command = ("campaign", "recipes/season.yaml", "--date", "2027-01-01", "--format", "json")
    outcome = run_eggfold(command, folder)
    assert outcome.exit == 0, outcome.stderr
    answer: dict[str, Any] = json.loads(outcome.stdout)
    return answer


def rolling(folder: Path, plan: str, exit_code: int = 0) -> dict[str, Any]:
    (folder / "recipes" / "plan.yaml").write_text(plan, "utf-8")
    outcome = run_eggfold(("rolling", "recipes/plan.yaml", "--format", "json"), folder)
    assert outcome.exit == exit_code, outcome.stderr
    answer: dict[str, Any] = json.loads(outcome.stdout)
    return answer


def end_s(answer: dict[str, Any]) -> float:
    return sum(datetime.fromisoformat(f["expected"]).timestamp() for f in answer["finish"])


def test_stock_is_used_up_to_its_date_in_a_season(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    shelf = tmp_path / "recipes" / "shelf.yaml"
    shelf.write_text(shelf.read_text("utf-8").replace("2031-05-31", "2027-04-18"), "utf-8")
    items = [i for p in season(tmp_path)["purchases"] for i in p["items"]]
    flavour = next(i for i in items if i["name"] == "Caraway honey flavour")
    assert round(flavour["in_hand"], 2) == 24.52  # 1.6 ml on 28 March, 22.92 ml on 18 April
    assert [(line["count"], line["label"]) for line in flavour["buy"]] == [(1, "50 ml")]
    assert flavour["cost"] == 8.25


def test_eggs_of_a_trip_cost_what_the_packs_cost_that_are_bought(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    costs = [take["cost"] for take in season(tmp_path)["trips"][3]["brings"]]
    assert round(costs[0], 3) == 58.789  # 45 eggs and what goes with them, 23.35 EUR for 90 eggs


def test_eggs_without_a_date_are_named(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    command = ("campaign", "recipes/season.yaml", "--date", "2027-01-01", "--full")
    assert "EU large eggs: those in hand have no use_by" in run_eggfold(command, tmp_path).stdout
    shelf = tmp_path / "recipes" / "shelf.yaml"
    text = shelf.read_text("utf-8").replace(
        "    left: 4\n", "    left: 4\n    use_by: 2027-01-20\n"
    )
    shelf.write_text(text, "utf-8")
    assert "those in hand" not in run_eggfold(command, tmp_path).stdout


def test_one_more_table_saves_about_what_planning_with_it_saves(tmp_path: Path) -> None:
    """The saving is that of the plain rules, the plan that of the whole search."""
    copy_recipes(tmp_path)
    one = rolling(tmp_path, SATURDAY.format(people=2, tables=1, bait="6 kg"))
    two = rolling(tmp_path, SATURDAY.format(people=2, tables=2, bait="6 kg"))
    saved = next(s["saves_s"] for s in one["savings"] if s["what"] == "table")
    assert abs(saved - (end_s(one) - end_s(two))) < 15 * 60
    assert saved > 15 * 60


def test_bowls_that_do_not_fit_are_named_as_left_out(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    rolling(tmp_path, SATURDAY.format(people=1, tables=1, bait="14 kg"), exit_code=3)
    outcome = run_eggfold(("rolling", "recipes/plan.yaml"), tmp_path)
    assert "left out (" in " ".join(outcome.stdout.split())
    assert "bait less" not in outcome.stdout


def test_a_freezer_that_is_short_is_a_change(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    (tmp_path / "recipes" / "bench.yaml").write_text("freezer: 5 l\n", "utf-8")
    answer = rolling(tmp_path, SATURDAY.format(people=2, tables=1, bait="6 kg"), exit_code=3)
    room = answer["freezer"]
    [change] = answer["changes"]
    assert change["what"] == "freezer"
    assert abs(change["freezer_l"] - (room["needed_l"] - room["have_l"])) < 1e-9


def test_paste_and_raw_baits_never_stand_for_longer_than_allowed(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    (tmp_path / "recipes" / "bench.yaml").write_text("bowl: 1500 g\n", "utf-8")
    plan = (
        "start: 2027-04-10 09:00\nhours: 10 h\ndays: 2\npeople: 3\ntables: 2\nstand: 90 min\nraw: 50 min\n"
        "breaks: [{at: 12:30, lasts: 45 min}, {at: 15:30, lasts: 15 min}]\nbowls:\n"
        "  - {recipe: Osierfen Stillwater Fish, bait: 12 kg}\n"
        "  - {recipe: Osierfen Caraway, count: 1000, sizes: 20 mm}\n"
        "  - {recipe: Osierfen Caraway, eggs: 3, strength: hookbait}\n"
    )
    answer = rolling(tmp_path, plan)
    ends = {}
    for step in answer["steps"]:
        place = (step["bowls"][0], step["load"]) if step["bowls"] else None
        start, end = (datetime.fromisoformat(step[key]).timestamp() for key in ("start", "end"))
        if step["what"] in ("rest", "roll"):
            ends[place] = end
        if step["what"] == "roll":
            assert end - ends[step["bowls"][0], None] <= 90 * 60 + 1
        if step["what"] == "boil":
            assert start - ends[place] <= 50 * 60 + 1
    assert all(b["stands_s"] <= 5401 and b["raw_s"] <= 3001 for b in answer["bowls"])


def test_writing_down_the_doubt_before_a_weighing_keeps_a_trials_own(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    recipe = tmp_path / "recipes" / "osierfen-caraway.yaml"
    command = ("batch", "recipes/osierfen-caraway.yaml", "--as", "hookbait", "--format", "json")
    before = json.loads(run_eggfold(command, tmp_path).stdout)
    recipe.write_text(recipe.read_text("utf-8") + "\nassume: {absorbency_sd: 10 %}\n", "utf-8")
    assert json.loads(run_eggfold(command, tmp_path).stdout) == before


FORTNIGHT = """\
hours: 6 h
roll_on: [saturday]
roll_from: 2027-03-01
freezer_life: 7
egg_life: {egg_life}
trips:
  - {{leave: 2027-03-12, freebies: {{recipe: osierfen-millet, bait: 3 kg}}}}
  - {{leave: 2027-03-26, freebies: {{recipe: osierfen-millet, bait: 3 kg}}}}
"""


@pytest.mark.parametrize(
    ("egg_life", "bought"), [(15, ["2027-03-05"]), (14, ["2027-03-05", "2027-03-19"])]
)
def test_eggs_serve_up_to_and_on_their_last_day(
    tmp_path: Path, egg_life: int, bought: list[str]
) -> None:
    copy_recipes(tmp_path)
    (tmp_path / "recipes" / "shelf.yaml").unlink()
    plan = tmp_path / "recipes" / "season.yaml"
    plan.write_text(FORTNIGHT.format(egg_life=egg_life), "utf-8")
    answer = season(tmp_path)
    days = [day["day"] for day in answer["rolling_days"]]
    assert days == ["2027-03-06", "2027-03-20"]  # 5 March to 20 March are 15 days
    eggs = [p for p in answer["purchases"] if any(i["name"] == "EU large eggs" for i in p["items"])]
    assert [purchase["day"] for purchase in eggs] == bought
