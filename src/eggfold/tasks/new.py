"""``new`` and ``schema``: a starter folder, files that work at once, in the user's units and eggs."""

from __future__ import annotations

import contextlib
import json
import shlex
import shutil
from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path
from string import Template
from typing import Literal

from eggfold.errors import FileAccessError
from eggfold.load.schemas import KINDS, build_schema
from eggfold.recipe.asked import AskedEgg
from eggfold.tasks.asked import Given, egg_option
from eggfold.tasks.delivery import print_json
from eggfold.tasks.surroundings import show, today

System = Literal["metric", "imperial", "us"]

_POUNDS = {
    "bag": "4.6 oz",
    "flavour_egg": "0.1 tsp per egg",
    "flavour_mix": "0.5 tsp per lb mix",
    "ceiling": "1 tsp per lb mix",
    "syrup_egg": "0.15 oz per egg",
    "syrup_mix": "0.6 oz per lb mix",
    "readings": "# The cards say in g and ml what to read on a tool: set the scale to g.\n",
    "bowl": "11 lb",
    "tray": "length: 24 in, width: 16 in",
    "altitude": "800 ft",
    "mix_left": "5.5 lb",
    "mix_pack": "11 lb",
    "weekend_bait": "9 lb",
    "trip_bait": "6 lb",
}

STARTERS: dict[System, dict[str, str]] = {
    "metric": {
        "bag": "130 g",
        "flavour_egg": "0.5 ml per egg",
        "flavour_mix": "5 ml per kg mix",
        "ceiling": "10 ml per kg mix",
        "syrup_egg": "4 g per egg",
        "syrup_mix": "40 g per kg mix",
        "measures": "",
        "readings": "",
        "bowl": "5 kg",
        "pan": "5 l",
        "tray": "length: 60 cm, width: 40 cm",
        "altitude": "250 m",
        "currency": "EUR",
        "mix_price": "24",
        "mix_left": "2.5 kg",
        "mix_pack": "5 kg",
        "weekend_bait": "4 kg",
        "trip_bait": "3 kg",
        "whose_packs": "",
    },
    "imperial": {
        **_POUNDS,
        "measures": "measures: imperial        # whose spoons, cups and pints\n",
        "pan": "5 l",
        "currency": "GBP",
        "mix_price": "22",
        "whose_packs": "",
    },
    "us": {
        **_POUNDS,
        "measures": "measures: us              # whose spoons, cups and pints\n",
        "pan": "5 l                   # a little over 5 quarts",
        "currency": "USD",
        "mix_price": "26",
        "whose_packs": "measures: us              # whose fluid ounces\n",
    },
}
SYSTEMS: dict[str, System] = {name: name for name in STARTERS}
"""130 g a large egg and 5 ml of flavour per kg are common practice; the prices are invented."""


def write_folder(folder: str, files: Mapping[str, str]) -> None:
    """Write files into a folder that is new or empty.

    Raises FileAccessError where something is in the way or cannot be written; then nothing is left.
    """
    target = Path(folder)
    try:
        made = _make(target)
        _fill(target, files, made=made)
    except OSError as error:
        raise FileAccessError(folder, error.strerror or str(error)) from error


def _make(target: Path) -> bool:
    """Return whether the folder had to be made."""
    if target.is_dir():
        if any(target.iterdir()):
            raise FileAccessError(str(target), "is not empty; name a new folder")
        return False
    if target.exists():
        raise FileAccessError(str(target), "is a file; name a new folder")
    if not target.parent.is_dir():
        raise FileAccessError(str(target.parent), "there is no such folder to put a new one into")
    target.mkdir()
    return True


def _fill(target: Path, files: Mapping[str, str], *, made: bool) -> None:
    written: list[Path] = []
    try:
        for name, text in files.items():
            path = target / name
            if not path.parent.is_dir():
                path.parent.mkdir()
                written.append(path.parent)
            written.append(path)
            path.write_text(text, "utf-8", newline="\n")
    except BaseException:
        for path in reversed(written):
            with contextlib.suppress(OSError):
                path.rmdir() if path.is_dir() else path.unlink()
        if made:
            shutil.rmtree(target, ignore_errors=True)
        raise


TEMPLATES = Path(__file__).parent.parent / "starter"
SCHEMAS = ".schemas"
"""Where the editor finds the schemas, beside the files that name them."""


def run_new(given: Given) -> int:
    """Make the folder and say what to type next; return the exit code."""
    system, place = SYSTEMS[given["units"]], Path(given["folder"])
    files = _build_starter(system, egg_option(given["egg"]) or own_egg(system), today())
    write_folder(given["folder"], files)
    shown = "" if given["units"] == "metric" else f" --units {given['units']}"
    lines = [
        *(str(place / name) for name in files if name.endswith(".yaml")),
        "",
        "Edit three lines first, to your own:",
        f"  {_line_of(files, 'trial.yaml', 'count: ')}  how many eggs you broke",
        f"  {_line_of(files, 'trial.yaml', 'amount: ')}  what they took out of the bag",
        f"  {_line_of(files, 'additives.yaml', 'hookbait: ')}  the dose on your bottle",
        f"Now type: eggfold batch {shlex.quote(str(place / 'trial'))}{shown}",
    ]
    show("".join(f"{line}\n" for line in lines))
    return 0


def run_schema(given: Given) -> int:
    """Print the schema of a kind of file; return the exit code."""
    print_json(build_schema(given["kind"]))
    return 0


def _line_of(files: dict[str, str], name: str, key: str) -> str:
    """Return where a key stands first, and its line."""
    lines = files[name].splitlines()
    at = next(i for i, line in enumerate(lines) if line.lstrip().startswith(key))
    return f"{name}:{at + 1}  {lines[at].partition('#')[0].strip()}"


def _build_starter(system: System, egg: AskedEgg, day: str) -> dict[str, str]:
    """Return the files of a starter folder by name, and the schemas that they name."""
    values = {**STARTERS[system], **_egg_values(system, egg), **_days(day)}
    files = {
        path.name: Template(path.read_text("utf-8")).substitute(values)
        for path in sorted(TEMPLATES.glob("*.yaml"))
    }
    for kind in KINDS:
        files[f"{SCHEMAS}/{kind}.json"] = json.dumps(build_schema(kind), indent=2) + "\n"
    return files


def _days(day: str) -> dict[str, str]:
    """Return a Saturday to roll on, a week away at least, and the Fridays of two trips after it."""
    first = date.fromisoformat(day) + timedelta(days=7)
    saturday = first + timedelta(days=(5 - first.weekday()) % 7)
    ahead = {"saturday": 0, "first_trip": 13, "second_trip": 34}
    return {name: str(saturday + timedelta(days=days)) for name, days in ahead.items()}


def own_egg(system: System) -> AskedEgg:
    """Return the eggs of a system's country."""
    return AskedEgg("us" if system == "us" else "eu", "large")


def _egg_values(system: System, egg: AskedEgg) -> dict[str, str]:
    standard = egg.standard or str(own_egg(system).standard)
    if egg.each_g is not None:
        lines = [_line(f"  liquid: {egg.each_g:g} g", "one egg without its shell")]
        name = f"eggs of {egg.each_g:.1f} g shelled"
    else:
        lines = [
            _line(f"  grade: {egg.grade}", "or weigh one without its shell: liquid: 52 g"),
            _line(f"  standard: {egg.standard}", "eu or us: their sizes differ"),
        ]
        name = f"{standard.upper()} {egg.grade} eggs"
    return {"egg": "\n".join(lines), "eggs": name}


def _line(entry: str, comment: str) -> str:
    return f"{entry:<26}# {comment}"
