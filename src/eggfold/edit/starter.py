"""What a starter folder holds in each system of units; examples to be changed, no advice."""

from __future__ import annotations

import contextlib
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Literal

from eggfold.errors import FileAccessError

System = Literal["metric", "imperial", "us"]

_POUNDS = {
    "bag": "4.6 oz",
    "flavour_egg": "0.1 tsp per egg",
    "flavour_mix": "0.5 tsp per lb mix",
    "ceiling": "1 tsp per lb mix",
    "syrup_egg": "0.15 oz per egg",
    "syrup_mix": "0.6 oz per lb mix",
    "readings": "# The cards say in g and ml what to read on a tool: set the scale to g.\n",
    "bowl": "11 lb",
    "tray": "length: 24 in, width: 16 in",
    "altitude": "800 ft",
    "mix_left": "5.5 lb",
    "mix_pack": "11 lb",
    "weekend_bait": "9 lb",
    "trip_bait": "6 lb",
}

STARTERS: dict[System, dict[str, str]] = {
    "metric": {
        "bag": "130 g",
        "flavour_egg": "0.5 ml per egg",
        "flavour_mix": "5 ml per kg mix",
        "ceiling": "10 ml per kg mix",
        "syrup_egg": "4 g per egg",
        "syrup_mix": "40 g per kg mix",
        "measures": "",
        "readings": "",
        "bowl": "5 kg",
        "pan": "5 l",
        "tray": "length: 60 cm, width: 40 cm",
        "altitude": "250 m",
        "currency": "EUR",
        "mix_price": "24",
        "mix_left": "2.5 kg",
        "mix_pack": "5 kg",
        "weekend_bait": "4 kg",
        "trip_bait": "3 kg",
        "whose_packs": "",
    },
    "imperial": {
        **_POUNDS,
        "measures": "measures: imperial        # whose spoons, cups and pints\n",
        "pan": "5 l",
        "currency": "GBP",
        "mix_price": "22",
        "whose_packs": "",
    },
    "us": {
        **_POUNDS,
        "measures": "measures: us              # whose spoons, cups and pints\n",
        "pan": "5 l                   # a little over 5 quarts",
        "currency": "USD",
        "mix_price": "26",
        "whose_packs": "measures: us              # whose fluid ounces\n",
    },
}
SYSTEMS: dict[str, System] = {name: name for name in STARTERS}
"""130 g a large egg and 5 ml of flavour per kg are common practice; the prices are invented."""


def write_folder(folder: str, files: Mapping[str, str]) -> None:
    """Write files into a folder that is new or empty.

    Raises FileAccessError where something is in the way or cannot be written; then nothing is left.
    """
    target = Path(folder)
    try:
        made = _make(target)
        _fill(target, files, made=made)
    except OSError as error:
        raise FileAccessError(folder, error.strerror or str(error)) from error


def _make(target: Path) -> bool:
    """Return whether the folder had to be made."""
    if target.is_dir():
        if any(target.iterdir()):
            raise FileAccessError(str(target), "is not empty; name a new folder")
        return False
    if target.exists():
        raise FileAccessError(str(target), "is a file; name a new folder")
    if not target.parent.is_dir():
        raise FileAccessError(str(target.parent), "there is no such folder to put a new one into")
    target.mkdir()
    return True


def _fill(target: Path, files: Mapping[str, str], *, made: bool) -> None:
    written: list[Path] = []
    try:
        for name, text in files.items():
            path = target / name
            if not path.parent.is_dir():
                path.parent.mkdir()
                written.append(path.parent)
            written.append(path)
            path.write_text(text, "utf-8", newline="\n")
    except BaseException:
        for path in reversed(written):
            with contextlib.suppress(OSError):
                path.rmdir() if path.is_dir() else path.unlink()
        if made:
            shutil.rmtree(target, ignore_errors=True)
        raise
