"""Plans written for a test, opened with the demo recipes beside them."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

from eggfold.load.load_plan import OpenPlan, open_campaign, open_rolling
from eggfold.load.workspace import Workspace
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
    workspace = Workspace(())
    opened = open_rolling(file, workspace)
    assert not opened.problems
    assert not workspace.problems
    return opened


def stocked_plan(folder: Path, text: str, today: str, bench: str = "") -> OpenPlan[Campaign]:
    """Open a campaign of this text with the shelf beside it; neither may have a problem."""
    workspace = Workspace((), stocked=True)
    opened = open_campaign(_written(folder, text, bench), workspace, today)
    assert not opened.problems
    assert not workspace.problems
    return opened


def campaign_plan(folder: Path, text: str, today: str, bench: str = "") -> OpenPlan[Campaign]:
    """Open a campaign of this text; it must have no problem."""
    file = _written(folder, text, bench)
    workspace = Workspace(())
    opened = open_campaign(file, workspace, today)
    assert not opened.problems
    assert not workspace.problems
    return opened


def _written(folder: Path, text: str, bench: str) -> str:
    (folder / "bench.yaml").unlink(missing_ok=True)
    if bench:
        (folder / "bench.yaml").write_text(bench, encoding="utf-8")
    file = folder / "plan.yaml"
    file.write_text(text, encoding="utf-8")
    return str(file)
