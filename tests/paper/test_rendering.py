"""PDFs as a printer would see them: rendered by poppler, nothing cut off, black on white."""

from __future__ import annotations

import os
import shutil
import subprocess
from typing import TYPE_CHECKING

import pytest

from paper.reading import write
from paper.sample import demo_cards, every_block

if TYPE_CHECKING:
    from pathlib import Path

DOTS_PER_INCH = 50
MARGIN_DOTS = 12
"""Less than the 9 mm that the sheets leave free."""


@pytest.fixture
def renderer() -> str:
    program = shutil.which("pdftoppm")
    if program is None:
        if os.environ.get("CI"):
            pytest.fail("pdftoppm is not installed, and .ci/run installs it")
        pytest.skip("pdftoppm is not installed (Debian: apt install poppler-utils)")
    return program


def grey_sheets(renderer: str, body: bytes, folder: Path) -> list[tuple[int, int, bytes]]:
    """Return the width, the height and the grey of every dot of each sheet."""
    file = folder / "page.pdf"
    file.write_bytes(body)
    command = [renderer, "-r", str(DOTS_PER_INCH), "-gray", str(file), str(folder / "sheet")]
    done = subprocess.run(command, capture_output=True, check=True)
    assert done.stderr == b""
    return [read_pgm(path) for path in sorted(folder.glob("sheet*.pgm"))]


def read_pgm(path: Path) -> tuple[int, int, bytes]:
    kind, size, most, dots = path.read_bytes().split(b"\n", 3)
    assert (kind, most) == (b"P5", b"255")
    width, height = map(int, size.split())
    return width, height, dots


@pytest.mark.parametrize("paper", [None, "a4", "letter"])
def test_sheets_have_ink_inside_their_margins_only(
    renderer: str, tmp_path: Path, paper: str | None
) -> None:
    body = write("pdf", *demo_cards(), every_block("W" * 200), paper=paper).body
    assert isinstance(body, bytes)
    sheets = grey_sheets(renderer, body, tmp_path)
    assert len(sheets) > 5
    for width, height, dots in sheets:
        rows = [dots[y * width : (y + 1) * width] for y in range(height)]
        inside = rows[MARGIN_DOTS : height - MARGIN_DOTS]
        assert min(min(row) for row in inside) < 80
        assert all(min(row) > 250 for row in rows[:MARGIN_DOTS] + rows[height - MARGIN_DOTS :])
        assert all(min(row[:MARGIN_DOTS] + row[width - MARGIN_DOTS :]) > 250 for row in inside)
