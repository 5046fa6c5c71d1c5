"""What finished bait takes up: weights that add up, and the lift of a pop-up by Archimedes."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

RECIPE = """
name: Reed Soaked
base_mix: {name: Reed mix, amount: 132 g}
soak:
  - {name: Malt syrup, form: liquid, density: 1.35 g/ml, soak: 40 ml per kg bait}
  - {name: Reed oil, form: oil, density: 0.92 g/ml, soak: 0.5 floz per 2 lb bait}
  - {name: Plain salt, form: powder, soak: 10 g per kg bait}
measures: us
baits:
  hookbait:
    - {kind: popup, core: 10 mm, skin: 2 mm, count: 20}
    - {kind: bottom, size: 14 mm}
  freebie: 18 mm
"""
US_FLOZ_ML, LB_KG = 29.5735295625, 0.45359237  # NIST Handbook 44, appendix C
WATER_G_ML = 0.9995005  # at 12 degC, Tanaka 2001


def answer(folder: Path, *args: str, kind: str = "batch") -> Any:
    (folder / "soaked.yaml").write_text(RECIPE, encoding="utf-8")
    outcome = run_eggfold([kind, "soaked.yaml", *args, "--format", "json"], folder)
    assert outcome.exit == 0, outcome.stderr
    return json.loads(outcome.stdout)


def test_a_soak_is_the_dose_times_the_dried_weight(tmp_path: Path) -> None:
    (batch,) = answer(tmp_path, "--eggs", "12", "--as", "freebie")["batches"]
    dried_kg = batch["paste"]["finished_g"] / 1000
    syrup, oil, salt = batch["soak"]
    oil_ml = 0.5 * US_FLOZ_ML / (2 * LB_KG) * dried_kg
    assert (syrup["ml"], syrup["g"]) == pytest.approx((40 * dried_kg, 54 * dried_kg))
    assert (oil["ml"], oil["g"]) == pytest.approx((oil_ml, 0.92 * oil_ml))
    assert (salt["ml"], salt["g"]) == (None, pytest.approx(10 * dried_kg))
    taken_g = sum(one["g"] for one in batch["soak"])
    assert batch["paste"]["soaked_g"] == pytest.approx(1000 * dried_kg + taken_g)


def test_a_pop_up_lifts_less_by_its_part_of_the_soak(tmp_path: Path) -> None:
    # Archimedes: what fills pores weighs, what swells the bait is borne by the water it moves aside
    (batch,) = answer(tmp_path, "--eggs", "12", "--as", "hookbait")["batches"]
    popup, bottom = batch["baits"]
    fresh_g = popup["boil"]["load_g"] * popup["boil"]["loads"]
    fresh_g += bottom["boil"]["load_g"] * bottom["boil"]["loads"]
    part = popup["each_g"] / fresh_g
    grams = sum(one["g"] for one in batch["soak"]) * part
    ml = sum(one["ml"] or 0 for one in batch["soak"]) * part
    assert popup["lift_soaked_low_g"] == pytest.approx(popup["lift_low_g"] - grams)
    by_swelling_g = popup["lift_high_g"] - grams + ml * WATER_G_ML
    assert popup["lift_soaked_high_g"] == pytest.approx(by_swelling_g)
    assert bottom["lift_soaked_low_g"] is None


def test_a_soak_is_bought_and_bagged(tmp_path: Path) -> None:
    size = "--eggs", "12", "--as", "freebie"
    (batch,) = answer(tmp_path, *size)["batches"]
    needs = {one["name"]: one["need"] for one in answer(tmp_path, *size, kind="shopping")["items"]}
    assert needs["Plain salt"] == pytest.approx(batch["soak"][2]["g"])
    assert needs["Malt syrup"] == pytest.approx(batch["soak"][0]["ml"])
    (label,) = answer(tmp_path, *size, kind="labels")["labels"]
    assert label["weight_g"] == pytest.approx(batch["paste"]["soaked_g"])
    assert label["soak"] == ["Malt syrup", "Reed oil", "Plain salt"]
