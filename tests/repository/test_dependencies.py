"""What CI installs is locked, and each package's licence is told."""

from __future__ import annotations

import re
import tomllib

from packaging.licenses import canonicalize_license_expression
from packaging.requirements import Requirement

from running import ROOT

LOCK = (ROOT / ".ci" / "lock.txt").read_text("utf-8")
PAGE = (ROOT / "docs" / "dependencies.md").read_text("utf-8")
LOCKED = dict(re.findall(r"^([\w.-]+)==(\S+)$", LOCK, re.MULTILINE))
ROW = re.compile(r"^\| (\S+) \| (.+) \| (.*) \|$", re.MULTILINE)
ROWS = ROW.findall(PAGE.partition("| --- |")[2])
TOLD = {name: licence for name, _, licence in ROWS}
FOR_USERS = ("every run", "`--format pdf`", "`--format ics`")
LICENCE = (ROOT / "docs" / "LICENCE.md").read_text("utf-8")
FONTS = (ROOT / "src" / "eggfold" / "formats" / "fonts" / "LICENCE.txt").read_text("utf-8")


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


def test_nothing_under_a_copyleft_is_installed_with_it() -> None:
    names = [
        name for name, purpose, told in ROWS if re.search(r"GPL|MPL|Mozilla", told, re.IGNORECASE)
    ]
    for_users = [name for name, purpose, _ in ROWS if purpose in FOR_USERS]
    assert "iapws" in names
    assert len(for_users) > 5
    assert not set(names) & set(for_users)
    # docutils may be taken under its BSD licence
    assert all(
        f"`{name}`" in PAGE.partition("eggfold itself")[2] for name in names if name != "docutils"
    )


def test_the_licence_names_everything_that_lies_in_the_package() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    told = project["license"].split(" AND ")
    assert canonicalize_license_expression(project["license"]) == project["license"]
    assert told == ["MIT", "Bitstream-Vera", "LicenseRef-Arev", "LicenseRef-Public-Domain"]
    for word in ("MIT License", "Bitstream Vera", "Arev", "public domain", "USDA"):
        assert word in LICENCE
    # as the typeface itself says it
    for word in ("Bitstream Vera", "Arev", "DejaVu changes are in public domain"):
        assert word in FONTS
    assert all((ROOT / file).exists() for file in project["license-files"])
