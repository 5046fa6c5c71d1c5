"""The pictures in ``docs/pictures`` are what the program prints; ``--update-golden`` remakes them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from running import ROOT, run_python

FOLDER = ROOT / "docs" / "pictures"
LARGEST_BYTES = 100_000
LAST_DIGIT = 0.1
"""Pythons add up floats differently, so that a place on a drawing may round to the tenth beside it."""
NUMBER = re.compile(r"[0-9]+\.[0-9]+")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory, request: pytest.FixtureRequest) -> Path:
    """Make every picture, where asked in their own folder."""
    update = request.config.getoption("--update-golden")
    folder = FOLDER if update else tmp_path_factory.mktemp("pictures")
    outcome = run_python(str(FOLDER / "make.py"), str(folder))
    assert outcome.exit == 0, outcome.stderr
    return folder


def drawings(folder: Path) -> dict[str, str]:
    return {path.name: path.read_text("utf-8") for path in folder.glob("*.svg")}


def size_of(png: Path) -> bytes:
    """Return width and height as a PNG's header holds them; its other bytes vary by renderer."""
    return png.read_bytes()[16:24]


def test_drawings_are_those_of_the_program(made: Path) -> None:
    kept, fresh = drawings(FOLDER), drawings(made)
    assert kept
    assert fresh.keys() == kept.keys()
    for name, drawing in kept.items():
        assert NUMBER.sub("0.0", fresh[name]) == NUMBER.sub("0.0", drawing), name
        places = [float(number) for number in NUMBER.findall(drawing)]
        assert [float(n) for n in NUMBER.findall(fresh[name])] == pytest.approx(
            places, abs=LAST_DIGIT * 1.01
        )


def test_sheets_are_as_large_as_the_program_makes_them(made: Path) -> None:
    sheets = {path.name: size_of(path) for path in FOLDER.glob("*.png")}
    assert sheets
    assert {path.name: size_of(path) for path in made.glob("*.png")} == sheets


def test_pictures_are_small() -> None:
    for path in FOLDER.glob("*.[ps][nv]g"):
        assert path.stat().st_size < LARGEST_BYTES, path.name
