"""What is booked of finished bait, and that all of it can be taken back byte for byte."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

PLAN = """\
hours: 9 h
people: 2
tables: 2
trips:
  - leave: 2025-04-02
    back: 2025-04-04
    name: Reed arm
    freebies: {recipe: osierfen-caraway, bait: 1 kg per day}
    hookbaits: {recipe: osierfen-caraway, count: 60}
  - leave: 2025-04-23
    name: Weir pool
    freebies: {recipe: osierfen-caraway, bait: 2 kg}
"""
SHELVES = {
    "block": "items:\n  EU large eggs: {left: 60}\n",
    "not ended": "items:\n  EU large eggs: {left: 60}",
    "windows": "items:\r\n  EU large eggs: {left: 60}\r\n",
    "empty lots": "baits: []  # none yet\nitems: {}\n",
    "own lots": "items: {}\nbaits:  # by hand\n- recipe: Osierfen Caraway  # old\n  strength: freebie\n"
    "  left: 700 g\n  made: 2025-01-05\n\n- {recipe: Reeds, strength: freebie, left: 1 kg}\n# end\n",
}
NOTES = [
    "bought season.yaml --date 2025-03-28",
    "rolled osierfen-caraway.yaml --eggs 12 --as freebie --force --date 2025-03-29",
    "rolled caraway --eggs 6 --as freebie --force --date 2025-03-29",
    "rolled caraway --eggs 1 --force --date 2025-03-29",
    "bagged caraway 3.1kg --as freebie --date 2025-03-31",
    "bagged caraway 110 --date 2025-03-31",
    "count caraway=none --date 2025-04-01",
    "count 'caraway=about 3 kg' --rest-none --date 2025-04-01",
    "trip season.yaml --home caraway=400g --date 2025-04-05",
    "trip season.yaml --date 2025-04-24",
]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    copy_recipes(tmp_path)
    recipes = tmp_path / "recipes"
    (recipes / "season.yaml").write_text(PLAN, "utf-8")
    return recipes


def note(folder: Path, line: str, code: int = 0) -> Any:
    import shlex  # noqa: PLC0415

    outcome = run_eggfold(["note", *shlex.split(line), "--format", "json"], folder)
    assert outcome.exit == code, outcome.stderr
    return json.loads(outcome.stdout) if outcome.stdout else outcome.stderr


@pytest.mark.parametrize("shelf", SHELVES)
def test_every_note_is_taken_back_byte_for_byte(folder: Path, shelf: str) -> None:
    file, notebook = folder / "shelf.yaml", folder / "notebook.yaml"
    file.write_bytes(SHELVES[shelf].encode())
    before = []
    for line in NOTES:
        before.append(
            (line.split()[0], file.read_bytes(), notebook.exists() and notebook.read_bytes())
        )
        note(folder, line)
    for what, shelf_bytes, notebook_bytes in reversed(before):
        note(folder, f"{what} --undo")
        assert file.read_bytes() == shelf_bytes, what
        assert (notebook.exists() and notebook.read_bytes()) == notebook_bytes, what
    assert run_eggfold(["check", "shelf.yaml"], folder).exit == 0


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (NOTES[5], "110 hookbait, frozen"),
        (NOTES[7], "about 3 kg Osierfen Caraway freebie, the rest none"),
        (NOTES[8], "took nothing; came home: 400 g Osierfen Caraway freebie"),
    ],
)
def test_undo_says_what_was_noted(folder: Path, line: str, said: str) -> None:
    (folder / "shelf.yaml").write_text("items: {}\n", "utf-8")
    note(folder, line)
    assert note(folder, f"{line.split(maxsplit=1)[0]} --undo")["took_back"] == said


def lots(folder: Path) -> list[tuple[str, str, str]]:
    found = json.loads(run_eggfold(["shelf", "--format", "json"], folder).stdout)["baits"]
    return [(b["strength"], str(b["left_g"] or b["left_baits"]), b["state"]) for b in found]


def test_a_lot_is_rolled_bagged_and_fished(folder: Path) -> None:
    (folder / "shelf.yaml").write_text("items: {}\n", "utf-8")
    for line in NOTES[1:4]:
        note(folder, line)
    (freebie, hookbait) = lots(folder)
    assert (freebie[0], freebie[2]) == ("freebie", "drying")  # two bowls of a day are one lot
    assert hookbait[0] == "hookbait"
    note(folder, NOTES[4])
    note(folder, NOTES[5])
    assert lots(folder) == [("freebie", "3100.0", "frozen"), ("hookbait", "110", "frozen")]
    told = note(folder, "trip season.yaml --home caraway=400g --date 2025-04-05")
    # 3 days of 1 kg, and 60 of 110 baits
    assert lots(folder) == [
        ("freebie", "100.0", "frozen"),
        ("hookbait", "50", "frozen"),
        ("freebie", "400.0", "thawed"),
    ]
    assert [lot["left"] for lot in told["lots"]] == ["100 g", "50", "400 g"]
    assert "already" in note(folder, "trip season.yaml 'reed arm' --date 2025-04-05", 3)


def test_a_lot_that_was_weighed_when_it_was_rolled_is_bagged_and_not_doubled(folder: Path) -> None:
    (folder / "shelf.yaml").write_text("items: {}\n", "utf-8")
    note(folder, f"{NOTES[2]} --finished 1.1kg")
    note(folder, "bagged caraway 980g --date 2025-03-31")
    assert lots(folder) == [("freebie", "980.0", "frozen")]
    note(folder, "bagged caraway 500g --date 2025-03-31")
    assert lots(folder) == [("freebie", "980.0", "frozen"), ("freebie", "500.0", "frozen")]


def test_trips_before_one_that_is_noted_are_booked_with_it(folder: Path) -> None:
    (folder / "shelf.yaml").write_text(
        "items: {}\nbaits:\n- {recipe: Osierfen Caraway, strength: freebie, left: 9 kg, made: 2025-03-01}\n",
        "utf-8",
    )
    told = note(folder, "trip season.yaml weir --date 2025-04-24")
    assert lots(folder) == [("freebie", "4000.0", "frozen")]  # 9 less 3 less 2
    assert told["took_g"] == 2000
    assert "Reed arm, 2025-04-02, was never noted" in told["remarks"][0]
    assert "no trip" in note(folder, "trip season.yaml --date 2025-04-24", 3)


@pytest.mark.parametrize(
    ("line", "code", "said"),
    [
        ("count osierfen=3kg", 2, "say more of its name"),
        ("count reeds=3kg", 2, "no recipe here is called"),
        ("count caraway=3l", 2, "not a weight of bait"),
        ("count caraway", 2, "says no amount"),
        ("count", 2, "what is there?"),
        ("bagged caraway", 2, "how much of it?"),
        ("bagged caraway 1kg --fresh --dried", 2, "--fresh or --dried"),
        ("bagged caraway none", 2, "nothing was bagged"),
        ("trip season.yaml 2025-04-23 --date 2025-04-20", 3, "leaves on 2025-04-23"),
        ("trip season.yaml pond --date 2025-04-24", 2, "no trip is called 'pond'"),
        ("trip", 2, "which plan?"),
        ("bought season.yaml --price 3", 2, "--price is that of one thing"),
        ("bought 'Malt syrup'", 2, "how much of Malt syrup?"),
        ("count caraway=3kg --undo", 2, "stands alone, without baits"),
        ("trip --undo --home caraway=3kg", 2, "stands alone, without --home"),
        ("bagged --undo", 2, "there is no notebook.yaml"),
    ],
)
def test_what_cannot_be_booked_is_said(folder: Path, line: str, code: int, said: str) -> None:
    (folder / "notebook.yaml").unlink(missing_ok=True)
    assert said in " ".join(str(note(folder, line, code)).split())


def test_what_changed_since_is_not_taken_back_alone(folder: Path) -> None:
    (folder / "shelf.yaml").write_text("items: {}\n", "utf-8")
    note(folder, NOTES[3])
    note(folder, "bagged caraway 110 --date 2025-03-31")
    assert "was changed since" in note(folder, "rolled --undo", 3)


def test_a_list_that_was_bought_brings_the_date_on_its_eggs(folder: Path) -> None:
    (folder / "shelf.yaml").write_text(
        "items:\n  EU large eggs: {left: 4, use_by: 2025-03-01}\n", "utf-8"
    )
    told = note(folder, "bought season.yaml --use-by 2025-04-20 --date 2025-03-28")
    text = (folder / "shelf.yaml").read_text("utf-8")
    assert "use_by: 2025-04-20" in text
    assert "2025-03-01" not in text
    assert text.count("use_by") == 1  # the date is that of the egg box alone
    assert told["items"] > 1


def test_bait_on_the_shelf_is_labelled_by_its_own_weight_and_days(folder: Path) -> None:
    (folder / "shelf.yaml").write_text(
        "items: {}\nbaits:\n"
        "- {recipe: Osierfen Caraway, strength: freebie, left: 3 kg, made: 2025-03-29, since: 2025-03-31}\n"
        "- {recipe: Osierfen Caraway, strength: freebie, left: 1 kg, state: thawed}\n"
        "- {recipe: Osierfen Millet, strength: freebie, left: 9 kg}\n",
        "utf-8",
    )
    args = ["labels", "osierfen-caraway.yaml", "--from-shelf", "--bag", "2kg", "--format", "json"]
    labels = json.loads(run_eggfold(args, folder).stdout)["labels"]
    assert [(one["weight_g"], one["made"], one["frozen"]) for one in labels] == [
        (2000.0, "2025-03-29", "2025-03-31"),
        (1000.0, "2025-03-29", "2025-03-31"),
    ]
    none = run_eggfold(["labels", "osierfen-reedmace.yaml", "--from-shelf"], folder)
    assert none.exit == 3
    assert "no bait of these recipes" in none.stderr


def test_bait_of_other_sizes_is_a_lot_of_its_own(folder: Path) -> None:
    (folder / "shelf.yaml").write_text("items: {}\n", "utf-8")
    for sizes in ("10mm", "10mm", "24mm"):
        note(folder, f"rolled caraway --eggs 2 --as freebie --sizes {sizes} --date 2025-03-29")
    text = (folder / "shelf.yaml").read_text("utf-8")
    assert text.count("sizes: [10 mm]") == 1
    assert text.count("sizes: [24 mm]") == 1
    said = note(folder, "rolled caraway --eggs 1 --sizes 10 --date 2025-03-29", 2)
    assert "--sizes: '10' has no unit" in said


@pytest.mark.parametrize(
    ("day", "state"), [("2025-03-30", "drying"), ("2025-04-19", "dry, not bagged")]
)
def test_the_shelf_says_when_bait_is_dry_and_was_never_bagged(
    folder: Path, day: str, state: str
) -> None:
    (folder / "shelf.yaml").write_text(SHELVES["block"], "utf-8")
    note(folder, "rolled caraway --eggs 6 --as freebie --force --date 2025-03-29")
    shown = run_eggfold(["shelf", ".", "--date", day], folder).stdout
    [row] = [line for line in shown.splitlines() if line.startswith("Osierfen Caraway freebie")]
    assert f" d  {state}  " in row


def test_none_of_a_bait_that_was_never_there_makes_no_lot(folder: Path) -> None:
    (folder / "shelf.yaml").write_text("items: {}\n", "utf-8")
    note(folder, "count caraway=none --date 2025-04-01")
    assert (folder / "shelf.yaml").read_text("utf-8") == "items: {}\n"


def test_a_shelf_that_cannot_be_read_is_told_and_not_denied(folder: Path) -> None:
    (folder / "shelf.yaml").write_text("items: [\n", "utf-8")
    outcome = run_eggfold(["shelf"], folder)
    assert outcome.exit == 1
    assert "shelf.yaml:" in outcome.stderr
    assert "there is no shelf" not in outcome.stderr
