"""The pictures in ``docs/pictures`` are what the program prints; ``--update-golden`` remakes them."""

from __future__ import annotations

from pathlib import Path

import pytest

from running import ROOT, run_python

FOLDER = ROOT / "docs" / "pictures"
LARGEST_BYTES = 100_000


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
    assert drawings(FOLDER)
    assert drawings(made) == drawings(FOLDER)


def test_sheets_are_as_large_as_the_program_makes_them(made: Path) -> None:
    sheets = {path.name: size_of(path) for path in FOLDER.glob("*.png")}
    assert sheets
    assert {path.name: size_of(path) for path in made.glob("*.png")} == sheets


def test_pictures_are_small() -> None:
    for path in FOLDER.glob("*.[ps][nv]g"):
        assert path.stat().st_size < LARGEST_BYTES, path.name
