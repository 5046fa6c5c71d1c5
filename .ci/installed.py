"""Run eggfold as a wheel without extras brings it: all that it reads is there, the rest is named."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tempfile
from importlib.util import find_spec
from pathlib import Path

RECIPES = Path(__file__).resolve().parents[1] / "recipes"
PROGRAM = Path(sys.executable).with_name("eggfold")
SIX = ("recipes/osierfen-caraway.yaml", "--as", "freebie", "--eggs", "6")
DEMO = (
    ("batch", *SIX),
    ("shopping", "recipes", "--as", "freebie", "--eggs", "24"),
    ("doses", "recipes"),
    ("boil",),
    ("buoyancy", "--core", "12mm", "--skin", "2mm"),
    ("powder", "recipes/osierfen-millet.yaml"),
    ("rolling", "recipes/weekend.yaml"),
    ("campaign", "recipes/season.yaml", "--date", "2026-01-01"),
    ("shelf", "recipes"),
    ("labels", *SIX),
    ("check", "recipes"),
    ("schema", "recipe"),
)
EXTRAS = (
    ("pdf", "batch", *SIX, "--format", "pdf", "--output", "card.pdf"),
    ("calendar", "rolling", "recipes/weekend.yaml", "--format", "ics"),
)
INSIDE = (
    "kitchen_units.txt",
    "py.typed",
    "formats/page.css",
    "formats/fonts/DejaVuSansCondensed.ttf",
    "formats/fonts/LICENCE.txt",
    "starter/trial.yaml",
)


def run(folder: Path, *args: str, code: int = 0) -> subprocess.CompletedProcess[str]:
    """Run the installed command in a folder."""
    done = subprocess.run(
        [PROGRAM, *args], cwd=folder, capture_output=True, text=True, encoding="utf-8", check=False
    )
    assert done.returncode == code, (args, done.returncode, done.stderr)
    return done


def check_files() -> None:
    """See that everything the package reads came with it, from where it is installed."""
    spec = find_spec("eggfold")
    assert spec
    assert spec.origin
    package = Path(spec.origin).parent
    assert Path(sys.prefix) in package.parents, package
    missing = [name for name in INSIDE if not (package / name).is_file()]
    assert not missing, missing


def check_commands(folder: Path) -> None:
    """Run every command of the demo, and the starter's own next step."""
    for args in DEMO:
        assert run(folder, *args).stdout, args
    page = run(folder, "batch", *SIX, "--format", "html").stdout
    assert "@page" in page, "the style sheet is not in the page"
    told = run(folder, "new", "bait").stdout.splitlines()[-1]
    card = json.loads(run(folder, *told.split()[3:], "--format", "json").stdout)
    assert card["batches"][0]["doses"], told


def check_extras(folder: Path) -> None:
    """See that a library which is not there is named with the line that installs it."""
    for extra, *args in EXTRAS:
        told = run(folder, *args, code=2).stderr
        assert f"python -m pip install 'eggfold[{extra}]'" in told, told


def main() -> None:
    """Check all of it in a folder of its own."""
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        shutil.copytree(RECIPES, folder / "recipes")
        check_files()
        check_commands(folder)
        check_extras(folder)
    print(f"installed: {len(DEMO) + 3} commands run, {len(EXTRAS)} missing extras named")


if __name__ == "__main__":
    main()
