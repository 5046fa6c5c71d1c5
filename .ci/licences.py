"""Write docs/dependencies.md: the packages of .ci/lock.txt with the licences that they state.

What stands on the page from its own chapter on is kept as it is.
"""

from __future__ import annotations

import re
from importlib.metadata import PackageMetadata, metadata, requires
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

LOCK = Path(__file__).with_name("lock.txt")
PAGE = Path(__file__).parents[1] / "docs" / "dependencies.md"
OWN = "\n## "
PURPOSES = {
    None: "every run",
    "calendar": "`--format ics`",
    "pdf": "`--format pdf`",
    "test": "the tests",
    "docs": "the site",
    "lint": "the checks",
    "package": "the wheel",
}
"""The extras by which a package is wanted, in the order in which one is told of it."""

HEAD = """\
# Dependencies

What eggfold needs to run, and what its tests, checks and site need. The versions are those of
`.ci/lock.txt`. `bash .ci/lock` renews that file and writes this page.

| package | for | licence, as the package states it |
| --- | --- | --- |"""

TAIL = """
eggfold itself is [MIT](LICENCE.md). With it come the typeface of its PDF (Bitstream Vera, Arev, public domain)
and figures of the USDA (public domain). What is for the tests, the checks, the wheel or the site is neither in
the package nor installed with it. `iapws`, under the GPL, is for the tests alone: they compare with what it
computes, and nothing of eggfold imports it. `hypothesis`, for the tests, and `certifi` and `pathspec`, for the
site and the checks, are under the MPL 2.0.
"""


def locked_names() -> list[str]:
    """Return the packages of the lock, as it spells them."""
    lines = LOCK.read_text("utf-8").splitlines()
    return [line.partition("==")[0] for line in lines if line and not line.startswith("#")]


def wanted_by(extra: str | None) -> set[str]:
    """Return everything that eggfold installs with an extra, what that needs included."""
    found: set[str] = set()
    waiting = [("eggfold", extra)]
    while waiting:
        name, with_extra = waiting.pop()
        for text in requires(name) or ():
            need = Requirement(text)
            if need.marker and not need.marker.evaluate({"extra": with_extra or ""}):
                continue
            key = canonicalize_name(need.name)
            if key == "eggfold":
                waiting += [("eggfold", one) for one in need.extras]
            elif key not in found:
                found.add(key)
                waiting.append((need.name, None))
    return found


def licence_of(about: PackageMetadata) -> str:
    """Return a licence in a few words: the expression, the line, else the classifiers."""
    line = (about["License"] or "").strip()
    if expression := about["License-Expression"]:
        return str(expression)
    if line and len(line) < 40 and "\n" not in line:
        return line
    classes = [c for c in about.get_all("Classifier") or () if c.startswith("License ::")]
    return " or ".join(re.sub(r".* :: ", "", c) for c in classes)


def main() -> None:
    """Write the page."""
    by = {extra: wanted_by(extra) for extra in PURPOSES}
    lines = [HEAD]
    for name in locked_names():
        key = canonicalize_name(name)
        purpose = next(text for extra, text in PURPOSES.items() if key in by[extra])
        lines.append(f"| {name} | {purpose} | {licence_of(metadata(name))} |")
    _, mark, own = PAGE.read_text("utf-8").partition(OWN)
    PAGE.write_text("\n".join([*lines, TAIL]) + mark + own, "utf-8")


if __name__ == "__main__":
    main()
