"""Inputs to begin with: every file of the demo folder and of the tests, for each target."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from eggfold.amounts import UNITS
from fuzz.answers import KINDS
from running import RECIPES, TESTS

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

_WORD = re.compile(r"^[ -]*([a-z_]+):", re.MULTILINE)
AMOUNTS = ("4 g per egg", "45 g per kg mix", "2 % of mix", "1,5 kg", "5 ml per 2 eggs", "1/2 cup")
OTHER_VALUES = ("2027-03-27 9:00", "14:20", "2026-05-02", "4.20", "30", "eu-medium", "52g", "none")


def files() -> Iterator[Path]:
    """Yield the files that users could have written."""
    for folder in (RECIPES, TESTS / "problems", TESTS / "golden"):
        yield from sorted(folder.rglob("*.yaml"))


def _kind(file: Path) -> int:
    kind = file.stem.replace("weekend", "plan")
    return KINDS.index(kind) if kind in KINDS else 0


def words() -> list[str]:
    """Return keys and units, for the fuzzer to put in."""
    keys = {f"{key}:" for file in files() for key in _WORD.findall(_text(file))}
    units = [unit for units in UNITS.values() for unit in units if unit.isascii()]
    return sorted(keys | set(units))


def _text(file: Path) -> str:
    return file.read_bytes().decode("utf-8", "replace")


def seeds(target: str) -> Iterator[bytes]:
    """Yield the inputs to begin a target with."""
    if target == "amounts":
        yield from (text.encode() for text in (*AMOUNTS, *OTHER_VALUES))
        yield from (f"1.5 {unit}".encode() for units in UNITS.values() for unit in units)
        return
    for file in files():
        data, kind = file.read_bytes(), _kind(file)
        if target == "read":
            yield bytes([kind]) + data
        else:
            yield bytes([2, kind]) + data
            if file.stem in ("notebook", "shelf"):
                yield bytes([file.stem == "shelf", 0]) + data
            if file.stem == "notebook":
                yield from (bytes([0, choice]) + data + b"\x00it's: 5" for choice in (1, 6, 12))


def write_seeds(target: str, folder: Path) -> None:
    """Put the inputs to begin with into a folder."""
    for number, data in enumerate(seeds(target)):
        (folder / f"seed-{number}").write_bytes(data)
