"""A share of a mix outside what is customary earns a note, one inside none."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path


def powder(folder: Path, blend: str) -> dict[str, Any]:
    (folder / "t.yaml").write_text(f"name: T\nbase_mix: {{name: M, blend: {blend}}}\n", "utf-8")
    outcome = run_eggfold(["powder", "t.yaml", "--format", "json"], folder)
    assert outcome.exit == 0, outcome.stderr
    answer: dict[str, Any] = json.loads(outcome.stdout)
    return answer


@pytest.mark.parametrize(
    ("name", "percent", "side"),
    [
        ("Salt", 0.4, "under"),
        ("Salt", 0.5, None),
        ("Table SALT", 3, None),
        ("Salt", 3.1, "over"),
        ("Egg white powder", 2.9, "under"),
        ("Egg albumin", 10, None),
    ],
)
def test_a_note_stands_outside_the_customary_range(
    tmp_path: Path, name: str, percent: float, side: str | None
) -> None:
    answer = powder(tmp_path, f"{{{name}: {percent} %, Maize meal: {100 - percent:g} %}}")
    note = answer["ingredients"][0]["note"]
    assert (note is None) == (side is None)
    assert note is None or note.startswith(f"{side} the customary ")
    assert note is None or "common practice" in note


# Maize meal: protein 8.1, fat 3.6, carbohydrate without fibre 69.6; soya flour: 38, 21.9, 20.7;
# semolina: 12.7, 1.1, 68.9.
@pytest.mark.parametrize(
    ("blend", "told"),
    [
        ("{Maize meal: 100 %}", {"protein": "under", "fat": "under", "carbohydrate": "over"}),
        ("{Soya flour: 100 %}", {"protein": "over", "fat": "over", "carbohydrate": "under"}),
        ("{Soya flour: 40 %, Semolina: 40 %, Wheat gluten: 20 %}", {}),
    ],
)
def test_a_mix_outside_what_is_customary_is_told(
    tmp_path: Path, blend: str, told: dict[str, str]
) -> None:
    notes = [note.split() for note in powder(tmp_path, blend)["notes"]]
    assert {words[0]: words[2] for words in notes} == told


def test_salt_and_sugar_are_told_in_per_cent_of_the_water(tmp_path: Path) -> None:
    # mass balance: what is named salt and sugar, over the water of the paste
    text = (
        "name: T\nbase_mix: {name: M, blend: {Salt: 2 %, Sugar: 3 %, Maize meal: 95 %}}\n"
        "additives: [{name: Rock salt, form: powder, hookbait: 2 g per egg}]\n"
    )
    (tmp_path / "t.yaml").write_text(text, "utf-8")
    of = {}
    for kind in ("powder", "batch"):
        outcome = run_eggfold([kind, "t.yaml", "--format", "json"], tmp_path)
        assert outcome.exit == 0, outcome.stderr
        of[kind] = json.loads(outcome.stdout)
    (batch,) = of["batch"]["batches"]
    paste = of["powder"]["paste"]
    water_g, base_g = batch["paste"]["mass_g"] * paste["water"] / 100, batch["powder"]["base_mix_g"]
    salt_g, sugar_g = 0.02 * base_g + 2, 0.03 * base_g
    assert paste["salt_in_water_pct"] == pytest.approx(100 * salt_g / water_g)
    assert paste["sugar_in_water_pct"] == pytest.approx(100 * sugar_g / water_g)
