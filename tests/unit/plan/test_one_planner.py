"""A season's day is the weekend's, limits are kept and not warned of, hookbaits stay longest, a late day shifts."""

from __future__ import annotations

import json
import random
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from day_check import faults
from eggfold.engine.day_plan import RULE_EVALUATIONS, plan_day
from eggfold.engine.dispatch import DaySetting
from eggfold.engine.workplace import BowlWork, Hours, PanLoad, Workplace
from eggfold.errors import NoAnswerError
from eggfold.plan.campaign import build_season
from eggfold.plan.rolling import build_rolling
from plan_files import campaign_plan, lay_out, rolling_plan
from running import copy_recipes, run_eggfold

TODAY = "2027-03-01"
MINUTE = 60.0


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Lay out the recipes, for plans to be written beside them."""
    lay_out(tmp_path)
    return tmp_path


SEASON = """\
hours: 9 h
people: 2
tables: 2
breaks: {at: 12:30, lasts: 45 min}
roll_on: [saturday]
trips:
  - leave: 2027-03-26
    freebies: [{recipe: osierfen-caraway, eggs: 40}, {recipe: osierfen-stillwater-fish, eggs: 30}]
    hookbaits: {recipe: osierfen-caraway, eggs: 3}
"""
DAY = """\
start: {day} 09:00
hours: 9 h
people: 2
tables: 2
breaks: {{at: 12:30, lasts: 45 min}}
bowls:
  - {{recipe: osierfen-caraway, eggs: 40}}
  - {{recipe: osierfen-stillwater-fish, eggs: 30}}
  - {{recipe: osierfen-caraway, eggs: 3, strength: hookbait}}
"""


def test_a_day_of_a_season_is_rolling_of_the_same_bowls(folder: Path) -> None:
    [day] = build_season(campaign_plan(folder, SEASON, TODAY), TODAY).days
    rolling = build_rolling(rolling_plan(folder, DAY.format(day=day.day)))
    assert not rolling.left_out
    assert [b.batch.eggs for b in day.bowls] == [b.batch.eggs for b in rolling.made]
    assert [b.batch.strength for b in day.bowls] == [b.batch.strength for b in rolling.made]
    [finish] = rolling.finish
    assert finish
    assert (day.end - finish.expected).total_seconds() == pytest.approx(0, abs=1e-3)
    [made] = rolling.days
    assert made.run
    zero = day.run.steps[0].start_s - made.run.steps[0].start_s
    mine = [(s.what, s.person, s.start_s, s.end_s) for s in day.run.steps]
    theirs = [(s.what, s.person, s.start_s + zero, s.end_s + zero) for s in made.run.steps]
    assert [step[:2] for step in mine] == [step[:2] for step in theirs]
    assert [step[2] for step in mine] == pytest.approx([step[2] for step in theirs])


def drawn_day(draw: random.Random) -> tuple[list[BowlWork], DaySetting]:
    """Draw a day of up to seven bowls, with its breaks, limits and stations."""
    bowls = []
    for _ in range(draw.randint(1, 7)):
        loads: list[PanLoad] = []
        for size in draw.sample(("14", "16", "20"), draw.randint(1, 2)):
            roll_s, boil_s = draw.randint(3, 30) * MINUTE, float(draw.choice((0, 60, 110, 600)))
            load = PanLoad(size, draw.uniform(50, 900), roll_s, boil_s, 60.0, 0.05, 48 * 3600.0)
            loads += [load] * draw.randint(1, 5)
        bowls.append(BowlWork(draw.randint(10, 20) * MINUTE, tuple(loads)))
    place = Workplace(
        draw.randint(1, 4),
        tables=draw.randint(1, 3),
        pans=draw.randint(1, 2),
        mixing_bowls=draw.randint(1, 2),
        stand_s=draw.choice((60, 150)) * MINUTE,
        raw_s=draw.choice((45, 120)) * MINUTE,
        water_every_g=draw.choice((3000.0, 10_000.0)),
    )
    at = draw.uniform(1, 5) * 3600
    hours = Hours(0.0, draw.uniform(6, 14) * 3600, ((at, at + draw.uniform(10, 60) * MINUTE),))
    return bowls, DaySetting(place, hours)


def test_a_thousand_random_days_can_be_done_and_tell_what_they_break() -> None:
    draw = random.Random(19)  # noqa: S311 - the same days each time
    kept = 0
    for _ in range(1000):
        bowls, setting = drawn_day(draw)
        run = plan_day(bowls, setting, evaluations=RULE_EVALUATIONS)
        assert run is not None
        assert faults(bowls, setting, run) == []
        kept += not run.broken
    assert kept > 200


TIGHT = """\
start: 2027-03-27 09:00
hours: 6 h
people: 2
tables: 2
bowls:
  - {recipe: osierfen-stillwater-fish, bait: 14 kg}
  - {recipe: osierfen-caraway, eggs: 3, strength: hookbait}
"""


def test_hookbaits_are_left_out_last(folder: Path) -> None:
    rolling = build_rolling(rolling_plan(folder, TIGHT))
    assert {b.batch.strength for b in rolling.left_out} == {"freebie"}
    assert "hookbait" in {b.batch.strength for b in rolling.made}
    [check] = rolling.checks
    assert check
    last = next(b for b in rolling.made if b.number == check.bowl)
    assert last.batch.strength == "freebie"


def test_a_day_is_bagged_when_its_slowest_bait_is_dry(folder: Path) -> None:
    slow = "eggs: 40, sizes: [{kind: bottom, size: 20 mm, drying: 96 h}]}"
    [usual], [later] = (
        build_season(campaign_plan(folder, plan, TODAY), TODAY).days
        for plan in (SEASON, SEASON.replace("eggs: 40}", slow))
    )
    assert (usual.bagged - usual.start).days == 2
    assert (later.bagged - later.start).days == 4


def test_a_bag_of_paste_takes_room_in_the_freezer(folder: Path) -> None:
    """Counted by hand: loose balls fill 0.6 of their bag, paste all of it."""
    kinds = "sizes: [{kind: paste, share: 25 %}, {kind: bottom, size: 20 mm}]"
    plan = TIGHT.replace("bait: 14 kg", f"eggs: 12, {kinds}")
    bowl = next(b for b in build_rolling(rolling_plan(folder, plan)).made if b.batch.paste_g)
    paste = bowl.batch.paste
    litres = (paste.finished_g / 0.6 + bowl.batch.paste_g) / 1000 / paste.density_g_ml
    assert bowl.freezer_l == pytest.approx(litres)


@pytest.mark.parametrize(("key", "done"), [("stand", "rolled"), ("raw", "boiled")])
def test_a_limit_that_no_bowl_keeps_is_told(folder: Path, key: str, done: str) -> None:
    plan = TIGHT.replace("people: 2", f"people: 1\n{key}: 5 min")
    with pytest.raises(NoAnswerError, match=f"cannot be {done} within {key}: 5 min"):
        build_rolling(rolling_plan(folder, plan))
    season = SEASON.replace("people: 2", f"people: 1\n{key}: 5 min")
    with pytest.raises(NoAnswerError, match=f"cannot be {done} within {key}: 5 min"):
        build_season(campaign_plan(folder, season, TODAY), TODAY)


def test_smaller_bowls_keep_a_shorter_limit(folder: Path) -> None:
    plan = TIGHT.replace("hours: 6 h", "hours: 14 h\nstand: 45 min")
    rolling = build_rolling(rolling_plan(folder, plan))
    usual = build_rolling(rolling_plan(folder, TIGHT.replace("hours: 6 h", "hours: 14 h")))
    assert not rolling.left_out
    assert len(rolling.made) > len(usual.made)
    assert all(one.stands_s <= 45 * 60 + 1 for one in rolling.times.values())


CORKED = """\
name: Reed corks
base_mix: {name: Reed mix, amount: 130 g}
baits:
  hookbait: [{kind: popup, core: 10 mm, skin: 2 mm, count: 120}, {kind: bottom, size: 16 mm}]
"""


def test_baits_on_cork_are_rolled_by_hand_in_loads_of_half_an_hour(folder: Path) -> None:
    """120 at 60 an hour are four loads of 30 min, at 240 an hour one."""
    (folder / "corks.yaml").write_text(CORKED, encoding="utf-8")
    plan = (
        "start: 2027-03-27 09:00\nhours: 9 h\nbowls: {recipe: corks, eggs: 4, strength: hookbait}\n"
    )
    for pace, loads in (("", 4), ("cork_pace: 240 per hour\n", 1), ("cork_pace: 240\n", 1)):
        rolling = build_rolling(rolling_plan(folder, plan + pace))
        popups = [load for b in rolling.made for load in b.work.loads if "popup" in load.size]
        assert len(popups) >= loads
        assert sum(load.roll_s for load in popups) == pytest.approx(
            7200.0 if loads == 4 else 1800.0
        )
        assert max(load.roll_s for load in popups) <= 1800.0 + 1e-6
    answer = build_rolling(rolling_plan(folder, plan, "cork_pace: 120 per hour\n"))
    assert answer.session.workshop.cork_pace_h == 120


@pytest.mark.parametrize(("text", "hint"), [("60 kg", "60 per hour"), ("quick", "60 per hour")])
def test_a_pace_of_corks_is_asked_for_as_it_is_written(
    tmp_path: Path, text: str, hint: str
) -> None:
    (tmp_path / "bench.yaml").write_text(f"cork_pace: {text}\n", encoding="utf-8")
    outcome = run_eggfold(["check", "bench.yaml"], tmp_path)
    assert "[not-a-pace]" in outcome.stdout
    assert f"try: {hint}" in outcome.stdout


def test_a_list_of_pans_counts_and_the_largest_come_first(folder: Path) -> None:
    bench = "pan: [5 l, 8 l]\n"
    for pans, number, litres in (("", 2, 5), ("pans: 1\n", 1, 8), ("pans: 3\n", 3, 5)):
        plan = DAY.format(day="2027-03-27") + pans
        rolling = build_rolling(rolling_plan(folder, plan, bench))
        assert rolling.session.place.pans == number
        assert rolling.made[0].batch.roll.kitchen.pan_l == litres


def test_names_in_one_text_are_so_many_people(folder: Path) -> None:
    for names in ("Aster and Rowan", "Aster, Rowan", "[Aster, Rowan]"):
        plan = DAY.format(day="2027-03-27").replace("people: 2", f"people: {names}")
        assert build_rolling(rolling_plan(folder, plan)).people == ("Aster", "Rowan")


def rolled(folder: Path, *args: str, exit_code: int = 0) -> dict[str, Any]:
    command = ("rolling", "recipes/weekend.yaml", "--format", "json", *args)
    outcome = run_eggfold(command, folder)
    assert outcome.exit == exit_code, outcome.stderr
    answer: dict[str, Any] = json.loads(outcome.stdout)
    return answer


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


def test_a_late_day_is_the_same_day_later(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    planned, late = rolled(tmp_path), rolled(tmp_path, "--late", "15min")
    assert [b["number"] for b in late["bowls"]] == [b["number"] for b in planned["bowls"]]
    starts = [moment(answer["steps"][0]["start"]) for answer in (planned, late)]
    assert (starts[1] - starts[0]).total_seconds() == 15 * 60
    on_sunday = [[b["day"] for b in answer["bowls"]] for answer in (planned, late)]
    assert on_sunday[0] == on_sunday[1]
    after = rolled(tmp_path, "--done", "4", "--late", "15min")
    assert sorted(b["number"] for b in after["bowls"]) == [5, 6, 7, 8, 9]


def test_a_very_late_day_leaves_something_out(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    answer = rolled(tmp_path, "--late", "7h", exit_code=3)
    assert answer["left_out"]
    assert {b["strength"] for b in answer["left_out"]} == {"freebie"}


def test_late_and_now_are_not_both_told(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    command = ("rolling", "recipes/weekend.yaml", "--late", "25min", "--now", "14:20")
    outcome = run_eggfold(command, tmp_path)
    assert outcome.exit == 2
    assert "give one of them" in outcome.stderr
    assert run_eggfold((*command[:3], "soon"), tmp_path).exit == 2


def test_each_bowl_says_who_has_the_pan_and_how_long_it_stands(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    answer = rolled(tmp_path)
    for bowl in answer["bowls"]:
        own = [s for s in answer["steps"] if s["bowls"] == [bowl["number"]]]
        assert {s["who"] for s in own if s["what"] in ("boil", "cut", "water")} == {
            bowl["pan_person"]
        }
        rest = next(s for s in own if s["what"] == "rest")
        last = max(moment(s["end"]) for s in own if s["what"] == "roll")
        assert (last - moment(rest["end"])).total_seconds() == pytest.approx(
            bowl["stands_s"], abs=1.01
        )
        assert bowl["stands_s"] <= 9001
        assert bowl["raw_s"] <= 7201


def test_a_weekend_begins_with_one_screen(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    short = run_eggfold(("rolling", "recipes/weekend.yaml"), tmp_path).stdout.splitlines()
    full = run_eggfold(("rolling", "recipes/weekend.yaml", "--full"), tmp_path).stdout.splitlines()
    assert len(short) <= 60 < len(full)
    assert max(map(len, short)) <= 80
    labels = [line.split("  ")[0] for line in short]
    for label in (
        "DONE BY",
        "CHECK",
        "FIRST",
        "WHO",
        "EACH LOAD",
        "SLOWEST",
        "FITS",
        "LATE?",
        "MORE",
    ):
        assert label in labels
    assert not any(line.startswith("CLOCK") for line in short)
    assert any(line.startswith("CLOCK") for line in full)
    assert sum("[ ]" in line for line in short) == 9


def test_a_season_begins_with_one_screen(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    command = ("campaign", "recipes/season.yaml", "--date", "2027-03-01")
    short = run_eggfold(command, tmp_path).stdout.splitlines()
    assert len(short) <= 60
    assert {"NEXT", "TRIPS"} <= set(short)
    assert any(line.startswith("FREEZER ") for line in short)
    assert "ROLLING" in run_eggfold((*command, "--full"), tmp_path).stdout.splitlines()
