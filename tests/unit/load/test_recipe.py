"""What is said of a recipe that is written in a natural way which is none of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from eggfold.load.recipe import list_of, sizes_in
from running import Outcome, copy_recipes, run_eggfold

HEAD = "name: Reeds\nbase_mix: M\n"


def check(folder: Path, text: str) -> Outcome:
    (folder / "reeds.yaml").write_text(f"{HEAD}{text}\n", encoding="utf-8")
    return run_eggfold(["check", "reeds.yaml"], folder)


@pytest.mark.parametrize(
    "written",
    [
        "18 mm, 20 mm",
        "18, 20 mm",
        "18 mm,20 mm",
        "18 mm and 20 mm",
        "[18 mm, 20 mm]",
        "[18 mm, {size: 20 mm}]",
        "[18, 20]",
    ],
)
def test_several_sizes_are_answered_with_a_list_that_can_be_read(
    written: str, tmp_path: Path
) -> None:
    right = "[{size: 18 mm, share: 50 %}, {size: 20 mm}]"
    outcome = check(tmp_path, f"baits:\n  freebie: {written}")
    assert f"    try: {right}\n" in outcome.stdout
    assert outcome.stdout.endswith("1 file, 1 error, 0 warnings\n")
    assert check(tmp_path, f"baits:\n  freebie: {right}").exit == 0


@pytest.mark.parametrize("text", ["16,5 mm", "16 mm", "1/2 in", "big, small", "16 mm,5", ""])
def test_one_size_is_not_several(text: str) -> None:
    assert sizes_in(text) == []


@pytest.mark.parametrize("many", [1, 2, 3, 6, 7])
def test_a_list_of_sizes_shares_the_paste(many: int, tmp_path: Path) -> None:
    sizes = [f"{10 + i} mm" for i in range(many)]
    assert check(tmp_path, f"baits: {{freebie: {list_of(sizes)}}}").exit == 0


@pytest.mark.parametrize(
    ("written", "hint"),
    [
        ("Table salt: 5 g per egg", "{name: Table salt, form: powder, hookbait: 5 g per egg}"),
        ("Reed oil: 5 ml per egg", "{name: Reed oil, form: liquid, hookbait: 5 ml per egg}"),
        ("Reed oil: {form: oil}", "name: Reed oil, with its other keys beside it"),
        ("Reed oil: 5 ml/kg", "name: Reed oil, with its form and its doses beside it"),
    ],
)
def test_a_name_that_stands_as_a_key_is_told_where_it_goes(
    written: str, hint: str, tmp_path: Path
) -> None:
    outcome = check(tmp_path, f"additives:\n  - {written}")
    assert outcome.stdout.startswith("reeds.yaml:4:5: ")
    assert f"    try: {hint}\n" in outcome.stdout
    assert outcome.stdout.endswith("1 file, 1 error, 0 warnings\n")


def test_what_is_answered_for_a_dose_behind_a_name_can_be_read(tmp_path: Path) -> None:
    line = "additives:\n  - {name: Table salt, form: powder, hookbait: 5 g per egg}"
    assert check(tmp_path, line).exit == 0


def test_a_slip_in_a_key_is_still_answered_with_the_key(tmp_path: Path) -> None:
    outcome = check(tmp_path, "additives:\n  - hookbat: 5 g per egg")
    assert "    try: did you mean hookbait?\n" in outcome.stdout


def test_no_share_beside_a_count_is_still_two_answers(tmp_path: Path) -> None:
    (tmp_path / "reed.yaml").write_text(
        "name: Reed\neggs: {count: 1, grade: medium, standard: eu}\n"
        "base_mix: {name: Reed bed mix, amount: 118 g}\n"
        "baits: {hookbait: [{size: 16 mm, count: 5, share: 0 %}, {size: 18 mm}]}\n",
        encoding="utf-8",
    )
    outcome = run_eggfold(["check", "reed.yaml"], tmp_path)
    assert "count-and-share" in outcome.stderr + outcome.stdout


def test_a_measure_without_a_size_is_told_alike_on_shelf_and_register(tmp_path: Path) -> None:
    shelf = "measures: metric\nitems: {Dye: {left: 1 floz}}\n"
    (tmp_path / "shelf.yaml").write_text(shelf, encoding="utf-8")
    outcome = run_eggfold(["check", "shelf.yaml"], tmp_path)
    assert "floz has no metric size" in outcome.stderr + outcome.stdout


def test_each_trip_within_a_long_one_is_told(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    trip = "freebies: {recipe: osierfen-caraway, bait: 1 kg}"
    (tmp_path / "recipes" / "long.yaml").write_text(
        f"hours: 8 h\ntrips:\n  - {{leave: 2027-02-01, back: 2027-02-20, {trip}}}\n"
        f"  - {{leave: 2027-02-05, {trip}}}\n  - {{leave: 2027-02-10, {trip}}}\n",
        encoding="utf-8",
    )
    outcome = run_eggfold(["check", "recipes/long.yaml"], tmp_path)
    told = outcome.stderr + outcome.stdout
    assert told.count("you are away from 2027-02-01 to 2027-02-20 already") == 2
