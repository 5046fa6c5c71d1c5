"""Several baits from one paste: what they weigh adds up, and each has its own lift and boil."""

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
baits:
  hookbait:
    - {kind: popup, core: 10 mm, skin: 2 mm, hook: 0.2 g, count: 20}
    - {kind: wafter, core: 8 mm, skin: 3 mm, share: 25 %}
    - {kind: bottom, size: 12 mm, share: 30 %}
    - {kind: bottom, size: 15 mm}
"""
BOWL_LOSS = 0.03


def ball_ml(diameter_mm: float) -> float:
    return math.pi * (diameter_mm / 10) ** 3 / 6


def paste_g(bait: dict[str, Any], density: float) -> float:
    """The paste in one bait: the ball less its core."""
    return density * (ball_ml(bait["diameter_mm"]) - ball_ml(bait["core_mm"] or 0))


def answer(folder: Path, *args: str, recipe: str = BOX) -> Any:
    (folder / "box.yaml").write_text(recipe, encoding="utf-8")
    outcome = run_eggfold(["batch", "box.yaml", "--format", "json", *args], folder)
    assert outcome.exit == 0, outcome.stderr
    return json.loads(outcome.stdout)


def test_counted_baits_come_first_and_the_rest_is_shared(tmp_path: Path) -> None:
    # mass balance: what is rolled is the paste less what stays in the bowl
    (batch,) = answer(tmp_path)["batches"]
    density = batch["paste"]["density_g_ml"]
    popup, wafter, small, large = batch["baits"]
    left = batch["paste"]["mass_g"] * (1 - BOWL_LOSS) - 20 * paste_g(popup, density)
    assert [popup["count"], popup["low"], popup["high"]] == [20, 20, 20]
    for bait, share in ((wafter, 0.25), (small, 0.30), (large, 0.45)):
        assert bait["count"] == math.floor(left * share / paste_g(bait, density) + 1e-9)
        assert bait["low"] < bait["count"] < bait["high"]


def test_each_kind_has_its_own_lift_and_weight(tmp_path: Path) -> None:
    # Archimedes, at 12 degC (0.9995005 g/ml, Tanaka 2001), cork 0.15 g/ml, a hook of steel
    (batch,) = answer(tmp_path)["batches"]
    density = batch["paste"]["density_g_ml"]
    popup, wafter, small, _ = batch["baits"]
    for bait, hook_g in ((popup, 0.2), (wafter, 0.0)):
        cork_g = 0.15 * ball_ml(bait["core_mm"])
        assert bait["each_g"] == pytest.approx(paste_g(bait, density) + cork_g)
        assert bait["diameter_mm"] == bait["core_mm"] + 2 * bait["skin_mm"]
        pushed_g = 0.9995005 * (ball_ml(bait["diameter_mm"]) + hook_g / 7.85)
        assert bait["lift_g"] == pytest.approx(pushed_g - bait["each_g"] - hook_g, abs=1e-6)
    assert small["lift_g"] is small["core_mm"] is small["skin_mm"] is None


def test_each_kind_has_its_own_boil(tmp_path: Path) -> None:
    (batch,) = answer(tmp_path)["batches"]
    popup, wafter, small, large = batch["baits"]
    # a bait on cork boils as long as a solid ball of its size: 14, 14, 12 and 15 mm
    assert popup["boil"]["seconds"] == wafter["boil"]["seconds"]
    assert small["boil"]["seconds"] < popup["boil"]["seconds"] < large["boil"]["seconds"]
    # the target is the peak: beaten whole egg sets at 73 °C (McGee); there is no custom under 16 mm
    for bait in (popup, wafter, small, large):
        assert bait["boil"]["peak_c"] == pytest.approx(73, abs=0.01)
        assert bait["boil"]["lifted_c"] < 60
        assert bait["boil"]["customary_s"] is None


def test_loads_are_evened_out(tmp_path: Path) -> None:
    # a load of the built-in pan, 5 l, is about 105 g a litre; corks weigh in the basket too
    (batch,) = answer(
        tmp_path, "--as", "freebie", "--eggs", "12", recipe=BOX.replace("hookbait:", "freebie:")
    )["batches"]
    for bait in batch["baits"]:
        boil = bait["boil"]
        assert boil["load_g"] < 530
        fewer = boil["load_g"] * boil["loads"] / max(1, boil["loads"] - 1)
        assert boil["loads"] == 1 or fewer > 515
        whole = boil["load_g"] * boil["loads"]
        assert 0 <= whole - bait["count"] * bait["each_g"] < bait["each_g"]


def test_cork_balls_are_bought_in_pieces(tmp_path: Path) -> None:
    document = answer(tmp_path)
    wafters = document["batches"][0]["baits"][1]["high"]
    bought = {item["name"]: (item["need"], item["unit"]) for item in document["shopping"]}
    assert bought["cork balls 10 mm"] == (20, "piece")
    assert bought["cork balls 8 mm"] == (wafters, "piece")


@pytest.mark.parametrize("count", [21, 200, 1000])
def test_a_size_by_count_counts_all_baits(tmp_path: Path, count: int) -> None:
    (batch,) = answer(tmp_path, "--as", "hookbait", "--count", str(count))["batches"]
    assert sum(bait["count"] for bait in batch["baits"]) >= count
    if batch["eggs"]["count"] > 1:
        eggs = str(batch["eggs"]["count"] - 1)
        (smaller,) = answer(tmp_path, "--as", "hookbait", "--eggs", eggs)["batches"]
        assert sum(bait["count"] for bait in smaller["baits"]) < count


def test_the_lake_and_the_cork_may_be_the_users(tmp_path: Path) -> None:
    assume = "assume: {cork_density: 0.24 g/ml, water_temperature: 25 degC}\n"
    (own,) = answer(tmp_path, recipe=BOX + assume)["batches"]
    (usual,) = answer(tmp_path)["batches"]
    heavier_g = (0.24 - 0.15) * ball_ml(10)
    lighter_g = (0.9995005 - 0.9970470) * (ball_ml(14) + 0.2 / 7.85)
    fell = usual["baits"][0]["lift_g"] - own["baits"][0]["lift_g"]
    assert fell == pytest.approx(heavier_g + lighter_g, abs=1e-6)


def test_one_size_asked_for_leaves_the_corks_out(tmp_path: Path) -> None:
    document = answer(tmp_path, "--diameter", "16mm")
    (bait,) = document["batches"][0]["baits"]
    assert (bait["kind"], bait["core_mm"], bait["lift_g"]) == ("bottom", None, None)
    assert not any("cork" in item["name"] for item in document["shopping"])


def test_counts_alone_cannot_make_more(tmp_path: Path) -> None:
    text = "name: T\nbase_mix: M\nbaits:\n  hookbait:\n    - {size: 14 mm, count: 9}\n"
    (tmp_path / "box.yaml").write_text(text, encoding="utf-8")
    outcome = run_eggfold(["batch", "box.yaml", "--as", "hookbait", "--count", "10"], tmp_path)
    assert outcome.exit == 3
    assert "9 baits" in outcome.stderr
