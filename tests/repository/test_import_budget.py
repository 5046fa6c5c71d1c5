"""Help and version answer at once: they load none of the heavy libraries."""

from __future__ import annotations

import tomllib
from importlib.util import find_spec

import pytest

from eggfold.commands.root import SUMMARIES
from running import ROOT, run_python

HEAVY = {"pint", "pydantic", "pydantic_core", "ruamel", "numpy"}
OTHER_FORMATS = {
    f"eggfold.formats.{name}"
    for name in ("csv", "markdown", "html", "pdf", "drawing", "pdf_blocks")
}
RUN = """
import sys
from eggfold.__main__ import run
code = run(sys.argv[1:])
print(*sys.modules, sep="\\n", file=sys.stderr)
sys.exit(code)
"""


def loaded(*args: str) -> set[str]:
    """Return the top-level modules that an interpreter loads."""
    outcome = run_python("-X", "importtime", *args)
    assert outcome.exit == 0, outcome.stderr
    timed = [line for line in outcome.stderr.splitlines() if line.startswith("import time:")]
    return {line.rpartition("|")[2].strip().partition(".")[0] for line in timed}


def loaded_by(*args: str) -> set[str]:
    """Return the full names of the modules that are there when a run has ended."""
    outcome = run_python("-c", RUN, *args)
    assert outcome.exit == 0, outcome.stderr
    return set(outcome.stderr.splitlines())


@pytest.mark.parametrize("args", ["--help", "--version", *(f"{c} --help" for c in SUMMARIES)])
def test_help_loads_nothing_heavy(args: str) -> None:
    modules = loaded("-m", "eggfold", *args.split())
    assert "click" in modules
    assert not modules & HEAVY


def test_the_budget_sees_a_heavy_import() -> None:
    assert loaded("-c", "import eggfold.units") >= {"pint"}


def test_the_engine_needs_no_files() -> None:
    modules = loaded("-c", "import eggfold.engine.boil, eggfold.engine.properties")
    assert not modules & {"click", "pydantic", "ruamel"}


def test_the_command_is_the_module() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert project["scripts"] == {"eggfold": "eggfold.__main__:main"}


@pytest.mark.parametrize("args", [(), ("--why",), ("--output", "/dev/null", "--format", "text")])
def test_text_loads_no_other_format(args: tuple[str, ...]) -> None:
    modules = loaded_by("batch", "recipes/osierfen-caraway.yaml", *args)
    assert "eggfold.formats.plain_text" in modules
    assert not modules & OTHER_FORMATS
    assert not {name for name in modules if name.startswith("reportlab")}


def test_the_budget_sees_another_format() -> None:
    assert all(map(find_spec, OTHER_FORMATS))
    page = "batch", "recipes/osierfen-caraway.yaml", "--format", "pdf", "--output", "/dev/null"
    assert loaded_by(*page) >= {"eggfold.formats.pdf", "reportlab"}


def test_a_card_loads_no_plan() -> None:
    modules = loaded_by("batch", str(ROOT / "recipes" / "osierfen-caraway.yaml"))
    assert "eggfold.recipe.batch" in modules
    assert not [module for module in modules if module.startswith("eggfold.plan")]
