"""What sizes a batch: what the options refuse, and that a note of a bowl is the card of that bowl."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from running import copy_recipes, run_eggfold

CARAWAY = "recipes/osierfen-caraway.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Give a folder with the demo recipes."""
    copy_recipes(tmp_path)
    return tmp_path


def answer(folder: Path, *args: str) -> Any:
    outcome = run_eggfold([*args, "--format", "json"], folder)
    assert outcome.exit == 0, outcome.stderr
    return json.loads(outcome.stdout)


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ("--egg eu-large --egg eu-medium", "does not say how many of these"),
        ("--egg 12xeu-large --egg eu-medium", "does not say how many of these"),
        ("--egg 12xeu-large --powder 1kg", "leave --powder out"),
        ("--egg 12xeu-large --eggs 12", "leave --eggs out"),
        ("--egg 0xeu-large", "1 to 100000 eggs"),
        ("--egg 99999xeu-large --egg 99999xus-large", "at most 100000 eggs"),
        ("--egg 12xeu-jumbo", "no such grade"),
        ("--whole-eggs", "goes with --powder"),
        ("--eggs 6 --whole-eggs", "goes with --powder"),
        ("--eggs 6 --liquid 300g", "by one of --eggs and --liquid"),
        ("--liquid 1pint", "differs by country"),
        ("--liquid 600", "600 g or 600 ml"),
        ("--liquid 1g", "5 to 6000000 g"),
    ],
)
def test_a_size_that_cannot_be_is_refused(folder: Path, options: str, says: str) -> None:
    outcome = run_eggfold(["batch", CARAWAY, "--as", "freebie", *options.split()], folder)
    assert (outcome.exit, outcome.stdout) == (2, "")
    assert says in outcome.stderr


@pytest.mark.parametrize(
    ("eggs", "measures", "where", "code"),
    [
        ("{liquid_egg: 1 pint}", "", (3, 20), "unknown-measure"),
        ("{liquid_egg: 1 pint}", "metric", (3, 20), "unknown-measure"),
        ("{liquid_egg: 999999 pint}", "us", (3, 20), "out-of-range"),
        ("{liquid_egg: 0 pint}", "us", (3, 20), "out-of-range"),
        ("{liquid_egg: 0 g}", "", (3, 20), "out-of-range"),
        ("{liquid_egg: 600 mm}", "", (3, 20), "wrong-dimension"),
        ("{liquid_egg: 600 g, count: 10}", "", (3, 34), "two-sizes"),
        ("{liquid_egg: 600 g, grade: large, standard: eu}", "", (3, 34), "two-sizes"),
    ],
)
def test_liquid_egg_that_says_nothing_is_a_problem(
    tmp_path: Path, eggs: str, measures: str, where: tuple[int, int], code: str
) -> None:
    text = f"name: Reeds\nbase_mix: Mix\neggs: {eggs}\n"
    text += f"measures: {measures}\n" if measures else ""
    (tmp_path / "reeds.yaml").write_text(text, encoding="utf-8")
    (found,) = json.loads(
        run_eggfold(["check", "reeds.yaml", "--format", "json"], tmp_path).stdout
    )["problems"]
    assert (found["line"], found["column"], found["code"]) == (*where, code)


def test_a_dose_per_pint_of_eggs_needs_its_country(tmp_path: Path) -> None:
    dose = "{name: Syrup, form: liquid, hookbait: none, freebie: 5 ml per pint eggs}"
    for measures, number in (("", 1), ("measures: imperial\n", 0)):
        text = f"name: Reeds\nbase_mix: Mix\n{measures}additives: [{dose}]\n"
        (tmp_path / "reeds.yaml").write_text(text, encoding="utf-8")
        found = json.loads(
            run_eggfold(["check", "reeds.yaml", "--format", "json"], tmp_path).stdout
        )
        assert [p["code"] for p in found["problems"]] == ["unknown-measure"] * number


def test_a_poured_bowl_teaches_the_absorbency_that_its_card_would_have_had(folder: Path) -> None:
    sized = "--as", "freebie", "--powder", "2kg"
    before = answer(folder, "batch", CARAWAY, *sized)["batches"][0]
    poured_g = round(before["eggs"]["expected_g"] * 1.08, 1)
    noted = "--as", "freebie", "--tub", "2kg", "--left", "0g", "--liquid", f"{poured_g}g"
    note = answer(folder, "note", "weighed", CARAWAY, *noted)
    assert note["wet_g"] == pytest.approx(
        before["wet_g"] - before["eggs"]["expected_g"] + poured_g, rel=1e-9
    )
    assert note["dry_g"] == pytest.approx(before["powder"]["expected_g"], rel=1e-9)
    after = answer(folder, "batch", CARAWAY, *sized)["batches"][0]
    assert before["eggs"]["expected_g"] < after["eggs"]["expected_g"] < poured_g
    assert after["powder"]["weighings"] == 1


def test_a_noted_trial_in_liquid_egg_is_the_trial(tmp_path: Path) -> None:
    text = "name: Reeds\neggs: {liquid_egg: 500 ml}\nbase_mix: {name: Mix, amount: 1.1 kg}\n"
    (tmp_path / "reeds.yaml").write_text(text, encoding="utf-8")
    noted = "--liquid", "500ml", "--before", "1.1kg", "--after", "0g"
    answer(tmp_path, "note", "weighed", "reeds.yaml", *noted)
    batch = answer(tmp_path, "batch", "reeds.yaml")["batches"][0]
    assert batch["powder"]["weighings"] == 0
    assert batch["powder"]["base_mix_g"] == pytest.approx(1100, rel=1e-12)


def test_mixed_boxes_are_noted_and_drawn_box_by_box(folder: Path) -> None:
    shelf = folder / "recipes" / "shelf.yaml"
    eggs = "items:\n  EU large eggs: {left: 30}\n  EU medium eggs: {left: 10}\n"
    shelf.write_text(eggs, encoding="utf-8")
    boxes = "--egg", "12xeu-large", "--egg", "6xeu-medium"
    note = answer(folder, "note", "rolled", CARAWAY, "--as", "freebie", *boxes)
    assert (note["eggs"], note["egg_g"]) == (18, pytest.approx((12 * 60.52 + 6 * 51.62) / 18))
    drawn = {item["name"]: item["left"] for item in note["drawn"]}
    assert drawn == {"EU large eggs": 18, "EU medium eggs": 4}


def test_eggs_and_poured_egg_are_not_both_noted(folder: Path) -> None:
    bag = "--before", "2kg", "--after", "0g"
    for more in (("--eggs", "6", "--liquid", "300g"), ()):
        outcome = run_eggfold(["note", "weighed", CARAWAY, *bag, *more], folder)
        assert (outcome.exit, outcome.stdout) == (2, "")


@pytest.mark.parametrize("bag", [30, 268, 1000, 12345.6])
def test_a_whole_bag_is_in_the_bowl_to_the_last_digit(folder: Path, bag: float) -> None:
    size = "--as", "freebie", "--powder", f"{bag}g"
    answered = answer(folder, "batch", CARAWAY, *size)
    powder = answered["batches"][0]["powder"]
    assert powder["base_mix_g"] == powder["base_mix_low_g"] == powder["base_mix_high_g"] == bag
    (need,) = [item["need"] for item in answered["shopping"] if item["name"] == "Osierfen bulk mix"]
    assert need == bag


def test_a_doubtful_trial_in_liquid_egg_is_told_by_its_mass(tmp_path: Path) -> None:
    text = "name: Reeds\neggs: {liquid_egg: 500 ml}\nbase_mix: {name: Mix, amount: 110 g}\n"
    (tmp_path / "reeds.yaml").write_text(text, encoding="utf-8")
    outcome = run_eggfold(["check", "reeds.yaml"], tmp_path)
    assert "The trial took 110 g of base mix for 515 g of egg" in outcome.stdout
