"""What is offered for a number without its unit: the one that is usual in that place."""

from __future__ import annotations

from typing import Any

import pytest

from eggfold.amounts import AmountError
from eggfold.load.bench import BenchFile
from eggfold.load.fields import StrictModel, parse_date
from eggfold.load.gate import Source
from eggfold.load.plan import Campaign
from eggfold.load.reading import Placed, read_model
from eggfold.load.yaml_tree import read_nodes

SPARE = {
    "hours": "8 h",
    "trips": ({"leave": "2027-04-02", "freebies": {"recipe": "r", "eggs": "1"}},),
}
"""What a campaign has to have."""


def hints_of(model: type[StrictModel], text: str, **spare: Any) -> list[str | None]:
    """Return what to try for each problem of a file."""
    source = Source("reed.yaml", text)
    return [
        p.hint for p in read_model(model, Placed(source, read_nodes(source)[0]), spare).problems
    ]


def test_a_day_has_hours_and_a_trip_takes_kilos() -> None:
    trip = "{leave: 2027-04-02, freebies: {recipe: reed, bait: 12}}"
    assert hints_of(Campaign, f"hours: 8\ntrips: [{trip}]\n", **SPARE) == ["8 h", "12 kg or 12 g"]


@pytest.mark.parametrize(
    ("pace", "hint"),
    [
        ("2 kilos", "2 kg per hour"),
        ("2,5 kg a day", "1.5 kg per hour"),
        ("fast", "1.5 kg per hour"),
    ],
)
def test_a_pace_keeps_its_figure(pace: str, hint: str) -> None:
    assert hints_of(BenchFile, f"pace: {pace}\n") == [hint]


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("12/2026", "2026-MM-DD"),
        ("1.3.2026", "2026-03-01 or 2026-01-03"),
        ("27/03/2027", "2027-03-27"),
    ],
)
def test_a_date_keeps_its_year(text: str, hint: str) -> None:
    with pytest.raises(AmountError) as caught:
        parse_date(text)
    assert caught.value.hint == f"year first: {hint}"
