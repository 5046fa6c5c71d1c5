"""Whatever is typed behind an option is read or refused: never a fault in the program."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from running import copy_recipes, run_eggfold

if TYPE_CHECKING:
    from pathlib import Path

CARAWAY = "recipes/osierfen-caraway.yaml"
SHELF = ("--dry-run", "--shelf", "recipes/shelf.yaml")
FISHED = ("note", "fished", CARAWAY, "--dry-run")
BATCH = ("batch", CARAWAY, "--as", "freebie")
TYPED = (
    *(
        (*BATCH, option)
        for option in [
            "--eggs",
            "--powder",
            "--liquid",
            "--bait",
            "--count",
            "--egg",
            "--diameter",
            "--pan",
        ]
    ),
    (*BATCH, "--altitude"),
    ("doses", CARAWAY, "--columns"),
    *(("boil", option) for option in ("--for", "--start", "--loads", "--altitude")),
    *(("buoyancy", "--core", "12mm", option) for option in ("--skin", "--lift", "--ten-balls")),
    ("labels", CARAWAY, "--as", "freebie", "--eggs", "6", "--bag"),
    (*FISHED, "--rods", "2", "--takes", "1", "--hours"),
    (*FISHED, "--rods", "2", "--hours", "1", "--takes"),
    (*FISHED, "--hours", "2", "--takes", "1", "--rods"),
    ("note", "bought", *SHELF, "Table salt"),
    ("note", "bought", *SHELF, "Table salt", "1 kg", "--price"),
    ("note", "weighed", CARAWAY, *SHELF[:1], "--eggs", "1", "--before", "1kg", "--after"),
    ("note", "bagged", CARAWAY, *SHELF, "--as", "freebie"),
    ("rolling", "recipes/weekend.yaml", "--late"),
)
VALUES = st.sampled_from(
    [
        "1,5",
        "1½",
        "½",
        "1/2",
        "2 eggs",
        "3,5 kg",
        "1 lb 4 oz",
        "1 h 30 min",
        "90 sec",
        "10 drops",
        "27.03.2027",
        "9 am",
        "",
        "-",
        "0",
        "1e3",
        "２",
        "two",
        "3,400",
        "12 x eu-large",
        "5 l",
        "-1",
        "nan",
        "∞",
        "1.5.2",
        "10 %",
        "14,5mm",
        "abc",
        "6xL",
        "€3,40",
        "3.40 EUR",
    ]
)


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(command=st.sampled_from(TYPED), value=VALUES)
def test_what_is_typed_is_read_or_refused(
    command: tuple[str, ...], value: str, folder_of_demo: Path
) -> None:
    outcome = run_eggfold([*command, value], folder_of_demo)
    assert outcome.exit in (0, 1, 2, 3, 4)
    assert "a fault in the program" not in outcome.stderr


@pytest.fixture(scope="module")
def folder_of_demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("typed")
    copy_recipes(folder)
    return folder


@pytest.mark.parametrize("hours", ["1,5", "1½", "1 1/2"])
def test_hours_are_kept_in_digits(hours: str, tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    run_eggfold([*FISHED[:3], "--rods", "2", "--takes", "1", "--hours", hours], tmp_path)
    assert "hours: 1.5," in (tmp_path / "recipes" / "notebook.yaml").read_text("utf-8")
