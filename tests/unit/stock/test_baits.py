"""Which lots serve which trips: worked out by hand from the rules of the page on the shelf."""

from __future__ import annotations

from datetime import date

import pytest

from eggfold.load.lots import Lot, LotLeft, parse_left
from eggfold.stock.baits import ShelfLife, Want, after_giving, allot, newest_that_are

LIFE = ShelfLife(frozen=180, thawed=3, dry=7, drying=2)


def lot(left: str, **keys: str) -> Lot:
    fields = {"recipe": "Reed bed", "strength": "freebie", "left": left}
    return Lot.model_validate(fields | keys)


def want(leave: str, need_g: float, trip: int = 0) -> Want:
    day = date.fromisoformat(leave)
    return Want(trip, ("reed bed", "freebie"), day, day, need_g, 5.0, frozenset({16.0}))


def given(lots: list[Lot], wants: list[Want]) -> list[tuple[int, int, float]]:
    return [(one.lot, one.want, one.g) for one in allot(lots, wants, LIFE)]


def test_the_oldest_goes_to_the_earliest_trip() -> None:
    lots = [lot("4 kg", made="2027-04-18"), lot("3 kg", made="2027-03-28")]
    wants = [want("2027-06-18", 4000, 1), want("2027-05-14", 2000, 0)]
    assert given(lots, wants) == [(1, 1, 2000.0), (1, 0, 1000.0), (0, 0, 3000.0)]


@pytest.mark.parametrize(
    ("keys", "leave", "serves"),
    [
        ({"state": "frozen", "since": "2027-01-01"}, "2027-06-30", True),  # 180 days
        ({"state": "frozen", "since": "2027-01-01"}, "2027-07-01", False),
        ({"state": "thawed", "since": "2027-04-25"}, "2027-04-28", True),
        ({"state": "thawed", "since": "2027-04-25"}, "2027-04-29", False),
        ({"state": "fresh", "since": "2027-04-25"}, "2027-05-02", True),
        ({"state": "dried", "since": "2027-04-25"}, "2027-05-03", False),
        ({"state": "drying", "made": "2027-03-28"}, "2027-03-30", False),  # bagged that evening
        ({"state": "drying", "made": "2027-03-28"}, "2027-03-31", True),
        ({"made": "2027-04-03"}, "2027-04-02", False),
        ({"made": "2027-03-03", "counted": "2027-04-03"}, "2027-04-02", False),
        ({"made": "2027-03-03", "counted": "2027-04-02"}, "2027-04-02", True),
        ({"sizes": ("16 mm",)}, "2027-04-02", True),
        ({"sizes": ("20 mm",)}, "2027-04-02", False),
        ({"strength": "hookbait"}, "2027-04-02", False),
    ],
)
def test_bait_serves_what_it_is_ready_and_keeps_for(
    keys: dict[str, str], leave: str, *, serves: bool
) -> None:
    assert bool(given([lot("3 kg", **keys)], [want(leave, 1000)])) is serves


def test_baits_are_counted_out_by_their_weight() -> None:
    lots = [lot("240")]
    found = allot(lots, [want("2027-04-02", 300)], LIFE)
    assert [(one.g, one.amount) for one in found] == [(300.0, 60.0)]
    assert [str(one.left) for one in after_giving(lots, found) if one] == ["180"]


def test_what_is_all_gone_is_no_lot_any_more() -> None:
    lots = [lot("1 kg"), lot("about 2 kg")]
    found = allot(lots, [want("2027-04-02", 1500)], LIFE)
    assert [one and str(one.left) for one in after_giving(lots, found)] == [None, "about 1.5 kg"]


@pytest.mark.parametrize(
    ("counted", "left"),
    [
        ("7 kg", ["3 kg", "4 kg"]),
        ("5 kg", ["1 kg", "4 kg"]),
        ("2 kg", [None, "2 kg"]),
        ("about 9 kg", ["about 5 kg", "4 kg"]),
        ("none", [None, None]),
        ("300", ["300", None]),
    ],
)
def test_a_count_takes_away_the_oldest_and_makes_no_bait_younger(
    counted: str, left: list[str | None]
) -> None:
    lots = [lot("3 kg", made="2027-03-28"), lot("4 kg", made="2027-04-18")]
    after = newest_that_are(lots, parse_left(counted))
    assert [one and str(one.left) for one in after] == left


def test_amounts_are_read_as_they_are_said() -> None:
    assert [str(parse_left(text)) for text in ("3.2 kg", "about 3kg", "240", "none")] == [
        "3.2 kg",
        "about 3 kg",
        "240",
        "0",
    ]
    assert parse_left("about 3 kg") == LotLeft(parse_left("3 kg").stock, rough=True)
