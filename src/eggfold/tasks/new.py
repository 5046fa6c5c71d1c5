"""``new`` and ``schema``: a starter folder, files that work at once, in the user's units and eggs."""

from __future__ import annotations

import json
import shlex
from datetime import date, timedelta
from pathlib import Path
from string import Template

from eggfold.edit.starter import STARTERS, SYSTEMS, System, write_folder
from eggfold.load.schemas import KINDS, build_schema
from eggfold.recipe.asked import AskedEgg
from eggfold.tasks.asked import Given, egg_option
from eggfold.tasks.delivery import print_json
from eggfold.tasks.surroundings import show, today

TEMPLATES = Path(__file__).parent.parent / "starter"
SCHEMAS = ".schemas"
"""Where the editor finds the schemas, beside the files that name them."""


def run_new(given: Given) -> int:
    """Make the folder and say what to type next; return the exit code."""
    system, place = SYSTEMS[given["units"]], Path(given["folder"])
    files = build_starter(system, egg_option(given["egg"]) or own_egg(system), today())
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


def build_starter(system: System, egg: AskedEgg, day: str) -> dict[str, str]:
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
