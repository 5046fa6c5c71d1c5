"""A value, a price or a pack that is put into a shelf stands there as its owner writes: quotes, lists, columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from eggfold.edit.splice import (
    left_as_written,
    left_splice,
    pack_splice,
    pack_text,
    price_splice,
    spliced,
)
from eggfold.load.shelf import OpenShelf, open_shelf

if TYPE_CHECKING:
    from pathlib import Path

PACK = pack_text("1 kg", "6.40")


def shelf_of(folder: Path, item: str) -> OpenShelf:
    file = folder / "shelf.yaml"
    file.write_text(f"currency: EUR\nitems:\n  Salt: {item}\n", encoding="utf-8")
    shelf, problems = open_shelf(str(file), to_change=True)
    assert shelf
    assert not problems
    return shelf


def item_of(text: str) -> str:
    return text.partition("  Salt: ")[2].rstrip("\n")


@pytest.mark.parametrize(
    ("old", "bare", "new"),
    [
        ("500 g", "500 g", "450 g"),
        ('"500 g"', "500 g", '"450 g"'),
        ("'500 g'", "500 g", "'450 g'"),
        (r'"500\x20g"', r'"500\x20g"', "450 g"),  # what is spelt otherwise goes with its quotes
    ],
)
def test_a_value_stays_in_its_quotes(tmp_path: Path, old: str, bare: str, new: str) -> None:
    shelf = shelf_of(tmp_path, f"{{left: {old}, density: 1.2 g/ml}}")
    assert left_as_written(shelf, "Salt") == bare
    after = spliced(shelf.source.text, [left_splice(shelf, "Salt", "450 g")])
    assert item_of(after) == f"{{left: {new}, density: 1.2 g/ml}}"


@pytest.mark.parametrize(("old", "new"), [("3.40", "3.60"), ('"3.40"', '"3.60"')])
def test_a_price_stays_in_its_quotes(tmp_path: Path, old: str, new: str) -> None:
    shelf = shelf_of(tmp_path, f"{{sold_in: [{{size: 450 g, price: {old}}}]}}")
    after = spliced(shelf.source.text, [price_splice(shelf, "Salt", 0, "3.60")])
    assert item_of(after) == f"{{sold_in: [{{size: 450 g, price: {new}}}]}}"


def test_a_pack_without_a_price_gets_one(tmp_path: Path) -> None:
    shelf = shelf_of(tmp_path, "{sold_in: [{size: 450 g}]}")
    after = spliced(shelf.source.text, [price_splice(shelf, "Salt", 0, "3.60")])
    assert item_of(after) == "{sold_in: [{price: 3.60, size: 450 g}]}"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("{sold_in: []}", f"{{sold_in: [{PACK}]}}"),
        ("{sold_in: [{size: 450 g}]}", f"{{sold_in: [{{size: 450 g}}, {PACK}]}}"),
        (
            "{sold_in: [{size: 450 g}, {size: 2 kg}]}",
            f"{{sold_in: [{{size: 450 g}}, {{size: 2 kg}}, {PACK}]}}",
        ),
        (
            "\n    sold_in:\n      - {size: 450 g}\n      - {size: 2 kg}",
            f"\n    sold_in:\n      - {PACK}\n      - {{size: 450 g}}\n      - {{size: 2 kg}}",
        ),
    ],
)
def test_a_pack_joins_those_that_are_listed(tmp_path: Path, before: str, after: str) -> None:
    shelf = shelf_of(tmp_path, before)
    assert item_of(spliced(shelf.source.text, [pack_splice(shelf, "Salt", PACK)])) == after
