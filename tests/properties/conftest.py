"""What several properties begin with."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from plan_files import lay_out

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Lay out the register and the recipes, for plans to be written beside them."""
    folder = tmp_path_factory.mktemp("plans")
    lay_out(folder)
    return folder
