"""Paste that is neither rolled nor boiled nor dried: its share, its weight, its bag."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

RECIPE = """
name: Reed Paste
base_mix: {name: Reed mix, amount: 132 g}
baits:
  freebie:
    - {kind: paste, share: 20 %}
    - {kind: popup, core: 10 mm, skin: 2 mm, count: 20}
    - {size: 18 mm, share: 30 %, boil: none}
    - {size: 20 mm}
"""
SHELF = """
currency: EUR
items:
  EU large eggs: {left: 0, sold_in: [{size: 10, price: 3.00}]}
  Reed mix: {left: 0 g, sold_in: [{size: 1 kg, price: 7.00}]}
  cork balls 10 mm: {left: 0, sold_in: [{size: 50, price: 5.00}]}
"""
BOWL_LOSS = 0.03


def answer(folder: Path, *args: str, kind: str = "batch") -> Any:
    (folder / "paste.yaml").write_text(RECIPE, encoding="utf-8")
    size = ["--as", "freebie", "--eggs", "12", "--format", "json"]
    outcome = run_eggfold([kind, "paste.yaml", *size, *args], folder)
    assert outcome.exit == 0, outcome.stderr
    return json.loads(outcome.stdout)


def test_paste_takes_its_share_of_what_is_left_to_roll(tmp_path: Path) -> None:
    (batch,) = answer(tmp_path)["batches"]
    popup, small, large, paste = batch["baits"]
    corks_g = 0.15 * 3.141592653589793 / 6  # a 10 mm ball of 0.15 g/ml
    left_g = batch["paste"]["mass_g"] * (1 - BOWL_LOSS) - popup["mass_g"] + 20 * corks_g
    shares = [paste["mass_g"], small["mass_g"], large["mass_g"]]
    assert shares == pytest.approx([0.2 * left_g, 0.3 * left_g, 0.5 * left_g])
    for key in ("diameter_mm", "count", "low", "high", "each_g", "boil"):
        assert paste[key] is None
    assert {c["code"] for c in batch["cautions"]} >= {"raw-paste", "raw-bait"}


def test_paste_is_no_part_of_the_finished_weight(tmp_path: Path) -> None:
    (batch,) = answer(tmp_path)["batches"]
    rolled_g = sum(bait["mass_g"] for bait in batch["baits"][:-1])
    assert 0.85 * rolled_g < batch["paste"]["finished_g"] < rolled_g


def test_a_kilo_dried_costs_nothing_for_the_paste(tmp_path: Path) -> None:
    # what a gram of the paste costs is the same wherever it goes
    (tmp_path / "shelf.yaml").write_text(SHELF, encoding="utf-8")
    (batch,) = answer(tmp_path)["batches"]
    cost, paste_g = batch["cost"], batch["baits"][-1]["mass_g"]
    rolled_g = sum(bait["count"] * bait["each_g"] for bait in batch["baits"][:-1]) + paste_g
    of_bait = cost["material"] * (1 - paste_g / rolled_g)
    assert cost["per_kg"] == pytest.approx(1000 * of_bait / batch["paste"]["finished_g"])
    assert len(cost["per_bait"]) == 3


@pytest.mark.parametrize(
    ("args", "use_by"),
    [
        ((), "2026-03-05"),
        (("--days", "1"), "2026-03-04"),
        (("--frozen", "2026-03-03"), "2026-06-03"),
        (("--frozen", "2026-03-03", "--months", "2"), "2026-05-03"),
    ],
)
def test_paste_has_bags_of_its_own_and_a_shorter_life(
    tmp_path: Path, args: tuple[str, ...], use_by: str
) -> None:
    labels = answer(tmp_path, "--bag", "300g", "--date", "2026-03-03", *args, kind="labels")
    bags = [label for label in labels["labels"] if label["unboiled"]]
    (batch,) = answer(tmp_path)["batches"]
    assert sum(bag["weight_g"] for bag in bags) == pytest.approx(batch["baits"][-1]["mass_g"])
    assert [bag["bag"] for bag in bags] == list(range(1, len(bags) + 1))
    assert {bag["use_by"] for bag in bags} == {use_by}
    assert {tuple(bag["sizes_mm"]) for bag in bags} == {()}


@pytest.mark.parametrize(
    ("baits", "code"),
    [
        ("[{kind: paste, share: 100 %}]", "shares"),
        ("[{kind: paste}, {size: 16 mm}]", "missing-key"),
        ("[{kind: paste, share: 20 %, size: 16 mm}, {size: 16 mm}]", "bait-kind"),
        ("[{kind: paste, share: 20 %, boil: 90 s}, {size: 16 mm}]", "bait-kind"),
        ("[{kind: paste, share: 20 %, count: 3}, {size: 16 mm}]", "bait-kind"),
    ],
)
def test_what_paste_does_not_have_is_a_problem(tmp_path: Path, baits: str, code: str) -> None:
    recipe = f"name: R\nbase_mix: M\nbaits:\n  freebie: {baits}\n"
    (tmp_path / "r.yaml").write_text(recipe, encoding="utf-8")
    found = json.loads(run_eggfold(["check", "r.yaml", "--format", "json"], tmp_path).stdout)
    assert [problem["code"] for problem in found["problems"]] == [code]
