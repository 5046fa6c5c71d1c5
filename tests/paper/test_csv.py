"""CSV is data: one figure a row, the figures those of the JSON, and no cell a formula."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from eggfold.formats.csv import COLUMNS, cell_text, csv_text
from paper.reading import csv_records
from running import copy_recipes, run_eggfold

COMMANDS = (
    "batch recipes --as freebie --eggs 12",
    "batch recipes/osierfen-reedmace.yaml --as hookbait --eggs 2 --full",
    "batch recipes/osierfen-caraway.yaml --as freebie --powder 12kg",
    "shopping recipes --as freebie --eggs 12",
    "doses recipes",
    "doses --additives recipes/additives.yaml",
    "boil 14mm 20mm",
    "buoyancy --core 10mm --skin 2mm",
    "powder recipes/osierfen-millet.yaml",
    "labels recipes/osierfen-caraway.yaml --as freebie --eggs 12 --bag 500g",
    "rolling recipes/weekend.yaml",
    "campaign recipes/season.yaml --date 2027-01-05",
    "trials recipes",
)
NUMBER = r"-?[0-9]+(\.[0-9]+)?"
FIRST = ("=", "+", "-", "@", "\t", "\r")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a folder with the demo recipes."""
    made = tmp_path_factory.mktemp("demo")
    copy_recipes(made, outings=True)
    return made


def printed(folder: Path, command: str, form: str) -> str:
    outcome = run_eggfold([*command.split(), "--format", form], folder)
    assert outcome.exit == 0, outcome.stderr
    return outcome.stdout


def records_of(body: str) -> list[list[str]]:
    head, *records = csv_records(body)
    assert tuple(head) == COLUMNS == ("page", "section", "item", "figure", "value", "unit")
    assert {len(record) for record in records} == {6}
    return records


def numbers_in(value: Any) -> list[float]:
    """Return every number of an answer but its version."""
    if isinstance(value, dict):
        return [n for key, one in value.items() if key != "version" for n in numbers_in(one)]
    if isinstance(value, list):
        return [n for one in value for n in numbers_in(one)]
    return [value] if isinstance(value, int | float) and not isinstance(value, bool) else []


@pytest.mark.parametrize("command", COMMANDS)
def test_each_figure_of_the_json_is_one_row_of_its_own(folder: Path, command: str) -> None:
    answer = json.loads(printed(folder, command, "json"))
    records = records_of(printed(folder, command, "csv"))
    twice = [place for place, n in Counter(tuple(r[:4]) for r in records).items() if n > 1]
    assert twice == []
    shown = Counter(float(r[4]) for r in records if re.fullmatch(NUMBER, r[4]))
    numbered = Counter(map(float, numbers_in(answer)))
    # a number that names an item stands in that column, and in it alone
    items = {tuple(r[:3]) for r in records}
    named = Counter(float(item) for *_, item in items if item.isdecimal())
    assert numbered - shown - named == Counter()


@pytest.mark.parametrize("command", COMMANDS)
def test_a_value_is_a_bare_number_and_its_unit_stands_beside_it(folder: Path, command: str) -> None:
    records = records_of(printed(folder, command, "csv"))
    assert {
        r[5] for r in records if not re.fullmatch(r"[a-zA-Z%°][a-zA-Z0-9°/²]{0,5}|", r[5])
    } == set()
    assert [r for r in records if r[5] and not re.fullmatch(NUMBER, r[4])] == []


def test_a_figure_is_found_where_the_json_has_it(folder: Path) -> None:
    command = "batch recipes/osierfen-caraway.yaml --as freebie --eggs 6"
    (batch,) = json.loads(printed(folder, command, "json"))["batches"]
    found = {tuple(r[:4]): r[4:] for r in records_of(printed(folder, command, "csv"))}
    page = batch["recipe"]
    for dose in batch["doses"]:
        value, unit = found[page, "doses", dose["name"], "g"]
        assert (value, unit) == (repr(dose["g"]).removesuffix(".0"), "g")
    value, unit = found[page, "powder", "", "base_mix_high"]
    assert (value, unit) == (repr(batch["powder"]["base_mix_high_g"]), "g")
    assert found[page, "baits", "bottom 20 mm", "count"] == [str(batch["baits"][0]["count"]), ""]


def test_it_keeps_rfc_4180(tmp_path: Path) -> None:
    copy_recipes(tmp_path)
    args = ["batch", "recipes", "--as", "freebie", "--eggs", "6", "--output", "cards.csv"]
    assert run_eggfold(args, tmp_path).exit == 0
    body = (tmp_path / "cards.csv").read_bytes()
    assert body.endswith(b"\r\n")
    assert b"\n" not in body.replace(b"\r\n", b"")
    assert len(records_of(body.decode())) > 100


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("=cmd|' /C calc'!A0", "'=cmd|' /C calc'!A0"),
        ("+1 ml", "'+1 ml"),
        ("-0.12 g", "'-0.12 g"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("\tx", "\ufffdx"),
        ("\t=1+1", "\ufffd'=1+1"),
        ("\r=1+1", "'\ufffd=1+1"),
        ("Reed;=1+1", "Reed;'=1+1"),
        ("Reed, =1+1", "Reed,' =1+1"),
        ("Reed; -3, 4", "Reed; -3, 4"),
        ("\uff1d1+1", "'\uff1d1+1"),
        ("Reed;\uff0b1", "Reed;'\uff0b1"),
        ("\u200b=1+1", "'\u200b=1+1"),
        ("\ufeff\u3164@A1", "'\ufeff\u3164@A1"),
        ("Reed-bed, a=b", "Reed-bed, a=b"),
        ("-0.12", "-0.12"),
        ("+3", "+3"),
        ("3 = 4", "3 = 4"),
        ("-", "'-"),
    ],
)
def test_no_cell_is_a_formula(cell: str, written: str) -> None:
    assert cell_text(cell) == written


@settings(max_examples=200)
@given(st.text(st.sampled_from("=+-@\t\r ,;'\"1a\u200b\uff1d"), max_size=8))
def test_a_name_is_harmless_in_every_cell(name: str) -> None:
    answer = json.loads(
        json.dumps({"kind": "doses", "version": 1, "rows": [{"name": name, "g": 1}]})
    )
    for record in csv_records(csv_text(answer)):
        for cell in map(str.strip, re.split("[,;\t]", "\t".join(record))):
            assert not cell.startswith(FIRST) or re.fullmatch(r"[+-]?\d+(\.\d+)?", cell)
