"""Make the pictures of this folder from what the program prints.

    python docs/pictures/make.py [FOLDER]

Run it in the folder above ``docs`` with the package and its extra pdf installed. The drawings are
those of the HTML pages; the card is a sheet of the PDF, drawn by pdftoppm (Debian: poppler-utils).
Without FOLDER the pictures land beside this file.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image

ROOT = Path(__file__).resolve().parents[2]
DAY = "2026-01-01"

DRAWINGS = {
    "buoyancy": "buoyancy --core 10mm --skin 3mm --hook 0.3g",
    "rolling": "rolling recipes/weekend.yaml",
    "freezer": "campaign recipes/season.yaml",
}
"""Each drawing, and the command whose first drawing it is."""

SHEETS = {
    "card": "batch recipes/osierfen-caraway.yaml --as freebie --eggs 6 --paper a5",
}
"""Each sheet, and the command whose first sheet it is."""

DOTS_PER_INCH = 168
GREYS = 8
"""Enough for black type on white paper, in a third of the bytes."""


def run_eggfold(command: str) -> bytes:
    """Return what a command prints."""
    typed = [sys.executable, "-m", "eggfold", *command.split(), "--date", DAY]
    return subprocess.run(typed, cwd=ROOT, stdout=subprocess.PIPE, check=True).stdout  # noqa: S603


def drawing_of(command: str) -> str:
    """Return a command's first drawing as a file of its own, with the page's style inside."""
    page = run_eggfold(f"{command} --format html").decode()
    drawing = re.search(r"<svg .*?</svg>", page, re.DOTALL)
    if drawing is None:
        sys.exit(f"no drawing in: eggfold {command}")
    style = " ".join(re.findall(r"^svg [a-z.].*}$", page, re.MULTILINE))
    opened = '<svg xmlns="http://www.w3.org/2000/svg" width="780" style="background: #fff"'
    alone = drawing[0].replace("<svg", opened, 1)
    return alone.replace("</desc>", f"</desc><style>{style}</style>", 1) + "\n"


def write_sheet(command: str, stem: Path) -> None:
    """Write a command's first sheet of PDF as a picture."""
    with tempfile.TemporaryDirectory() as folder:
        pdf = Path(folder) / "sheet.pdf"
        pdf.write_bytes(run_eggfold(f"{command} --format pdf"))
        options = ["-gray", "-singlefile", "-r", str(DOTS_PER_INCH)]
        sheet = pdf.with_suffix("")
        subprocess.run(["pdftoppm", *options, str(pdf), str(sheet)], check=True)  # noqa: S603, S607
        with Image.open(sheet.with_suffix(".pgm")) as drawn:
            drawn.quantize(GREYS).save(stem.with_suffix(".png"), optimize=True)


def main() -> None:
    """Write every picture."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent
    for name, command in DRAWINGS.items():
        (folder / f"{name}.svg").write_text(drawing_of(command), encoding="utf-8")
    for name, command in SHEETS.items():
        write_sheet(command, folder / name)


if __name__ == "__main__":
    main()
