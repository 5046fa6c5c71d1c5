"""Doubtful figures are told at the top of the card and in ``check``; what is meant goes through."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.__main__ import run
from eggfold.reference.slips import SLIPS
from running import RECIPES

if TYPE_CHECKING:
    from pathlib import Path

MIX = "base_mix: {name: Reed mix, amount: %s}\n"
LIQUID = "  - {name: %s, form: liquid, density: %s g/ml, hookbait: %s, freebie: %s}\n"
POWDER = "  - {name: %s, form: powder, hookbait: %s, freebie: %s}\n"
FLAVOUR = "  - {name: %s, form: liquid, carrier: glycol, hookbait: %s, freebie: %s}\n"
OIL = "  - {name: %s, form: oil, hookbait: %s, freebie: %s}\n"

# Mixes that rollers make (common practice, from memory): each is odd in one way and meant.
MEANT = {
    "liquid-heavy": MIX % "170 g"
    + "additives:\n"
    + LIQUID % ("Liver liquid", 1.2, "20 ml per egg", "150 ml per kg mix")
    + LIQUID % ("Corn steep liquor", 1.2, "8 ml per egg", "60 ml per kg mix"),
    "milk-protein": MIX % "88 g"
    + "additives:\n"
    + FLAVOUR % ("Cream", "0.5 ml per egg", "4 ml per kg mix"),
    "salt-rich": MIX % "125 g"
    + "additives:\n"
    + POWDER % ("Sea salt", "9 g per egg", "60 g per kg mix"),
    "bantam-eggs": "eggs: {count: 4, liquid: 32 g}\n"
    + MIX % "270 g"
    + "additives:\n"
    + FLAVOUR % ("Quince", "0.6 ml per egg", "6 ml per kg mix"),
    "strong-hookbaits": MIX % "130 g"
    + "additives:\n"
    + FLAVOUR % ("Quince", "3 ml per egg", "5 ml per kg mix"),
    "oily": MIX % "135 g" + "additives:\n" + OIL % ("Reed oil", "8 ml per egg", "50 ml per kg mix"),
    "thirsty-bird-food": MIX % "165 g",
    "bare-mix": MIX % "100 g" + "boil: {hookbait: 3 min, freebie: 4 min}\n",
    "powders-of-its-own": MIX % "80 g"
    + "additives:\n"
    + POWDER % ("Robin meal", "30 g per egg", "220 g per kg mix")
    + POWDER % ("Ground seed", "20 g per egg", "150 g per kg mix"),
    "weak-freebies": "freebie_strength: 15 %\n"
    + MIX % "130 g"
    + "additives:\n  - {name: Quince, form: liquid, carrier: alcohol, hookbait: 2 ml per egg}\n",
    "duck-eggs": "eggs: {liquid: 75 g}\n"
    + MIX % "160 g"
    + "additives:\n"
    + FLAVOUR % ("Quince", "4.8 ml per egg", "28 ml per kg mix"),
    "small-and-quick": MIX % "130 g"
    + "baits: {hookbait: 10 mm, freebie: 12 mm}\nboil: {hookbait: 30 s, freebie: 45 s}\n",
}


def doubts_of(file: Path, capsys: pytest.CaptureFixture[str]) -> list[str]:
    assert run(["check", str(file)]) == 0
    out = capsys.readouterr().out
    return [code for code in SLIPS if f"[{code}]" in out]


def write_recipe(text: str, folder: Path) -> Path:
    file = folder / "reed.yaml"
    file.write_text(f"name: Reed\n{text}", encoding="utf-8")
    return file


def top_of_card(file: Path, capsys: pytest.CaptureFixture[str]) -> str:
    assert run(["batch", str(file), "--date", "2026-01-01"]) == 0
    return " ".join(capsys.readouterr().out.split("\nBOWL")[0].split())


@pytest.mark.parametrize("mix", MEANT)
def test_a_mix_that_is_meant_goes_through(
    mix: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = write_recipe(MEANT[mix], tmp_path)
    assert doubts_of(file, capsys) == []
    assert "!" not in top_of_card(file, capsys)


def test_the_demo_goes_through(capsys: pytest.CaptureFixture[str]) -> None:
    assert doubts_of(RECIPES, capsys) == []


def test_the_second_eggs_powder_is_missed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = write_recipe("eggs: {count: 2}\n" + MIX % "132 g", tmp_path)
    assert doubts_of(file, capsys) == ["trial-powder"]
    top = top_of_card(file, capsys)
    assert "! The trial took 132 g of base mix for 2 eggs: " in top
    assert "that is what one egg takes: was it weighed for all 2?" in top


@pytest.mark.parametrize("amount", ["1.30 kg", "13 g", "70 g", "200 g"])
def test_a_bag_far_off_is_told_on_the_card(
    amount: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    top = top_of_card(write_recipe(MIX % amount, tmp_path), capsys)
    assert "where 110 to 150 g is usual" in top


def test_a_kilos_dose_in_one_egg_is_told_with_both_doses(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = MIX % "130 g" + "additives:\n" + LIQUID % ("Syrup", 1, "5 ml per egg", "5 ml per kg mix")
    file = write_recipe(text, tmp_path)
    assert doubts_of(file, capsys) == ["per-kilo-slip"]
    top = top_of_card(file, capsys)
    assert "was a hookbait dose per kg mix written per egg" in top


def test_a_dose_that_explains_the_bag_leaves_the_bag_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = MIX % "130 g" + "additives:\n" + FLAVOUR % ("Quince", "50 ml per egg", "none")
    assert doubts_of(write_recipe(text, tmp_path), capsys) == ["strong-dose"]


def test_an_ok_silences_one_code_only(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (
        "boil: {hookbait: 5 s}\n"
        + MIX % "130 g"
        + "additives:\n"
        + FLAVOUR % ("Quince", "4.5 ml per egg", "none")
    )
    assert doubts_of(write_recipe(text, tmp_path), capsys) == ["strong-dose", "short-boil"]
    file = write_recipe(f"{text}ok: [strong-dose]\n", tmp_path)
    assert doubts_of(file, capsys) == ["short-boil"]
    assert "Quince: the hookbait dose" not in top_of_card(file, capsys)


@pytest.mark.parametrize(
    ("hookbait", "freebie", "told"),
    [
        ("5 ml per egg", "5 ml per kg mix", "7.8 times"),
        ("0.1 ml per egg", "7 ml per kg mix", "10 % of"),
    ],
)
def test_doses_far_apart_are_told_as_times_or_as_a_share(
    hookbait: str, freebie: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """5 ml on the mix of a large egg of 60.5 g, 128 to 138 g with what the liquid asks for, are 36 to 39 for a kilo."""
    text = MIX % "130 g" + "additives:\n" + LIQUID % ("Syrup", 1, hookbait, freebie)
    assert f", {told} the freebie dose" in top_of_card(write_recipe(text, tmp_path), capsys)
