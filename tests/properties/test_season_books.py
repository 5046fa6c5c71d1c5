"""A season with its accidents: no bait is lost in the books, none is counted twice, every trip is served.

The season is the one that docs/tutorial-season.md tells, played day by day: as it stands there, and by
people who forget half of their notes. Beside it, seasons by the hundred with accidents drawn at random.
"""

from __future__ import annotations

import json
import random
import re
import shlex
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any, NamedTuple

import pytest

from eggfold.load.lots import Lot, parse_left
from eggfold.plan.in_hand import build_in_hand
from eggfold.reference.session import ENOUGH
from eggfold.stock.baits import Kind, ShelfLife, Want, after_giving, allot, grams, newest_that_are
from repository.fences import read_blocks
from running import ROOT, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

TUTORIAL = ROOT / "docs" / "tutorial-season.md"
MOST_COMMANDS, MOST_TYPED = 16, 900
FREEZER_L = 60.0
NEEDS_G = {
    ("Reed arm", "Fish"): 9000,
    ("Weir pool", "Caraway"): 6000,
    ("Weir pool", "Fish"): 4000,
    ("Long bank", "Fish"): 8000,
    ("Old quay", "Caraway"): 8000,
}
"""What the plan of the tutorial asks for, freebies."""
HOOKBAITS = {"Reed arm": 120, "Weir pool": 120, "Old quay": 60}
FORGOTTEN = ("bought", "bagged", "trip")


def commands() -> list[str]:
    blocks = [block for block in read_blocks(TUTORIAL) if block.language == "console"]
    return [command for block in blocks for command, _ in block.runs]


def day_of(command: str) -> str:
    found = re.search(r" --date (\S+)", command)
    assert found
    return found[1]


def lay_out(folder: Path) -> None:
    for block in read_blocks(TUTORIAL):
        if block.file:
            (folder / block.file).write_text(block.text, "utf-8")


def ask(folder: Path, *args: str) -> Any:
    outcome = run_eggfold([*args, "--format", "json"], folder)
    assert outcome.exit == 0, f"{args}: {outcome.stderr}"
    return json.loads(outcome.stdout)


def test_a_season_is_few_words() -> None:
    typed = [re.sub(r" --date \S+", "", command) for command in commands()]
    assert len(typed) <= MOST_COMMANDS
    assert sum(map(len, typed)) <= MOST_TYPED


def on_shelf_g(folder: Path) -> float:
    return float(sum(lot["left_g"] for lot in ask(folder, "shelf")["baits"]))


def check_plan(folder: Path, day: str) -> None:
    """Check what the plan says on a day against what the file asks for and the shelf holds."""
    season = ask(folder, "campaign", "season.yaml", "--date", day)
    for trip in season["trips"]:
        for bring in trip["brings"]:
            if bring["strength"] == "freebie":
                assert bring["finished_g"] >= ENOUGH * NEEDS_G[trip["name"], bring["recipe"]]
            else:
                assert bring["baits"] >= ENOUGH * HOOKBAITS[trip["name"]]
    assert all(0 <= level["freezer_l"] <= FREEZER_L + 1e-6 for level in season["levels"])
    given: dict[tuple[int, str, str], float] = {}
    for lot in season["in_hand"]:
        gone = sum(part["finished_g"] for part in lot["for"])
        assert gone + lot["left_g"] == pytest.approx(lot["finished_g"])
        for part in lot["for"]:
            key = part["trip"], lot["recipe"], lot["strength"]
            given[key] = given.get(key, 0.0) + part["finished_g"]
    brought = {
        (trip["trip"], bring["recipe"], bring["strength"]): bring["from_shelf_g"]
        for trip in season["trips"]
        for bring in trip["brings"]
        if bring["from_shelf_g"]
    }
    assert given == pytest.approx(brought)
    assumed = {trip["name"] for trip in season["over"] if not trip["booked"]}
    planned = float(sum(g for (name, _), g in NEEDS_G.items() if name in assumed))
    planned += sum(3.0 * HOOKBAITS.get(name, 0) for name in assumed)  # no bait weighs over 3 g
    taken = on_shelf_g(folder) - sum(lot["finished_g"] for lot in season["in_hand"])
    assert -3 <= taken <= planned + 3


def booked_g(said: Any) -> float:
    """Return by how much a note changed the bait in hand, worked out from its own figures."""
    if said["what"] == "rolled":
        return float(said["finished_g"] or said["expected_finished_g"])
    if said["what"] == "trip":
        planned = sum(g for (name, _), g in NEEDS_G.items() if name == said["trip"])
        assert said["took_g"] <= planned + 3.0 * HOOKBAITS.get(said["trip"], 0)
    before = [parse_left(lot["before"]) for lot in said["lots"] if lot["before"]]
    after = [parse_left(lot["left"]) for lot in said["lots"]]
    return sum(float(a.stock.exact()) for a in after) - sum(float(b.stock.exact()) for b in before)


@pytest.mark.parametrize("forgotten", [(), FORGOTTEN], ids=["diligent", "forgetful"])
def test_every_trip_is_served_and_no_bait_is_lost(
    forgotten: tuple[str, ...], tmp_path: Path
) -> None:
    lay_out(tmp_path)
    in_hand_g = 0.0
    notes = [command for command in commands() if command.startswith("eggfold note")]
    kept = [note for note in notes if note.split()[2] not in forgotten]
    assert len(kept) <= len(notes) / 2 + 1 or not forgotten
    for command in kept:
        _, *args = shlex.split(command)
        said = ask(tmp_path, *args, *(["--force"] if "rolled" in args else []))
        in_hand_g += booked_g(said)
        assert on_shelf_g(tmp_path) == pytest.approx(in_hand_g, abs=3)  # kept to the gram
        check_plan(tmp_path, day_of(command))


LIFE = ShelfLife(frozen=60, thawed=3, dry=7, drying=2)
KIND: Kind = ("reed bed", "freebie")


def a_lot(g: float, **keys: str) -> Lot:
    fields = {"recipe": "Reed bed", "strength": "freebie", "left": str(grams(g))}
    return Lot.model_validate(fields | keys)


def held_g(lots: list[Lot]) -> float:
    return sum(lot.left_g or 0.0 for lot in lots)


class Books(NamedTuple):
    """What is in hand, and what was made, and fished or lost, until now [g]."""

    lots: list[Lot]
    made_g: float = 0.0
    gone_g: float = 0.0

    def more(self, lot: Lot) -> Books:
        return Books([*self.lots, lot], self.made_g + held_g([lot]), self.gone_g)

    def less(self, lots: list[Lot]) -> Books:
        return Books(lots, self.made_g, self.gone_g + held_g(self.lots) - held_g(lots))


def fished(books: Books, trip: Want) -> Books:
    given = allot(books.lots, [trip], LIFE)
    assert sum(one.g for one in given) <= trip.need_g + 1e-6
    return books.less([lot for lot in after_giving(books.lots, given) if lot])


def counted(books: Books, share: float) -> Books:
    left_g = held_g(books.lots) * share
    lots = newest_that_are(books.lots, parse_left(str(grams(left_g))))
    assert held_g([lot for lot in lots if lot]) == pytest.approx(left_g, abs=1)
    return books.less([lot for lot in lots if lot])


def played(seed: int) -> Books:
    """Play a season of accidents."""
    draw = random.Random(seed)  # noqa: S311 - accidents, not secrets
    books, today = Books([]), date(2027, 3, 1)
    leaves = [today + timedelta(14 * (i + 1) + draw.randint(0, 6)) for i in range(8)]
    trips = [
        Want(i, KIND, day, day - timedelta(1), 1000.0 * draw.randint(1, 12), 5.0)
        for i, day in enumerate(leaves)
    ]
    for _ in range(40):
        today += timedelta(draw.randint(1, 5))
        what = draw.choice(["rolled", "rolled", "trip", "lost", "counted", "home"])
        left = [want for want in trips if want.leave < today]
        if what == "rolled":
            state = draw.choice(["drying", "frozen", "fresh"])
            books = books.more(a_lot(draw.randint(500, 9000), made=str(today), state=state))
        elif what == "home":
            books = books.more(a_lot(draw.randint(100, 900), since=str(today), state="thawed"))
        elif what == "trip" and left:
            trips.remove(left[0])
            books = fished(books, left[0])
        elif books.lots:
            books = counted(books, 0.0 if what == "lost" else draw.uniform(0.2, 1.2))
        check_hand(books.lots, trips, today)
    return books


def check_hand(lots: list[Lot], trips: list[Want], today: date) -> None:
    over = [want for want in trips if want.leave < today]
    coming = [want for want in trips if want.leave >= today]
    hand = build_in_hand(lots, over, coming, LIFE)
    for held in hand.lots:
        assert sum(g for _, g in held.gives) + (held.left_g or 0) == pytest.approx(held.finished_g)
        for trip, _ in held.gives:
            want = next(want for want in coming if want.trip == trip)
            assert held.ready is None or held.ready <= want.leave
            assert held.until is None or held.until >= want.thaw
    for want, g in zip(coming, hand.served_g, strict=True):
        assert -1e-6 <= g <= want.need_g + 1e-6
    taken = held_g(lots) - sum(held.finished_g or 0.0 for held in hand.lots)
    assert -len(lots) <= taken <= sum(want.need_g for want in over) + len(lots)


def test_no_bait_is_lost_in_hundreds_of_seasons() -> None:
    for seed in range(200):
        books = played(seed)
        assert books.made_g == pytest.approx(books.gone_g + held_g(books.lots), abs=1), seed
