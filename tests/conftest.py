"""Options and profiles of the whole test run."""

from __future__ import annotations

import os
from tempfile import mkdtemp
from typing import TYPE_CHECKING

from hypothesis import Phase, settings

if TYPE_CHECKING:
    import pytest

settings.register_profile("dev", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True, print_blob=True)
settings.register_profile(  # a fault need only be seen, not made small
    "mutants",
    settings.get_profile("ci"),
    phases=(Phase.explicit, Phase.generate),
    report_multiple_bugs=False,
)
settings.load_profile("ci" if os.environ.get("CI") else "dev")


os.environ["XDG_STATE_HOME"] = mkdtemp(prefix="eggfold-state-")  # never the user's own


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write what the program prints now into tests/golden",
    )
