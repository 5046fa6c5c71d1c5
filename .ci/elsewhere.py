"""Run every command of the README's table where people run them: offline, in the C locale, as a stranger.

Takes an environment that has the wheel alone, and leaves it without the C reader of YAML. A place that
this machine cannot make is named with the reason.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

from installed import DEMO, PROGRAM, RECIPES

Prefix = tuple[str, ...]
MALT = ("Malt syrup", "450g", "--price", "3.60", "--shelf", "recipes/shelf.yaml")
COMMANDS = (
    *DEMO,
    ("trials", "recipes/osierfen-caraway.yaml", "recipes/osierfen-millet.yaml"),
    ("note", "bought", *MALT, "--date", "2026-01-01"),
    ("new", "bait"),
)
NOTEBOOK = (
    "fished:\n  - {date: 2025-11-15, recipe: Osierfen Caraway, rods: 3, hours: 8, takes: 2}\n"
)
NOBODY = "65534"
UNINSTALL = (sys.executable, "-m", "pip", "uninstall", "-qq", "-y", "ruamel.yaml.clib")


class Place(NamedTuple):
    """A way to run the program, by the first prefix that works here, and what cannot be done there."""

    name: str
    prefixes: tuple[Prefix, ...] = ((),)
    gives: tuple[str, ...] = ()
    takes: Prefix = ()
    writable: bool = True
    refused: tuple[str, ...] = ()
    told: tuple[int, str] = (0, "")
    """How a refused command ends, and what its sentence says."""
    before: Prefix = ()
    """What makes the place."""
    ascii: bool = False
    """Whether it shows ASCII alone; else all that is answered is as usual."""


PLACES = (
    Place("as it is"),
    Place("no network", (("unshare", "--net"), ("unshare", "--map-root-user", "--net"))),
    Place(
        "no time zones",
        gives=("PYTHONTZPATH=",),
        refused=("rolling", "campaign", "check"),
        told=(1, "this system has no time zones"),
    ),
    Place(
        "C locale",
        gives=("LC_ALL=C", "PYTHONUTF8=0", "PYTHONCOERCECLOCALE=0"),
        ascii=True,
    ),
    Place(
        "another user, a read-only folder, no HOME",
        (
            ("setpriv", f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups"),
            ("unshare", "--user", f"--map-user={NOBODY}", f"--map-group={NOBODY}"),
        ),
        takes=("HOME", "XDG_STATE_HOME"),
        writable=False,
        refused=("new", "note"),
        told=(4, "denied"),
    ),
    Place("no C reader", before=UNINSTALL),
)


def prefix_of(place: Place) -> Prefix | None:
    """Return the first prefix under which this Python runs, None where none does."""
    for prefix in place.prefixes:
        try:
            subprocess.run([*prefix, sys.executable, "-c", ""], capture_output=True, check=True)
        except (OSError, subprocess.CalledProcessError):
            continue
        return prefix
    return None


def answers(place: Place, prefix: Prefix) -> dict[str, bytes]:
    """Run every command in a place; what cannot be answered must be told in a sentence."""
    environment = (
        os.environ
        | {"SOURCE_DATE_EPOCH": "1767225600", "COLUMNS": "80"}
        | dict(one.split("=") for one in place.gives)
    )
    for name in place.takes:
        environment.pop(name, None)
    found = {}
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        shutil.copytree(RECIPES, folder / "recipes")
        (folder / "recipes" / "notebook.yaml").write_text(NOTEBOOK, encoding="utf-8")
        for inner in (folder / "recipes", folder):
            inner.chmod(0o755 if place.writable else 0o555)
        for args in COMMANDS:
            done = subprocess.run(
                [*prefix, PROGRAM, *args],
                cwd=folder,
                env=environment,
                capture_output=True,
                check=False,
            )
            code, told = place.told if args[0] in place.refused else (0, "")
            where = (place.name, args, done.returncode, done.stderr)
            assert done.returncode == code, where
            assert told in (done.stdout + done.stderr).decode(), where
            assert b"Traceback" not in done.stderr, where
            assert code or done.stdout, where
            found[args[0]] = done.stdout
    return found


def main() -> None:
    """See that each place answers as the first does, but for what it cannot have."""
    table = (RECIPES.parent / "README.md").read_text("utf-8")
    named = set(re.findall(r"^\| `(\w+)` \|", table, re.MULTILINE))
    assert {args[0] for args in COMMANDS} == named, named
    usual: dict[str, bytes] = {}
    for place in PLACES:
        prefix = prefix_of(place)
        if prefix is None:
            print(f"elsewhere: skipped: {place.name}: {place.prefixes[0][0]} is not allowed here")
            continue
        if place.before:
            subprocess.run(place.before, check=True)
        found = answers(place, prefix)
        usual = usual or found
        if place.ascii:
            assert b"".join(found.values()).isascii()
        else:
            different = {name for name in usual if found[name] != usual[name]} - {*place.refused}
            assert not different, (place.name, different)
        print(f"elsewhere: {place.name}: {len(COMMANDS)} commands")


if __name__ == "__main__":
    main()
