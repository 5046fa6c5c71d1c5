"""Plans written for a test, opened with the demo recipes beside them."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

from eggfold.load.load_plan import OpenPlan, open_campaign, open_rolling
from eggfold.load.workspace import Chosen
from running import RECIPES

if TYPE_CHECKING:
    from pathlib import Path

    from eggfold.load.plan import Campaign, RollingPlan

NAMES = ("Osierfen Caraway", "Osierfen Stillwater Fish", "Osierfen Millet", "Osierfen Weir")
MIXES = ("osierfen-caraway", "osierfen-stillwater-fish", "osierfen-millet", "osierfen-weir-us")


def lay_out(folder: Path) -> None:
    """Put the register and the recipes into a folder, and no other companion."""
    for name in ("additives", *MIXES):
        shutil.copy(RECIPES / f"{name}.yaml", folder)


def rolling_plan(folder: Path, text: str, bench: str = "") -> OpenPlan[RollingPlan]:
    """Open a rolling plan of this text; it must have no problem."""
    file = _written(folder, text, bench)
    opened = open_rolling(file, Chosen())
    assert not opened.problems
    assert not opened.findings.problems
    return opened


def stocked_plan(folder: Path, text: str, today: str, bench: str = "") -> OpenPlan[Campaign]:
    """Open a campaign of this text with the shelf beside it; neither may have a problem."""
    opened = open_campaign(_written(folder, text, bench), Chosen(stocked=True), today)
    assert not opened.problems
    assert not opened.findings.problems
    return opened


def campaign_plan(folder: Path, text: str, today: str, bench: str = "") -> OpenPlan[Campaign]:
    """Open a campaign of this text; it must have no problem."""
    file = _written(folder, text, bench)
    opened = open_campaign(file, Chosen(), today)
    assert not opened.problems
    assert not opened.findings.problems
    return opened


def _written(folder: Path, text: str, bench: str) -> str:
    (folder / "bench.yaml").unlink(missing_ok=True)
    if bench:
        (folder / "bench.yaml").write_text(bench, encoding="utf-8")
    file = folder / "plan.yaml"
    file.write_text(text, encoding="utf-8")
    return str(file)
