"""Bait that is bagged, counted or taken along: which lot is meant, and what the note says of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from running import Outcome, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

MADE = "made: 2025-03-20, state: drying, weighed: no"
WAITING = (
    f"{{recipe: Reed Bed, strength: freebie, left: 3 kg, {MADE}}}",
    f"{{recipe: Reed Bed, strength: hookbait, left: 1 kg, {MADE}}}",
)


def note(folder: Path, *args: str, lots: tuple[str, ...]) -> Outcome:
    """Note something with these lots on the shelf and no recipe beside it."""
    baits = "".join(f"  - {lot}\n" for lot in lots)
    (folder / "shelf.yaml").write_text(f"items: {{}}\nbaits:\n{baits}", "utf-8")
    return run_eggfold(["note", *args, "--date", "2025-03-23"], folder)


def lots_in(folder: Path) -> list[str]:
    text = (folder / "shelf.yaml").read_text("utf-8")
    return [line for line in text.splitlines() if "recipe:" in line]


def test_baits_that_are_counted_are_the_hookbaits_that_wait(tmp_path: Path) -> None:
    outcome = note(tmp_path, "bagged", "reed bed", "240", lots=WAITING)
    assert outcome.exit == 0, outcome.stderr
    freebies, hookbaits = lots_in(tmp_path)
    assert "left: 3 kg" in freebies
    assert "drying" in freebies
    assert "left: 240" in hookbaits
    assert "drying" not in hookbaits


def test_a_weight_may_be_of_either_strength_that_waits(tmp_path: Path) -> None:
    outcome = note(tmp_path, "bagged", "reed bed", "2.8 kg", lots=WAITING)
    assert outcome.exit == 2
    assert "hookbaits and freebies of it wait to be bagged: say --as" in outcome.stderr
    said = note(tmp_path, "bagged", "reed bed", "2.8 kg", "--as", "freebie", lots=WAITING)
    assert said.exit == 0, said.stderr
    assert "left: 2.8 kg" in lots_in(tmp_path)[0]


@pytest.mark.parametrize("part", ["weir", "Reed Weir", "WEIR"])
def test_a_part_of_its_name_is_enough_for_bait_on_the_shelf(tmp_path: Path, part: str) -> None:
    lots = (WAITING[0], "{recipe: Reed Weir, strength: freebie, left: 5 kg}")
    outcome = note(tmp_path, "count", f"{part}=4 kg", lots=lots)
    assert outcome.exit == 0, outcome.stderr
    assert ["left: 3 kg" in lots_in(tmp_path)[0], "left: 4 kg" in lots_in(tmp_path)[1]] == [
        True
    ] * 2


@pytest.mark.parametrize("part", ["reed", "millet"])
def test_a_name_of_two_baits_or_of_none_is_asked_for_again(tmp_path: Path, part: str) -> None:
    lots = (WAITING[0], "{recipe: Reed Weir, strength: freebie, left: 5 kg}")
    outcome = note(tmp_path, "count", f"{part}=4 kg", lots=lots)
    assert outcome.exit == 2
    assert f"no recipe here is called '{part}'" in outcome.stderr


RECIPE = "name: Reed Bed\nbase_mix: {name: M, amount: 130 g}\nbaits: {freebie: 16 mm}\n"
TRIP = """\
hours: 9 h
trips:
  - leave: 2025-03-22
    freebies: [{recipe: Reed Bed, bait: 3 kg}, {recipe: Reed Bed, bait: 2 kg}]
"""


@pytest.mark.parametrize(("held", "told"), [("4.5 kg", True), ("4.8 kg", False), ("6 kg", False)])
def test_a_trip_that_took_less_than_all_it_wanted_of_a_bait_says_so(
    tmp_path: Path, held: str, *, told: bool
) -> None:
    """5 kg in two parts; 4.75 kg would be 95 % of it."""
    (tmp_path / "reed.yaml").write_text(RECIPE, "utf-8")
    (tmp_path / "season.yaml").write_text(TRIP, "utf-8")
    lot = f"{{recipe: Reed Bed, strength: freebie, left: {held}, made: 2025-03-01}}"
    outcome = note(tmp_path, "trip", "season.yaml", "2025-03-22", lots=(lot,))
    assert outcome.exit == 0, outcome.stderr
    shown = " ".join(outcome.stdout.split())
    assert (f"of the 5 kg planned the books held {held}, and that is booked" in shown) is told


SALTED = """\
name: Reed Bed
base_mix: M
additives: [{name: Salt, form: powder, hookbait: 5 g per egg}]
"""
ROLLED = ("rolled", "reed.yaml", "--eggs", "2", "--as", "hookbait", "--finished", "200 g")


@pytest.mark.parametrize(
    ("noted", "items", "did"),
    [
        (ROLLED, "{Salt: {left: 1 kg}}", "drew Salt"),
        (ROLLED, "{}", "changed the shelf"),
        (("bagged", "reed bed", "2 kg"), "{}", "changed the shelf"),
    ],
)
def test_a_note_that_changed_a_shelf_is_not_undone_without_it(
    tmp_path: Path, noted: tuple[str, ...], items: str, did: str
) -> None:
    (tmp_path / "reed.yaml").write_text(SALTED, "utf-8")
    shelf = tmp_path / "shelf.yaml"
    shelf.write_text(f"items: {items}\nbaits: []\n", "utf-8")
    outcome = run_eggfold(["note", *noted, "--date", "2025-03-23"], tmp_path)
    assert outcome.exit == 0, outcome.stderr
    shelf.rename(tmp_path / "elsewhere.yaml")
    undone = run_eggfold(["note", noted[0], "--undo"], tmp_path)
    assert undone.exit == 2
    assert f"that note {did}; name the shelf with --shelf" in undone.stderr
