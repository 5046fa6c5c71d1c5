"""The corner of a card, the columns of a dose sheet, the sheets of labels."""

from __future__ import annotations

import hashlib
import re
import shlex
from pathlib import Path

import pytest

from eggfold.amounts import AmountError
from eggfold.errors import UsageProblemError
from eggfold.formats.plain_text import label_text
from eggfold.pages.page import Facts, Page
from eggfold.recipe.dose_sheet import DoseColumn, parse_columns
from running import RECIPES, copy_recipes, run_eggfold

WEIR = "recipes/osierfen-weir-us.yaml"


def corner(folder: Path, command: str, stdin: bytes = b"") -> tuple[str, str]:
    """Return the hash and the day at the end of a card."""
    lines = run_eggfold(shlex.split(command), folder, stdin=stdin).stdout.splitlines()
    found = re.search(r" recipe ([0-9a-f]{8}), ([0-9-]{10})$", lines[-1])
    assert found
    assert len(lines[-1]) == 80
    return found[1], found[2]


def test_the_corner_names_the_file_and_the_day(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    data = (tmp_path / WEIR).read_bytes()
    expected = hashlib.sha256(data).hexdigest()[:8]
    assert corner(tmp_path, f"batch {WEIR}") == (expected, "2026-01-01")
    assert corner(tmp_path, f"batch {WEIR} --date 2026-03-04") == (expected, "2026-03-04")
    by_hand = corner(tmp_path, "batch - --additives recipes/additives.yaml", stdin=data)
    assert by_hand == (expected, "2026-01-01")


def test_any_changed_byte_changes_the_corner(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    before = corner(tmp_path, f"batch {WEIR}")
    with (tmp_path / WEIR).open("ab") as file:
        file.write(b"# a remark\n")
    after = corner(tmp_path, f"batch {WEIR}")
    assert before != after
    with_mark = b"\xef\xbb\xbf" + (tmp_path / WEIR).read_bytes()
    (tmp_path / WEIR).write_bytes(with_mark)
    assert corner(tmp_path, f"batch {WEIR}")[0] == hashlib.sha256(with_mark).hexdigest()[:8]


@pytest.mark.parametrize(
    ("options", "told"),
    [("", True), (" --until set", True), (" --diameter 14mm", False), (" --as freebie", False)],
)
def test_a_bait_on_cork_is_to_be_cut_open(tmp_path: Path, options: str, *, told: bool) -> None:
    copy_recipes(tmp_path)
    args = shlex.split(f"batch recipes/osierfen-reedmace.yaml{options} --full")
    card = " ".join(run_eggfold(args, tmp_path).stdout.split())
    remark = "boils as long as a solid one of its size: cut one open."
    assert card.count(remark) == told


def test_the_command_for_freebies_can_be_typed_as_it_stands(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    (tmp_path / "sp ace").mkdir()
    recipe = (tmp_path / "recipes/osierfen-caraway.yaml").read_text(encoding="utf-8")
    (tmp_path / "sp ace/my mix.yaml").write_text(recipe, encoding="utf-8")
    register = ["--additives", "recipes/additives.yaml"]
    args = ["batch", "sp ace/my mix.yaml", *register, "--as", "hookbait", "--eggs", "8"]
    alert = " ".join(run_eggfold(args, tmp_path).stdout.partition("\n\nBOWL")[0].split())
    named = shlex.split(alert.partition("eggfold ")[2])
    assert named == ["batch", "sp ace/my mix.yaml", "--as", "freebie", "--eggs", "8"]
    assert run_eggfold([*named, *register], tmp_path).exit == 0


def test_a_popup_is_written_alike_on_the_card_and_in_its_sums(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    shown = run_eggfold(["batch", "recipes/osierfen-reedmace.yaml", "--why"], tmp_path).stdout
    assert "16 mm pop-up on 12 mm cork" in " ".join(shown.split())
    assert "popup" not in shown


@pytest.mark.parametrize("units", ["imperial", "us"])
def test_units_leave_json_as_it_is(tmp_path: Path, units: str) -> None:
    copy_recipes(tmp_path)
    for command in ("batch recipes", "doses recipes", "shopping recipes", "labels recipes", "boil"):
        args = [*shlex.split(command), "--format", "json"]
        assert run_eggfold([*args, "--units", units], tmp_path) == run_eggfold(args, tmp_path)


ALWAYS = ("BOWL", "MAKES", "BOIL", "TAKE CARE")
MOVES = "WHAT MOVES IT"
AT_TIMES = {"MEASURE WITH CARE", "ON THE SHELF", "COST", "BUY"}


def headings_of(command: str, folder: Path) -> tuple[str, ...]:
    shown = run_eggfold(shlex.split(command), folder).stdout
    found = re.findall(r"^([A-Z]{3}[A-Z ]*?)(?:  .*)?$", shown, re.MULTILINE)
    return tuple(heading for heading in found if heading not in AT_TIMES)


def test_every_card_has_the_same_blocks_in_the_same_order(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    short, full = set(), set()
    for recipe in RECIPES.glob("osierfen-*.yaml"):
        for options in ("", "--as freebie --eggs 18", "--as hookbait --eggs 12"):
            command = f"batch recipes/{recipe.name} {options}"
            short.add(headings_of(command, tmp_path))
            full.add(headings_of(f"{command} --full", tmp_path))
    assert short == {(*ALWAYS, MOVES, "AFTERWARDS")}
    more = ("THE USUAL CARE", "POWDER", "BAITS", MOVES)
    assert full == {(*ALWAYS, "WRITE DOWN", *more, "FILES READ", "ASSUMED")}


@pytest.mark.parametrize("recipe", sorted(path.name for path in RECIPES.glob("osierfen-*.yaml")))
@pytest.mark.parametrize("options", ["", "--as freebie --eggs 6"])
def test_a_short_card_is_a_screen(recipe: str, options: str, tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    lines = run_eggfold(shlex.split(f"batch recipes/{recipe} {options}"), tmp_path).stdout
    assert len(lines.splitlines()) <= 45
    words = [line for line in lines.splitlines() if not line.startswith("eggfold ")]
    assert max(map(len, words)) <= 80  # a command to copy is one line, however long


@pytest.mark.parametrize(
    ("text", "columns"),
    [
        ("1", [("hookbait", 1, None)]),
        ("1,2,12", [("hookbait", 1, None), ("freebie", 2, None), ("freebie", 12, None)]),
        ("1f, 6 h", [("freebie", 1, None), ("hookbait", 6, None)]),
        ("1kg,2.5kg h", [("freebie", None, 1.0), ("hookbait", None, 2.5)]),
    ],
)
def test_columns_are_read(text: str, columns: list[tuple[str, int | None, float | None]]) -> None:
    assert [tuple(column) for column in parse_columns(text)] == columns


@pytest.mark.parametrize(
    "text", ["", ",", "0", "1.5", "six", "1x", "0kg", "1,1h", "100001", "-1", "1e3", "99999kg", "²"]
)
def test_other_columns_are_refused_with_a_hint(text: str) -> None:
    with pytest.raises(AmountError) as refused:
        parse_columns(text)
    assert refused.value.hint


def test_too_many_columns_are_refused() -> None:
    assert len(parse_columns(",".join(map(str, range(1, 25))))) == 24
    with pytest.raises(AmountError):
        parse_columns(",".join(map(str, range(1, 26))))


def test_one_egg_alone_is_a_hookbait() -> None:
    assert parse_columns("1,2") == (DoseColumn("hookbait", 1, None), DoseColumn("freebie", 2, None))


def small_page(i: int) -> Page:
    return Page(f"Mix {i}", "FREEBIE", (Facts("BAIT", (("Bag", f"{i}"),)),))


def test_labels_stand_in_reading_order_sheet_by_sheet() -> None:
    shown = label_text(tuple(map(small_page, range(1, 9))), (3, 2), 80)
    sheets = shown.split("Sheet ")[1:]
    assert [re.findall(r"Mix \d", sheet) for sheet in sheets] == [
        [f"Mix {i}" for i in range(1, 7)],
        ["Mix 7", "Mix 8"],
    ]
    boxes = [line for line in shown.splitlines() if line[:1] in "+|" and line]
    assert {len(line) for line in boxes} == {80, 53}


def test_too_many_labels_across_say_how_many_fit() -> None:
    with pytest.raises(UsageProblemError, match=r"3 fit, as in --grid 3x2"):
        label_text((small_page(1),), (4, 2), 80)
    assert "Mix 1" in label_text((small_page(1),), (4, 2), 107)


def test_a_dose_over_its_ceiling_is_marked_on_the_sheet(tmp_path: Path) -> None:
    register = "additives:\n  Reed oil:\n    form: powder\n    hookbait: 9 g per egg\n    freebie: 9 g per kg mix\n    ceiling: 20 g per kg mix\n"
    (tmp_path / "additives.yaml").write_text(register, encoding="utf-8")
    shown = run_eggfold(["doses"], tmp_path).stdout
    (row,) = (line for line in shown.splitlines() if line.startswith("Reed oil"))
    assert row.count("!!") == 1
    assert "!! 9 g" in row
    assert "!! marks a dose over its ceiling, in the column at most: check the dose." in shown
    assert "TAKE CARE" not in run_eggfold(["doses", "--columns", "1f,6"], tmp_path).stdout


@pytest.mark.parametrize(
    ("dose", "ceiling", "over"),
    [
        ("20 g per kg mix", "20 g per kg mix", False),
        ("20.02 g per kg mix", "20 g per kg mix", True),
        ("2 % of mix", "20 g per kg mix", False),
        ("2.002 % of mix", "20 g per kg mix", True),
        ("5 ml per egg", "6 g per egg", False),  # of 1.2 g/ml
        ("5.01 ml per egg", "6 g per egg", True),
    ],
)
def test_a_ceiling_is_reached_before_it_is_passed(
    tmp_path: Path, dose: str, ceiling: str, *, over: bool
) -> None:
    form = "{form: liquid, density: 1.2 g/ml}" if "ml" in dose else "{form: powder}"
    additive = f"{form[:-1]}, name: Reed, hookbait: {dose}, freebie: none, ceiling: {ceiling}}}"
    recipe = f"name: T\nbase_mix: {{name: M, amount: 130 g}}\nadditives: [{additive}]\n"
    (tmp_path / "t.yaml").write_text(recipe, encoding="utf-8")
    for command, mark in (
        ("batch t.yaml --as hookbait --eggs 3", "Reed is over its ceiling"),
        ("doses t.yaml", "!! "),
    ):
        outcome = run_eggfold(command.split(), tmp_path)
        assert outcome.exit == 0, outcome.stderr
        assert (mark in outcome.stdout) == over, command
