"""Times of a bait's own, baits that are not boiled, and drying by size and hours."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from running import run_eggfold

BOX = """
name: Osierfen Box
base_mix: {name: Box mix, amount: 130 g}
boil: {hookbait: 2 min}
baits:
  hookbait:
    - {kind: bottom, size: 14 mm, share: 30 %, boil: 60 s}
    - {kind: bottom, size: 16 mm, share: 30 %, boil: none, drying: 96 h}
    - {kind: bottom, size: 20 mm}
"""
BOWL_LOSS, STEAM, REST, DIFFUSIVITY = 0.03, 0.03, 0.10, 5e-12


def answer(folder: Path, *args: str, recipe: str = BOX) -> dict[str, Any]:
    (folder / "box.yaml").write_text(recipe, encoding="utf-8")
    outcome = run_eggfold(["batch", "box.yaml", "--format", "json", *args], folder)
    assert outcome.exit == 0, outcome.stderr
    batch: dict[str, Any] = json.loads(outcome.stdout)["batches"][0]
    return batch


def loss(diameter_mm: float, hours: float, water: float) -> float:
    """Crank, The mathematics of diffusion, equation 6.20 (from memory), summed to 2,000 terms."""
    fourier = DIFFUSIVITY * hours * 3600 / (diameter_mm / 2000) ** 2
    left = sum(math.exp(-((n * math.pi) ** 2) * fourier) / n**2 for n in range(1, 2001))
    free = water - REST * (1 - water)
    return STEAM + (free - STEAM) * (1 - 6 / math.pi**2 * left)


def test_an_own_time_beats_the_recipes_and_both_beat_what_was_worked_out(tmp_path: Path) -> None:
    small, cured, large = (bait["boil"] for bait in answer(tmp_path)["baits"])
    assert (small["seconds"], large["seconds"]) == (60, 120)
    assert small["until"] is large["until"] is None
    assert small["worked_s"] < 60
    assert large["low_s"] < large["worked_s"] < large["high_s"]
    assert cured is None


def test_a_target_that_is_asked_for_beats_an_own_time_but_boils_nothing_cured(
    tmp_path: Path,
) -> None:
    small, cured, large = (bait["boil"] for bait in answer(tmp_path, "--until", "set")["baits"])
    for boil in (small, large):
        assert boil["until"] == "set"
        assert boil["seconds"] == boil["worked_s"]
    assert cured is None


def test_baits_that_are_not_boiled_have_no_load(tmp_path: Path) -> None:
    answer(tmp_path)
    clock = ["boil", "--clock", "--recipe", "box.yaml", "--format", "json"]
    loads = json.loads(run_eggfold(clock, tmp_path).stdout)["loads"]
    assert [load["diameter_mm"] for load in loads] == [14, 20]


def test_a_plan_lays_out_what_is_not_boiled(tmp_path: Path) -> None:
    answer(tmp_path)
    plan = "start: 2027-03-27 09:00\nhours: 8 h\nbowls:\n  - {recipe: box, strength: hookbait, eggs: 2}\n"
    (tmp_path / "plan.yaml").write_text(plan.replace("box,", "Osierfen Box,"), encoding="utf-8")
    outcome = run_eggfold(["rolling", "plan.yaml", "--format", "json"], tmp_path)
    assert outcome.exit == 0, outcome.stderr
    (bowl,) = json.loads(outcome.stdout)["bowls"]
    assert {(load["diameter_mm"], load["boil_s"]) for load in bowl["loads"]} == {
        (14, 60),
        (16, 0),
        (20, 120),
    }


@pytest.mark.parametrize("hours", [None, 24, 120])
def test_dried_baits_lose_by_size_and_hours(tmp_path: Path, hours: int | None) -> None:
    if hours:
        (tmp_path / "bench.yaml").write_text(f"drying: {hours} h\n", encoding="utf-8")
    batch = answer(tmp_path)
    powder = run_eggfold(["powder", "box.yaml", "--format", "json"], tmp_path).stdout
    water = json.loads(powder)["paste"]["water"] / 100
    rolled_g = batch["paste"]["mass_g"] * (1 - BOWL_LOSS)
    dried_g = 0.0
    for size, share, own in ((14, 0.3, hours), (16, 0.3, 96), (20, 0.4, hours)):
        dried_g += rolled_g * share * (1 - loss(size, own or 48, water))
    assert batch["paste"]["finished_g"] == pytest.approx(dried_g, rel=1e-4)
    assert batch["paste"]["finished_low_g"] < dried_g < batch["paste"]["finished_high_g"]


def test_the_card_names_the_hours_of_each_size(tmp_path: Path) -> None:
    assert {bait["drying_h"] for bait in answer(tmp_path)["baits"]} == {48, 96}
    card = run_eggfold(["batch", "box.yaml", "--full"], tmp_path).stdout
    assert "dried 48 to 96 h" in card
    assert "16 mm bottom 96 h" in " ".join(card.split())


def test_a_stated_loss_beats_size_and_hours(tmp_path: Path) -> None:
    batch = answer(tmp_path, recipe=BOX + "assume: {drying_loss: 12 %}\n")
    paste = batch["paste"]
    assert paste["finished_g"] == pytest.approx(paste["mass_g"] * (1 - BOWL_LOSS) * 0.88)
