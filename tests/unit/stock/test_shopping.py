"""The shelf in the shopping list: what is in hand, which packs, and money to the last digit."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from eggfold.errors import ProblemsError
from eggfold.load.gate import read_source
from eggfold.load.shelf import open_shelf
from eggfold.load.yaml_tree import read_nodes
from eggfold.stock.holdings import NeedKey
from eggfold.stock.shopping import ShoppingItem, listed
from running import run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

RECIPE = """
name: Reed Bed
eggs: {count: 1, grade: medium, standard: eu}
base_mix: {name: Reed bed mix, amount: 118 g}
additives:
  - {name: Malt syrup, form: liquid, density: 1.35 g/ml, hookbait: 3 ml per egg, freebie: 2 ml per egg}
  - {name: Dark syrup, form: liquid, density: 1.35 g/ml, hookbait: 3 ml per egg, freebie: 1 ml per egg}
"""


def shopping_text(folder: Path, shelf: str, *args: str) -> str:
    (folder / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    (folder / "shelf.yaml").write_text(shelf, encoding="utf-8")
    command = ["shopping", "reed.yaml", "--as", "freebie", "--eggs", "60", "--format", "json"]
    outcome = run_eggfold([*command, *args], folder)
    assert outcome.exit == 0, outcome.stderr
    return outcome.stdout


def bought(folder: Path, shelf: str, *args: str) -> dict[str, Any]:
    items = json.loads(shopping_text(folder, shelf, *args))["items"]
    return {item["name"]: item for item in items}


def test_money_is_written_digit_by_digit(tmp_path: Path) -> None:
    shelf = "currency: EUR\nitems:\n  Malt syrup:\n    sold_in: [{size: 50 ml, price: 4.10}]\n"
    text = shopping_text(tmp_path, shelf)
    assert '"price": 4.1\n' in text
    assert '"cost": 12.3,' in text  # three times 4.10 in floating point is 12.299999999999999


def test_two_names_of_one_thing_are_one_need_for_the_same_eggs(tmp_path: Path) -> None:
    shelf = "items:\n  Malt syrup: {left: 90 ml, also: [dark  SYRUP]}\n"
    items = bought(tmp_path, shelf)
    syrup = items["Malt syrup"]
    assert "Dark syrup" not in items
    assert syrup["need"] == pytest.approx(180, rel=1e-12)
    assert syrup["in_hand"] == 90
    assert syrup["lacks"] == "pack"


def test_left_is_in_hand_and_bought_less_the_need(tmp_path: Path) -> None:
    shelf = "items:\n  Malt syrup: {left: 135 g, sold_in: [{size: 50 ml}], also: [Dark syrup]}\n"
    syrup = bought(tmp_path, shelf)["Malt syrup"]
    assert syrup["in_hand"] == pytest.approx(100, rel=1e-12)
    assert syrup["buy"] == [{"pack": 50, "label": "50 ml", "count": 2, "price": None}]
    assert syrup["left"] == pytest.approx(20, rel=1e-9)
    assert syrup["lasts_eggs"] == pytest.approx(200 / 3, rel=1e-9)
    assert syrup["cost"] is None


@pytest.mark.parametrize(("day", "in_hand"), [("2026-05-02", 24), ("2026-05-03", 0)])
def test_stock_counts_up_to_its_day(tmp_path: Path, day: str, in_hand: int) -> None:
    shelf = "items:\n  EU medium eggs: {left: 24, use_by: 2026-05-02, sold_in: [{size: 10}]}\n"
    eggs = bought(tmp_path, shelf, "--date", day)["EU medium eggs"]
    assert eggs["in_hand"] == in_hand
    assert eggs["past_date"] == 24 - in_hand
    assert eggs["buy"] == [{"pack": 10, "label": "10", "count": 4 if in_hand else 6, "price": None}]


def test_what_is_not_tracked_is_bought_whole_and_never_drawn(tmp_path: Path) -> None:
    shelf = "currency: EUR\nitems:\n  EU medium eggs:\n    sold_in: [{size: 30, price: 0}]\n"
    eggs = bought(tmp_path, shelf)["EU medium eggs"]
    assert eggs["in_hand"] is None
    assert eggs["lacks"] == "left"
    assert eggs["buy"] == [{"pack": 30, "label": "30", "count": 2, "price": 0}]
    assert eggs["cost"] == 0


def test_pounds_and_kilos_buy_the_same(tmp_path: Path) -> None:
    kilos = "items:\n  Reed bed mix: {left: 907.18474 g, sold_in: [{size: 453.59237 g}, {size: 2 kg}]}\n"
    pounds = "items:\n  Reed bed mix: {left: 2 lb, sold_in: [{size: 1 lb}, {size: 2000 g}]}\n"
    one = bought(tmp_path, kilos)["Reed bed mix"]
    other = bought(tmp_path, pounds)["Reed bed mix"]
    assert [line["count"] for line in one["buy"]] == [line["count"] for line in other["buy"]]
    assert one["left"] == other["left"]


def test_a_shelf_may_be_larger_than_a_recipe(tmp_path: Path) -> None:
    many = "".join(
        f"  Thing {i}: {{left: {i} g, sold_in: [{{size: 1 kg}}]}}\n" for i in range(2500)
    )
    path = tmp_path / "shelf.yaml"
    path.write_text(f"items:\n{many}", encoding="utf-8")
    with pytest.raises(ProblemsError):
        read_nodes(read_source(str(path)))
    opened, problems = open_shelf(str(path))
    assert opened is not None
    assert not problems
    assert len(opened.shelf.items) == 2500


def test_a_named_shelf_stands_for_the_one_beside(tmp_path: Path) -> None:
    (tmp_path / "other.yaml").write_text("items:\n  EU medium eggs: {left: 60}\n", encoding="utf-8")
    beside = "items:\n  EU medium eggs: {left: 1}\n"
    assert bought(tmp_path, beside, "--shelf", "other.yaml")["EU medium eggs"]["in_hand"] == 60


@pytest.mark.parametrize(
    ("args", "exit_code"),
    [(["--shelf", "none.yaml"], 4), (["--date", "2.5.2026"], 2), (["--date", "2026-02-30"], 2)],
)
def test_wrong_options_end_with_their_code(tmp_path: Path, args: list[str], exit_code: int) -> None:
    (tmp_path / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    outcome = run_eggfold(["shopping", "reed.yaml", *args], tmp_path)
    assert outcome.exit == exit_code
    assert not outcome.stdout
    assert "Traceback" not in outcome.stderr


def test_needs_of_one_name_and_amount_stay_two_rows() -> None:
    mix, additive = (ShoppingItem("Reed meal", 5.0, "g", 1.0) for _ in range(2))
    keys: list[NeedKey] = [("mix", "reed meal"), ("additive", "reed meal"), ("additive", "meal")]
    assert listed(dict(zip(keys, (mix, additive, additive), strict=True))) == (mix, additive)


def test_cost_is_of_the_material_used_at_the_price_of_the_purchase(tmp_path: Path) -> None:
    shelf = "currency: EUR\nitems:\n  EU medium eggs: {sold_in: [{size: 30, price: 6.60}]}\n"
    (tmp_path / "shelf.yaml").write_text(shelf, encoding="utf-8")
    (tmp_path / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    command = ["batch", "reed.yaml", "--as", "freebie", "--eggs", "40", "--format", "json"]
    batch = json.loads(run_eggfold(command, tmp_path).stdout)["batches"][0]
    cost, bait = batch["cost"], batch["baits"][0]
    assert cost["material"] == pytest.approx(40 * 0.22, rel=1e-12)
    assert cost["per_kg"] == pytest.approx(8.8 / batch["paste"]["finished_g"] * 1000, rel=1e-9)
    # whole baits leave less than one bait of paste over
    assert cost["per_bait"][0] * bait["count"] == pytest.approx(8.8, rel=2 / bait["count"])
    assert cost["unpriced"] == ["Reed bed mix", "Malt syrup", "Dark syrup"]


def test_a_shelf_by_another_name_is_not_read_as_a_recipe(tmp_path: Path) -> None:
    (tmp_path / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    (tmp_path / "cellar.yaml").write_text("items: {EU medium eggs: {left: 9}}\n", encoding="utf-8")
    outcome = run_eggfold(["shelf", "--shelf", "cellar.yaml", "--format", "json"], tmp_path)
    state = json.loads(outcome.stdout)
    assert outcome.exit == 0, outcome.stderr
    assert state["first_out"] == {"name": "EU medium eggs", "lasts_eggs": 9}
    assert state["missing"] == ["Reed bed mix", "Malt syrup", "Dark syrup"]
    assert state["unused"] == []


@pytest.mark.parametrize(
    ("price", "currency"),
    [("3.20 €", "€"), ("€3.20", "€"), ("3.20 EUR", "EUR"), ("EUR 3.20", "EUR")],
)
def test_a_price_with_its_currency_is_told_where_that_stands(
    price: str, currency: str, tmp_path: Path
) -> None:
    pack = f"items:\n  Salt:\n    sold_in: [{{size: 1 kg, price: {price}}}]\n"
    (tmp_path / "shelf.yaml").write_text(pack, encoding="utf-8")
    found = run_eggfold(["check", "shelf.yaml"], tmp_path).stdout
    assert f"try: currency: {currency} at the top" in found


def test_a_bought_price_may_have_its_currency_before_it(tmp_path: Path) -> None:
    (tmp_path / "shelf.yaml").write_text("currency: EUR\nitems: {}\n", encoding="utf-8")
    outcome = run_eggfold(["note", "bought", "Salt", "1 kg", "--price", "€3.20"], tmp_path)
    assert outcome.exit == 0
    assert "{size: 1 kg, price: 3.20}" in (tmp_path / "shelf.yaml").read_text("utf-8")


@pytest.mark.parametrize(
    ("shelf", "heading"),
    [
        (
            "{EU medium eggs: {left: 90}, Malt syrup: {left: 1 l, sold_in: [{size: 50 ml, price: 4}]}}",
            "BUY",
        ),
        (
            "{Malt syrup: {left: 0 l, sold_in: [{size: 500 ml, price: 4.10}]}}",
            "BUY  whole packs for at least 4.10 EUR",
        ),
    ],
)
def test_a_sum_of_nothing_is_no_least_cost(tmp_path: Path, shelf: str, heading: str) -> None:
    text = shopping_text(tmp_path, f"currency: EUR\nitems: {shelf}\n", "--format", "text")
    assert heading in text.splitlines()
    assert "at least 0.00" not in text


def test_what_is_left_has_no_more_digits_than_what_was_there(tmp_path: Path) -> None:
    shelf = "items:\n  Malt syrup: {left: 120.2 ml, sold_in: [{size: 50 ml}]}\n"
    syrup = bought(tmp_path, shelf)["Malt syrup"]
    assert syrup["left"] == 0.2


def test_what_lasts_for_three_eggs_is_not_shown_as_two(tmp_path: Path) -> None:
    (tmp_path / "dyed.yaml").write_text(
        "name: Dyed\neggs: {count: 1, grade: medium, standard: eu}\n"
        "base_mix: {name: Reed bed mix, amount: 118 g}\n"
        "additives: [{name: Dye, form: powder, hookbait: 0.1 g per egg, freebie: 0.1 g per egg}]\n",
        encoding="utf-8",
    )
    (tmp_path / "shelf.yaml").write_text("items: {Dye: {left: 0.3 g}}\n", encoding="utf-8")
    outcome = run_eggfold(["shelf", "dyed.yaml"], tmp_path)
    assert "Runs out first: Dye, after 3 eggs of Dyed" in outcome.stdout


def test_what_was_free_has_a_cost_of_nothing(tmp_path: Path) -> None:
    shelf = "currency: EUR\nitems:\n  Malt syrup: {sold_in: [{size: 50 ml, price: 0}]}\n"
    (tmp_path / "shelf.yaml").write_text(shelf, encoding="utf-8")
    (tmp_path / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    command = ["batch", "reed.yaml", "--as", "freebie", "--eggs", "40", "--format", "json"]
    cost = json.loads(run_eggfold(command, tmp_path).stdout)["batches"][0]["cost"]
    assert cost["material"] == 0
    bought = ["note", "bought", "Malt syrup", "50 ml", "--price", "2.00", "--dry-run"]
    assert "That pack cost 0 EUR before." in run_eggfold(bought, tmp_path).stderr


MIXED_PRICES = """\
currency: EUR
items:
  EU medium eggs: {sold_in: [{size: 10, price: 3.00}]}
  Reed bed mix: {sold_in: [{size: 1 kg}, {size: 5 kg}]}
"""


def test_packs_without_a_price_are_bought_at_no_cost_that_is_known(tmp_path: Path) -> None:
    answer = json.loads(shopping_text(tmp_path, MIXED_PRICES))
    items = {item["name"]: item for item in answer["items"]}
    mix = items["Reed bed mix"]
    assert [line["price"] for line in mix["buy"]] == [None] * len(mix["buy"]) != []
    assert mix["cost"] is None
    assert items["EU medium eggs"]["cost"] == 18
    assert answer["cost"] == 18
    assert answer["unpriced"] == ["Reed bed mix", "Malt syrup", "Dark syrup"]


def test_a_pack_without_a_price_costs_a_season_nothing_that_is_known(tmp_path: Path) -> None:
    (tmp_path / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    for priced, cost in (("", None), (", price: 9.00", 9.0)):
        shelf = MIXED_PRICES.replace(", price: 3.00", "").replace("5 kg", f"5 kg{priced}")
        (tmp_path / "shelf.yaml").write_text(shelf, encoding="utf-8")
        (tmp_path / "season.yaml").write_text(
            "hours: 6 h\ntrips: [{leave: 2027-03-12, freebies: {recipe: reed, bait: 3 kg}}]\n",
            "utf-8",
        )
        command = ["campaign", "season.yaml", "--date", "2027-03-01", "--format", "json"]
        season = json.loads(run_eggfold(command, tmp_path).stdout)
        [mix] = [i for i in season["purchases"][0]["items"] if i["name"] == "Reed bed mix"]
        assert mix["cost"] == cost
        used = season["trips"][0]["brings"][0]["cost"]
        assert used is None if cost is None else 0 < used < cost
