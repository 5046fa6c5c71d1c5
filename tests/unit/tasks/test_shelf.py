"""The shelf is shown whatever stands beside it, and what cannot be told of a recipe is said."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

SHELF = """\
items:
  EU large eggs: {left: 12}
  Reed mix: {left: 2600 g}
  Salt: {left: 1 kg}
baits: [{recipe: Reed Bed, strength: freebie, left: 3 kg, made: 2027-03-20, state: drying}]
"""
WHOLE = "name: Reed Bed\nbase_mix: {name: Reed mix, amount: 130 g}\n"
HALF = f"{WHOLE}additives: [{{name: Salt, form: powder, hookbait: 5 g per egg}}]\n"


def shown(folder: Path, *args: str, exit_code: int = 0) -> tuple[str, str]:
    (folder / "shelf.yaml").write_text(SHELF, "utf-8")
    outcome = run_eggfold(["shelf", "--date", "2027-03-23", *args], folder)
    assert outcome.exit == exit_code, outcome.stderr
    return outcome.stdout, outcome.stderr


def test_a_shelf_stands_alone(tmp_path: Path) -> None:
    page, notes = shown(tmp_path)
    assert "Reed mix" in page
    assert notes == ""


def test_eggs_are_counted_that_the_shelf_lasts(tmp_path: Path) -> None:
    """12 eggs are fewer than 2600 g of mix last."""
    (tmp_path / "reed.yaml").write_text(WHOLE, "utf-8")
    page, notes = shown(tmp_path, "--format", "json")
    rows = {row["name"]: row["lasts_eggs"] for row in json.loads(page)["items"]}
    assert rows["EU large eggs"] == 12
    assert 12 < rows["Reed mix"] <= 2600 / 130
    assert rows["Salt"] is None
    assert notes == ""


def test_a_recipe_without_a_freebie_dose_is_told_and_passed_over(tmp_path: Path) -> None:
    (tmp_path / "reed.yaml").write_text(HALF, "utf-8")
    page, notes = shown(tmp_path)
    assert "no whole freebie dose, so no eggs counted" in notes
    assert "reed.yaml" in notes
    assert "Runs out first" not in page


def test_a_broken_recipe_is_told_below_the_shelf(tmp_path: Path) -> None:
    (tmp_path / "reed.yaml").write_text(f"{WHOLE}eggs: {{coutn: 2}}\n", "utf-8")
    page, notes = shown(tmp_path, exit_code=1)
    assert "reed.yaml:3:" in page + notes
    assert "[unknown-key]" in page + notes


@pytest.mark.parametrize(("drying", "state"), [("48 h", "dry, not bagged"), ("96 h", "drying")])
def test_bait_is_dry_after_the_time_of_the_bench(tmp_path: Path, drying: str, state: str) -> None:
    """Rolled three days ago."""
    (tmp_path / "bench.yaml").write_text(f"drying: {drying}\n", "utf-8")
    page, _ = shown(tmp_path)
    [line] = [line for line in page.splitlines() if line.startswith("Reed Bed freebie")]
    assert " ".join(line.split()) == f"Reed Bed freebie 3.00 kg 3 d {state}"


def test_a_folder_without_a_shelf_has_none_to_show(tmp_path: Path) -> None:
    (tmp_path / "reed.yaml").write_text(WHOLE, "utf-8")
    outcome = run_eggfold(["shelf"], tmp_path)
    assert outcome.exit == 2
    assert "there is no shelf.yaml here; name one with --shelf" in outcome.stderr
