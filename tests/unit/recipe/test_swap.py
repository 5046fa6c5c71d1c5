"""One powder for another: what is alike, what a swap makes of a blend, and what is refused."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from eggfold.reference.customary import NEVER_ALIKE
from eggfold.reference.ingredients import INGREDIENTS, find_ingredient
from eggfold.stock.swaps import COMPARED, alike
from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

RECIPE = """
name: Reed Swap
base_mix:
  name: Reed blend
  amount: 128 g
  blend: {Semolina: 40 %, Soya flour: 30 %, Maize meal: 20 %, Egg albumin: 10 %}
"""
POINTS = 5  # docs/powder.md


def powder(folder: Path, *swaps: str, recipe: str = RECIPE) -> Any:
    (folder / "mix.yaml").write_text(recipe, encoding="utf-8")
    options = [part for swap in swaps for part in ("--swap", swap)]
    outcome = run_eggfold(["powder", "mix.yaml", *options, "--format", "json"], folder)
    assert outcome.exit == 0, outcome.stderr
    return json.loads(outcome.stdout)


@given(st.sampled_from(INGREDIENTS))
def test_what_is_alike_differs_by_few_points_and_both_ways(row: Any) -> None:
    for one in alike(row.name, {}):
        for part in COMPARED:
            mine, other = (100 * getattr(p.normalised(), part) for p in (row.parts, one.parts))
            assert abs(mine - other) <= POINTS
        assert row.name in {back.name for back in alike(one.name, {})}


@pytest.mark.parametrize(
    "name", ["Egg albumin", "Dried egg white", "vital wheat gluten", "Gelatine", "Garlic powder"]
)
def test_what_binds_or_flavours_is_alike_to_nothing(name: str) -> None:
    assert not list(alike(name, {}))
    for row in INGREDIENTS:
        assert name not in {one.name for one in alike(row.name, {})}


@pytest.mark.parametrize("name", ["Pregelatinised maize", "pre-gel wheat", "Egg albumen"])
def test_own_powders_that_bind_are_known_by_their_names(name: str) -> None:
    assert NEVER_ALIKE.search(name)


def test_a_swap_keeps_the_share_and_its_place(tmp_path: Path) -> None:
    found = powder(tmp_path, "semolina=Oats")
    now, then = (
        [(i["name"], i["percent"]) for i in one["ingredients"]] for one in (found, found["swapped"])
    )
    assert then == [("Oats", 40.0), *now[1:]]
    assert found["swapped"]["swapped"] is None


def test_a_powder_that_is_there_already_gets_both_shares(tmp_path: Path) -> None:
    then = powder(tmp_path, "Semolina=cornmeal")["swapped"]["ingredients"]
    assert {i["name"]: i["percent"] for i in then}["Maize meal"] == pytest.approx(60)
    assert sum(i["percent"] for i in then) == pytest.approx(100)


def test_the_swapped_analysis_is_that_of_its_powders(tmp_path: Path) -> None:
    # USDA SR28 rows 20466 and 20038, shares of 100
    found = powder(tmp_path, "Semolina=Oats")
    semolina, oats = find_ingredient("Semolina"), find_ingredient("Oats")
    assert semolina
    assert oats
    rise = 0.4 * 100 * (oats.parts.normalised().protein - semolina.parts.normalised().protein)
    gained = found["swapped"]["analysis"]["protein"] - found["analysis"]["protein"]
    assert gained == pytest.approx(rise)


def test_the_mix_as_it_is_tells_of_the_swapped_one_which_is_less_sure(tmp_path: Path) -> None:
    found = powder(tmp_path, "Semolina=Oats")
    now, then = found["one_egg"], found["swapped"]["one_egg"]
    assert now["base_mix_g"] == pytest.approx(128)
    assert then["high_g"] / then["low_g"] > now["high_g"] / now["low_g"]
    usual = powder(tmp_path, recipe=RECIPE.replace("  amount: 128 g\n", ""))["one_egg"][
        "base_mix_g"
    ]
    assert abs(then["base_mix_g"] - 128) < abs(usual - 128)


def test_another_amount_in_the_bag_moves_the_swapped_mix_with_it(tmp_path: Path) -> None:
    grams = [
        powder(tmp_path, "Semolina=Oats", recipe=RECIPE.replace("128 g", f"{g} g"))["swapped"]
        for g in (110, 150)
    ]
    assert grams[0]["one_egg"]["base_mix_g"] < grams[1]["one_egg"]["base_mix_g"]


@pytest.mark.parametrize(
    ("swap", "told"),
    [
        ("Semolina", "write OLD=NEW"),
        ("=Oats", "write OLD=NEW"),
        ("Semolina=Ots", "did you mean Oats?"),
        ("Semolina=Xyzzy powder", "add it with its analysis to ingredients.yaml"),
        ("Fishmeal=Oats", "no 'Fishmeal' in Reed blend"),
    ],
)
def test_a_swap_that_cannot_be_is_told(tmp_path: Path, swap: str, told: str) -> None:
    (tmp_path / "mix.yaml").write_text(RECIPE, encoding="utf-8")
    outcome = run_eggfold(["powder", "mix.yaml", "--swap", swap], tmp_path)
    assert outcome.exit == 2
    assert told in outcome.stderr


def test_a_mix_without_a_blend_has_nothing_to_swap(tmp_path: Path) -> None:
    (tmp_path / "mix.yaml").write_text("name: R\nbase_mix: Reed mix\n", encoding="utf-8")
    outcome = run_eggfold(["powder", "mix.yaml", "--swap", "a=b"], tmp_path)
    assert (outcome.exit, "Reed mix has no blend" in outcome.stderr) == (2, True)


def hints(folder: Path, shelf: str) -> Any:
    (folder / "mix.yaml").write_text(RECIPE, encoding="utf-8")
    (folder / "shelf.yaml").write_text(f"items:\n{shelf}", encoding="utf-8")
    outcome = run_eggfold(["shopping", "mix.yaml", "--format", "json"], folder)
    assert outcome.exit == 0, outcome.stderr
    return json.loads(outcome.stdout)["swaps"]


def test_what_is_short_and_has_its_like_is_named(tmp_path: Path) -> None:
    # one egg takes up to 149 g of the blend: 40 % of it is more than 50 g
    shelf = "  Semolina: {left: 50 g}\n  Soya flour: {left: 1 kg}\n  Maize meal: {left: 1 kg}\n"
    (hint,) = hints(tmp_path, shelf)
    assert (hint["missing"], hint["in_hand_g"], hint["instead_in_hand"]) == ("Semolina", 50, False)
    assert hint["instead"] in {one.name for one in alike("Semolina", {})}


def test_what_is_in_hand_is_named_before_what_is_nearer(tmp_path: Path) -> None:
    shelf = "  Semolina: {left: 50 g}\n  Soya flour: {left: 1 kg}\n  Maize meal: {left: 1 kg}\n"
    farthest = [one.name for one in alike("Semolina", {}) if one.name != "Maize meal"][-1]
    (hint,) = hints(tmp_path, f"{shelf}  {farthest}: {{left: 2 kg}}\n")
    assert (hint["instead"], hint["instead_in_hand"]) == (farthest, True)


@pytest.mark.parametrize(
    "shelf",
    [
        "  Salt: {left: 50 g}\n",
        "  Reed blend: {left: 2 kg}\n  Semolina: {left: 0 g}\n",
        "  Semolina:\n  Soya flour:\n  Maize meal:\n  Egg albumin: {left: 0 g}\n",
    ],
    ids=["no powder of it", "the blend itself is there", "what is not tracked, and what binds"],
)
def test_no_hint_where_nothing_is_known_to_be_short(tmp_path: Path, shelf: str) -> None:
    assert hints(tmp_path, shelf) == []
