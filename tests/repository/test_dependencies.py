"""What CI installs is locked, and each package's licence is told."""

from __future__ import annotations

import re
import tomllib

from packaging.requirements import Requirement

from running import ROOT

LOCK = (ROOT / ".ci" / "lock.txt").read_text("utf-8")
PAGE = (ROOT / "docs" / "dependencies.md").read_text("utf-8")
LOCKED = dict(re.findall(r"^([\w.-]+)==(\S+)$", LOCK, re.MULTILINE))
ROW = re.compile(r"^\| (\S+) \| .+ \| (.*) \|$", re.MULTILINE)
TOLD = dict(ROW.findall(PAGE.partition("| --- |")[2]))


def folded(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def wanted() -> list[Requirement]:
    """Return what the project asks for, in any extra that CI installs."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    extras = [one for name, one in project["optional-dependencies"].items() if name != "fuzz"]
    lines = [*project["dependencies"], *(line for extra in extras for line in extra)]
    return [one for one in map(Requirement, lines) if one.name != "eggfold"]


def test_the_lock_holds_what_the_project_asks_for() -> None:
    locked = {folded(name): version for name, version in LOCKED.items()}
    assert len(LOCKED) == len(LOCK.splitlines())
    missing = [str(one) for one in wanted() if folded(one.name) not in locked]
    assert not missing, f"bash .ci/lock: {missing}"
    refused = [str(one) for one in wanted() if locked[folded(one.name)] not in one.specifier]
    assert not refused, f"bash .ci/lock: {refused}"


def test_the_page_tells_the_licence_of_every_locked_package() -> None:
    assert TOLD.keys() == LOCKED.keys()
    assert all(TOLD.values())
