"""What the commands of note write, draw, refuse and take back."""

from __future__ import annotations

import difflib
import json
import re
from typing import TYPE_CHECKING

import pytest

from eggfold.__main__ import run
from eggfold.load.notebook import open_notebook
from eggfold.load.shelf import open_shelf

if TYPE_CHECKING:
    from pathlib import Path

RECIPE = """\
name: Reed bed
base_mix: {name: Reed mix, amount: 130 g}
additives:
  - {name: Malt syrup, form: liquid, density: 1.25 g/ml, hookbait: 4 ml per egg, freebie: none}
  - {name: Salt, form: powder, hookbait: 5 g per egg, freebie: none}
baits: {hookbait: 16 mm, freebie: [{size: 16 mm, share: 50 %}, {size: 20 mm}]}
eggs: {liquid: 60 g}
"""
SHELF = """\
# counted at new year
currency: EUR
items:
  eggs of 60.0 g shelled: {left: 30}
  Bulk sack:                 # the blue one
    left: 2 kg
    also: [reed mix]
  Malt syrup:
    left: 500 g
    density: 1.25 g/ml
  Salt:
"""
ROLL = ["rolled", "reed.yaml", "--as", "hookbait", "--eggs"]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "reed.yaml").write_text(RECIPE, encoding="utf-8")
    (tmp_path / "shelf.yaml").write_text(SHELF, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def note(*args: str, code: int = 0) -> None:
    assert run(["note", *args]) == code


def left(folder: Path) -> dict[str, str]:
    shelf, problems = open_shelf(str(folder / "shelf.yaml"))
    assert shelf
    assert not problems
    return {name: str(item.left) for name, item in shelf.shelf.items.items() if item.left}


def test_a_weighing_keeps_what_went_in_and_draws_nothing(folder: Path) -> None:
    note("weighed", "reed.yaml", "--eggs", "2", "--before", "1kg", "--after", "730 g")
    notebook, problems = open_notebook(str(folder / "notebook.yaml"))
    (entry,) = notebook.weighed
    assert not problems
    assert (entry.base_mix, entry.strength, entry.eggs) == ("Reed mix", "hookbait", 2)
    assert str(entry.wet) == "130 g"  # two eggs of 60 g and twice 4 ml of 1.25 g/ml
    assert str(entry.dry) == "280 g"  # 270 g from the bag and twice 5 g of salt
    assert entry.taken_g == 270
    assert entry.taken_g is not None
    assert (folder / "shelf.yaml").read_text("utf-8") == SHELF


def test_a_bowl_draws_in_the_units_of_the_shelf(folder: Path) -> None:
    note(*ROLL, "2")
    assert left(folder) == {
        "eggs of 60.0 g shelled": "28",
        "Bulk sack": "1.74 kg",
        "Malt syrup": "490 g",  # 8 ml of 1.25 g/ml
    }
    (entry,) = open_notebook(str(folder / "notebook.yaml"))[0].rolled
    assert entry.drew["Bulk sack"] == "260 g"
    assert entry.taken_g is None


def test_the_bag_beats_what_was_expected(folder: Path) -> None:
    note(*ROLL, "2", "--before", "2kg", "--after", "1725g")
    assert left(folder)["Bulk sack"] == "1.725 kg"


def test_a_bowl_draws_the_cork_balls_that_were_expected_not_the_most(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    size = "baits: {hookbait: [{kind: popup, core: 8 mm, skin: 2 mm}]}\n"
    (folder / "reed.yaml").write_text(re.sub("baits: .*\n", size, RECIPE), encoding="utf-8")
    (folder / "shelf.yaml").write_text("items: {cork balls 8 mm: {left: 2000}}\n", encoding="utf-8")
    assert run(["batch", "reed.yaml", "--as", "hookbait", "--eggs", "2", "--format", "json"]) == 0
    [bait] = json.loads(capsys.readouterr().out)["batches"][0]["baits"]
    assert bait["high"] > bait["count"] + 50
    note(*ROLL, "2")
    assert left(folder) == {"cork balls 8 mm": f"{2000 - bait['count']}"}


def test_more_than_is_left_is_refused_with_what_is_missing(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    note(*ROLL, "20", code=3)
    assert "Bulk sack: 2000 g left, 2600 g needed)" in capsys.readouterr().err
    assert (folder / "shelf.yaml").read_text("utf-8") == SHELF
    assert not (folder / "notebook.yaml").exists()


@pytest.mark.parametrize("start", ["", "fished: []\nweighed: # none yet\n", "fished:\n"])
@pytest.mark.parametrize(
    "args",
    [
        ["weighed", "reed.yaml", "--eggs", "1", "--before", "700g", "--after", "560g"],
        ["fished", "reed.yaml", "--rods", "2", "--hours", "5", "--takes", "1"],
    ],
    ids=["weighed", "fished"],
)
def test_undo_takes_back_the_last_of_its_kind_to_the_byte(
    folder: Path, capsys: pytest.CaptureFixture[str], args: list[str], start: str
) -> None:
    notebook = folder / "notebook.yaml"
    if start:
        notebook.write_text(start, encoding="utf-8")
    note(*args)
    once = notebook.read_bytes()
    note(*args)
    note(args[0], "--undo")
    assert notebook.read_bytes() == once
    note(args[0], "--undo")
    assert (notebook.read_text("utf-8") if notebook.exists() else "") == start
    assert capsys.readouterr().out.count("\nTAKEN BACK\n") == 2
    if start:
        note(args[0], "--undo", code=3)
    assert (folder / "shelf.yaml").read_text("utf-8") == SHELF


@pytest.mark.usefixtures("folder")
def test_undo_says_what_was_bought(capsys: pytest.CaptureFixture[str]) -> None:
    note("bought", "Malt syrup", "450g")
    note("bought", "--undo")
    assert "Was noted  450 g\n" in capsys.readouterr().out


def test_force_records_a_correction_that_undo_takes_back(folder: Path) -> None:
    note(*ROLL, "20", "--force")
    assert left(folder)["Bulk sack"] == "0 kg"
    (entry,) = open_notebook(str(folder / "notebook.yaml"))[0].rolled
    assert entry.corrected == {"Bulk sack": "600 g"}
    note("rolled", "--undo")
    assert (folder / "shelf.yaml").read_text("utf-8") == SHELF
    assert not (folder / "notebook.yaml").exists()


def test_undo_adds_back_where_something_was_bought_since(folder: Path) -> None:
    note(*ROLL, "2")
    note("bought", "Bulk sack", "5kg")
    note("rolled", "--undo")
    assert left(folder) == {
        "eggs of 60.0 g shelled": "30",
        "Bulk sack": "7 kg",
        "Malt syrup": "500 g",
    }


def test_undo_of_a_forced_bowl_adds_back_only_what_was_there(folder: Path) -> None:
    note(*ROLL, "20", "--force")
    note("bought", "Bulk sack", "1kg")
    note("rolled", "--undo")
    assert left(folder)["Bulk sack"] == "3 kg"


def test_undo_names_what_it_cannot_put_back(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    note(*ROLL, "2")
    shelf = (folder / "shelf.yaml").read_text("utf-8")
    (folder / "shelf.yaml").write_text(shelf.replace("Malt syrup", "Malt"), encoding="utf-8")
    note("rolled", "--undo")
    assert "Malt syrup: no longer on the shelf" in capsys.readouterr().out
    assert left(folder)["Malt"] == "490 g"


def test_a_bowl_without_a_shelf_is_noted(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "shelf.yaml").unlink()
    note(*ROLL, "2", "--finished", "330g", "--hundred", "250g")
    (entry,) = open_notebook(str(folder / "notebook.yaml"))[0].rolled
    assert entry.drew == {}
    assert str(entry.diameter) == "16 mm"
    assert "nothing was taken off it" in capsys.readouterr().out


COMMENTED = """\
# A notebook that somebody keeps.   Every space   counts.

fished:                # sessions
# first the cold ones
  - {date: 2025-03-01, recipe: Reed bed, rods: 2, hours: 6,   takes: 0}   # ice at the margin
  -   date: '2025-04-01'
      recipe: "Reed bed"    # quoted for no reason
      rods:   3
      hours: 7.50
      takes: 1
      # the take came late

# and what the scale said
weighed:
- date: 2025-04-01
  recipe: Reed bed
  strength: hookbait
  eggs: 1
  before: 1 kg
  after: 868 g
# the end, without a line break"""


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_only_the_added_lines_differ(folder: Path, newline: str) -> None:
    file = folder / "notebook.yaml"
    file.write_text(COMMENTED, encoding="utf-8", newline=newline)
    before = file.read_bytes()
    note("fished", "reed.yaml", "--rods", "2", "--hours", "5", "--takes", "0")
    note("weighed", "reed.yaml", "--eggs", "1", "--before", "868g", "--after", "740g")
    note(*ROLL, "1")
    old, new = (text.decode().split(newline) for text in (before, file.read_bytes()))
    changes = [line for line in difflib.ndiff(old, new) if line[0] != " "]
    assert {line[0] for line in changes} == {"+"}
    assert (b"\r\n" in file.read_bytes()) == (newline == "\r\n")
    assert b"\n" not in file.read_bytes().replace(newline.encode(), b"")
    notebook, problems = open_notebook(str(file))
    assert not problems
    assert [len(notebook.fished), len(notebook.weighed), len(notebook.rolled)] == [3, 2, 1]


def test_a_list_begun_empty_leaves_no_space_behind_its_key(folder: Path) -> None:
    notebook = folder / "notebook.yaml"
    begun = b"rolled:  [] # none yet\nfished: []\n"
    notebook.write_bytes(begun)
    note(*ROLL, "1")
    note("fished", "reed.yaml", "--rods", "1", "--hours", "2", "--takes", "0")
    lines = notebook.read_text("utf-8").splitlines()
    assert [line for line in lines if line[0] != " "] == ["rolled: # none yet", "fished:"]
    note("rolled", "--undo")
    assert notebook.read_bytes().startswith(begun[: begun.index(b"fished")])


def test_a_byte_order_mark_stays(folder: Path) -> None:
    (folder / "notebook.yaml").write_bytes(b"\xef\xbb\xbffished:\r\n")
    note("fished", "reed.yaml", "--rods", "2", "--hours", "5", "--takes", "0")
    assert (folder / "notebook.yaml").read_bytes().startswith(b"\xef\xbb\xbffished:\r\n  - {date")


def test_a_broken_notebook_is_refused_and_left_alone(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = "fished:\n  - {date: 2025-03-01, recipe: [}\n"
    (folder / "notebook.yaml").write_text(broken, encoding="utf-8")
    note("fished", "reed.yaml", "--rods", "2", "--hours", "5", "--takes", "0", code=1)
    assert "[not-yaml]" in capsys.readouterr().err
    assert (folder / "notebook.yaml").read_text("utf-8") == broken


def test_a_section_in_brackets_is_refused_with_what_to_do(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "fished: [{date: 2025-03-01, recipe: Reed bed, rods: 1, hours: 1, takes: 0}]\n"
    (folder / "notebook.yaml").write_text(text, encoding="utf-8")
    note("fished", "reed.yaml", "--rods", "2", "--hours", "5", "--takes", "0", code=4)
    assert "lines that begin with '- '" in capsys.readouterr().err
    assert (folder / "notebook.yaml").read_text("utf-8") == text


@pytest.mark.parametrize(
    "args",
    [
        ["fished", "reed.yaml", "--rods", "2", "--hours", "0", "--takes", "0"],
        ["fished", "reed.yaml", "--rods", "2", "--hours", "5", "--takes", "1.5"],
        ["fished", "reed.yaml", "--rods", "0", "--hours", "5", "--takes", "1"],
        ["fished", "reed.yaml", "--rods", "2", "--hours", "5", "--takes", "-1"],
        ["fished", "reed.yaml", "--rods", "2", "--hours", "nan", "--takes", "1"],
        [
            "fished",
            "reed.yaml",
            "--rods",
            "2",
            "--hours",
            "5",
            "--takes",
            "1",
            "--date",
            "2999-01-01",
        ],
        ["fished", "reed.yaml", "--rods", "2", "--hours", "5", "--takes", "1", "--water", "80degC"],
        ["weighed", "reed.yaml", "--eggs", "1", "--before", "700g", "--after", "800g"],
        ["weighed", "reed.yaml", "--eggs", "1", "--before", "700g", "--after", "700g"],
        ["weighed", "reed.yaml", "--eggs", "1", "--before", "700g"],
        ["weighed", "reed.yaml", "--eggs", "0", "--before", "700g", "--after", "600g"],
        [*ROLL, "1", "--after", "700g"],
        [*ROLL, "1", "--diameter", "16mm"],
        ["rolled", "reed.yaml", "--eggs", "2"],
        ["rolled", "reed.yaml", "--as", "freebie", "--eggs", "2", "--hundred", "250g"],
        ["rolled", "reed.yaml", "--undo"],
        ["rolled", "--undo", "--force"],
        ["fished", "--undo", "--takes", "1"],
        ["weighed", "reed.yaml", "--undo"],
        ["weighed"],
        ["fished", "reed.yaml", "--rods", "2", "--hours", "5"],
        ["rolled"],
        ["bought", "Salt", "0 g"],
        ["bought", "Salt", "-3 g"],
        ["bought", "Salt", "1.5"],
        ["bought", " ", "1 kg"],
        ["bought", "Salt", "1 kg", "--price", "cheap"],
        ["bought", "Salt", "1 kg", "--price", "2.999"],
        ["bought", "Salt", "1 kg", "--price", "2.99 GBP"],
        ["bought", "Salt", "2 cup"],
        ["bought", "Malt syrup", "12"],
    ],
    ids=" ".join,
)
def test_nonsense_is_wrong_usage_and_changes_nothing(folder: Path, args: list[str]) -> None:
    note(*args, code=2)
    assert sorted(path.name for path in folder.iterdir()) == ["reed.yaml", "shelf.yaml"]
    assert (folder / "shelf.yaml").read_text("utf-8") == SHELF


def test_a_recipe_that_is_not_there_cannot_be_noted(folder: Path) -> None:
    note("fished", "weed.yaml", "--rods", "2", "--hours", "5", "--takes", "0", code=4)
    assert not (folder / "notebook.yaml").exists()


def test_a_dry_run_shows_and_writes_nothing(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    note(*ROLL, "2", "--dry-run")
    shown = capsys.readouterr().out
    assert "-    left: 2 kg\n+    left: 1.74 kg\n" in shown
    assert "--- /dev/null\n+++ notebook.yaml\n" in shown
    assert sorted(path.name for path in folder.iterdir()) == ["reed.yaml", "shelf.yaml"]


def test_a_purchase_is_added_in_the_unit_of_the_shelf(folder: Path) -> None:
    note("bought", "eggs of 60.0 g shelled", "12")
    note("bought", "Malt syrup", "100 ml")
    assert left(folder)["eggs of 60.0 g shelled"] == "42"
    assert left(folder)["Malt syrup"] == "625 g"  # 100 ml of 1.25 g/ml


def test_a_purchase_remembers_its_price_once(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    note("bought", "Salt", "500 g", "--price", "1.20")
    note("bought", "salt", "500 g", "--price", "1.20")
    note("bought", "Salt", "1 kg", "--price", "2.00")
    note("bought", "Salt", "0.5 kg", "--price", "1.35")
    assert "- That pack cost 1.20 EUR before." in capsys.readouterr().out
    shelf = (folder / "shelf.yaml").read_text("utf-8")
    packs = "{size: 500 g, price: 1.35}, {size: 1 kg, price: 2.00}"
    assert f"  Salt: {{left: 2500 g, sold_in: [{packs}]}}\n" in shelf


def test_a_first_purchase_begins_a_shelf(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "shelf.yaml").unlink()
    note("bought", "Bulk: blue", "5 kg", "--price", "12 EUR", "--format", "json")
    shown = json.loads(capsys.readouterr().out)
    assert (shown["kind"], shown["item"], shown["left"]) == ("note", "Bulk: blue", 5000)
    assert left(folder) == {"Bulk: blue": "5 kg"}


def test_an_unknown_thing_is_new_and_the_nearest_is_named(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    note("bought", "Malt sirup", "1 kg", "--dry-run")
    assert "near it stands Malt syrup" in capsys.readouterr().err
    note("bought", "Malt sirup", "1 kg")
    assert "near it stands Malt syrup" in capsys.readouterr().out
    assert left(folder)["Malt sirup"] == "1 kg"
    assert (folder / "shelf.yaml").read_text("utf-8").startswith(SHELF)


def test_a_shortage_is_told_in_one_unit_and_rounding(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shelf = folder / "shelf.yaml"
    shelf.write_text(SHELF.replace("left: 2 kg", "left: 0.1974636 kg"), encoding="utf-8")
    note(*ROLL, "3", "--before", "1kg", "--after", "474.6g", code=3)
    told = capsys.readouterr().err
    assert "Bulk sack: 197 g left, 525 g needed" in told


@pytest.mark.parametrize(("day", "told"), [("2026-05-31", False), ("2026-06-01", True)])
def test_a_purchase_that_counts_as_past_its_date_is_remarked(
    folder: Path, capsys: pytest.CaptureFixture[str], day: str, *, told: bool
) -> None:
    shelf = folder / "shelf.yaml"
    shelf.write_text(SHELF.replace("  Salt:", "    use_by: 2026-05-31\n  Salt:"), encoding="utf-8")
    note("bought", "Malt syrup", "450g", "--date", day)
    assert ("so this purchase counts as past" in capsys.readouterr().out) is told


@pytest.mark.parametrize(
    ("measured", "said"),
    [
        (["--finished", "9kg"], "--finished: 9 kg of dried baits is more than the paste they came"),
        (["--finished", "40g"], "--finished: 40 g of dried baits is too little for the paste they"),
        (["--hundred", "36g", "--diameter", "18mm"], "paste of 0.12 g/ml; fresh paste has 0.9 to"),
    ],
)
def test_what_no_scale_can_have_shown_is_refused(
    folder: Path, capsys: pytest.CaptureFixture[str], measured: list[str], said: str
) -> None:
    note(*ROLL, "1", *measured, code=2)
    assert said in " ".join(capsys.readouterr().err.split())
    assert not (folder / "notebook.yaml").exists()


def test_a_bag_without_a_unit_is_asked_for_the_unit_of_the_other(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bag = ["--before", "1kg", "--after", "0.86"]
    note("weighed", str(folder / "reed.yaml"), "--eggs", "1", *bag, code=2)
    assert "try: 0.86 kg or 0.86 g" in capsys.readouterr().err


@pytest.mark.usefixtures("folder")
def test_the_finished_weight_is_expected_of_what_was_weighed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    def expected_g(*bag: str) -> float:
        capsys.readouterr()
        note(*ROLL, "2", *bag, "--finished", "360g", "--dry-run", "--format", "json")
        return float(json.loads(capsys.readouterr().out)["expected_finished_g"])

    as_expected_g = expected_g()
    more = expected_g("--before", "1kg", "--after", "700g") - as_expected_g
    assert run(["batch", "reed.yaml", "--eggs", "2", "--as", "hookbait", "--format", "json"]) == 0
    (batch,) = json.loads(capsys.readouterr().out)["batches"]
    share = as_expected_g / batch["paste"]["mass_g"]
    assert more == pytest.approx((300 - 260) * share)  # the bag was to lose 260 g


def test_an_old_bowl_that_cannot_be_is_left_out_and_told(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "notebook.yaml").write_text(
        "rolled:\n  - {date: 2025-06-01, recipe: Reed bed, strength: hookbait, eggs: 1, "
        "finished: 9 kg}\n",
        encoding="utf-8",
    )
    assert run(["batch", "reed.yaml", "--format", "json"]) == 0
    (batch,) = json.loads(capsys.readouterr().out)["batches"]
    (lost,) = [c["text"] for c in batch["cautions"] if c["code"] == "note-lost"]
    assert "9 kg of dried baits is more than the paste they came from" in lost
    assert batch["paste"]["finished_g"] < batch["paste"]["mass_g"]


def eggs_on_the_shelf(folder: Path, *items: str) -> None:
    lines = "".join(f"  {item}\n" for item in items)
    (folder / "shelf.yaml").write_text(f"items:\n{lines}", encoding="utf-8")


@pytest.mark.parametrize(
    ("items", "drawn"),
    [
        (["EU large eggs: {left: 30}", "salted eggs: {left: 1 kg}"], "EU large eggs"),
        (["EU large eggs: {left: 30}", "Hens: {left: 30, also: [Eggs]}"], "Hens"),
        (["EU large eggs: {left: 30}", "eggs of 60.0 g shelled: {left: 30}"], "eggs of 60.0 g"),
    ],
)
def test_weighed_eggs_are_found_on_the_shelf(folder: Path, items: list[str], drawn: str) -> None:
    eggs_on_the_shelf(folder, *items)
    note(*ROLL, "2")
    (name,) = [name for name, text in left(folder).items() if text == "28"]
    assert name.startswith(drawn)


def test_weighed_eggs_that_may_be_two_things_are_asked_for_a_name(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    eggs_on_the_shelf(folder, "EU large eggs: {left: 30}", "EU medium eggs: {left: 12}")
    note(*ROLL, "2")
    assert "write also: [eggs] under the eggs that you use" in _one_line(capsys)
    assert run(["shelf", "reed.yaml"]) == 0
    assert "Weighed eggs are found by a name: write also: [eggs]" in _one_line(capsys)


def _one_line(capsys: pytest.CaptureFixture[str]) -> str:
    return " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(("day", "told"), [("2025-03-01", False), ("2025-03-02", True)])
def test_what_is_drawn_past_its_date_is_told(
    folder: Path, capsys: pytest.CaptureFixture[str], day: str, *, told: bool
) -> None:
    eggs_on_the_shelf(folder, "Malt syrup: {left: 300 ml, use_by: 2025-03-01}")
    note(*ROLL, "1", "--date", day)
    said = "Malt syrup was past its date (2025-03-01)" in _one_line(capsys)
    assert said is told


@pytest.mark.parametrize(
    ("item", "said"),
    [
        ("egg", "near it stands eggs of 60.0 g shelled."),
        ("sack", "near it stands Bulk sack."),
        ("Reed mx", "near it stands reed mix."),
        ("Bird fod", "No recipe here names 'Bird fod'; near it is Bird food."),
        ("Bird food", "'Bird food' was not on the shelf before."),
    ],
)
def test_a_new_thing_is_told_beside_what_is_called_alike(
    folder: Path, capsys: pytest.CaptureFixture[str], item: str, said: str
) -> None:
    (folder / "bird.yaml").write_text("name: Bird\nbase_mix: Bird food\n", encoding="utf-8")
    note("bought", item, "5 kg")
    out = _one_line(capsys)
    assert said in out
    assert ("No recipe here names" in out) == ("No recipe" in said)


@pytest.mark.parametrize("name", ['"Reed\\u0020bed"', '"reed \\x42ed"', "Reed  BED"])
def test_a_note_is_refused_where_another_recipe_has_the_name_however_it_is_written(
    folder: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "second.yaml").write_text(f"name: {name}\nbase_mix: M\n", encoding="utf-8")
    words = ["--rods", "3", "--hours", "8", "--takes", "1"]
    assert run(["note", "fished", "reed.yaml", *words]) == 1
    assert "second.yaml has this name too" in capsys.readouterr().err


@pytest.mark.parametrize("price", ["3,40", "3.40 EUR", "€3.40", "3,40 €"])
def test_a_price_is_read_as_it_is_said(folder: Path, price: str) -> None:
    note("bought", "Malt syrup", "450", "g", "--price", price)
    assert "450 g, price: 3.40}" in (folder / "shelf.yaml").read_text("utf-8")


@pytest.mark.parametrize("price", ["3,400", "cheap", "3.40 GBP", "-1"])
def test_a_price_that_is_none_changes_nothing(folder: Path, price: str) -> None:
    before = (folder / "shelf.yaml").read_bytes()
    note("bought", "Malt syrup", "450g", "--price", price, code=2)
    assert (folder / "shelf.yaml").read_bytes() == before
