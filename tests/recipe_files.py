"""Recipes opened for a test, with the companions beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.load.workspace import Chosen, open_workspace

if TYPE_CHECKING:
    from pathlib import Path

    from eggfold.load.load_recipe import OpenRecipe


def recipes_of(*places: Path | str) -> list[OpenRecipe]:
    """Return the recipes among some files and folders, with errors or without."""
    return open_workspace(map(str, places), Chosen()).recipes()[0]
