"""A recipe joined with the register: every additive with all its keys, and what is still missing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any, Literal

from eggfold.amounts import Amount, DoseText, Measures
from eggfold.errors import Problem
from eggfold.load.additives import (
    DOSE_KEYS,
    AdditiveEntry,
    AdditiveKeys,
    Analysis,
    Form,
    Register,
    density_problem,
    measure_problems,
    needs_density,
    wetting_problem,
)
from eggfold.load.reading import NodePath, Placed, Reading
from eggfold.load.recipe import STRENGTHS, Mix, Recipe, Strength
from eggfold.nearest import did_you_mean, fold
from eggfold.records import NamedTuple


class FullAdditive(NamedTuple):
    """An additive with the register's keys and the recipe's over them."""

    name: str
    form: Form
    carrier: str | None
    density: Amount | None
    wetting: float
    hookbait: DoseText | None
    freebie: DoseText | None
    ceiling: DoseText | None
    contains: tuple[str, ...] | None
    analysis: Analysis | None
    soak: DoseText | None
    soak_time: Amount | None


class RegisterIndex(NamedTuple):
    """The register by folded name, and the names of which nothing could be read."""

    file: str | None = None
    entries: Mapping[str, tuple[str, AdditiveKeys]] = MappingProxyType({})
    measures: Measures | None = None
    broken: frozenset[str] = frozenset()
    placed: Placed | None = None

    def find(self, name: str) -> tuple[str, AdditiveKeys] | None:
        """Return the register's own spelling and keys of a name."""
        return self.entries.get(fold(name))

    def names(self) -> list[str]:
        """Return every name as the register spells it."""
        return [name for name, _ in self.entries.values()]


def index_register(placed: Placed, reading: Reading[Register]) -> RegisterIndex:
    """Return a register by folded name, remembering the entries that could not be read."""
    register = reading.model
    entries = {fold(name): (name, keys) for name, keys in register.additives.items()}
    bad = frozenset(fold(str(path[1])) for path in reading.broken if len(path) > 1)
    return RegisterIndex(placed.source.file, entries, register.measures, bad, placed)


def full_additive(name: str, *stated: tuple[AdditiveKeys, Measures | None]) -> FullAdditive:
    """Return an additive's keys as files state them, each with whose spoons it means, the last over the first."""
    keys: dict[str, Any] = dict.fromkeys(FullAdditive._fields) | {"wetting": 1.0}
    for own, measures in stated:
        keys |= {
            key: value._replace(measures=measures) if isinstance(value, DoseText) else value
            for key, value in own
            if value is not None
        }
    return FullAdditive(**keys | {"name": name})


def join_soak(
    recipe: Recipe, placed: Placed, register: RegisterIndex
) -> tuple[list[FullAdditive], list[Problem]]:
    """Return what finished bait is soaked in, in full, and the problems of what is not whole."""
    full, problems = join_additives(recipe, placed, register, "soak")
    at = {fold(entry.name): i for i, entry in enumerate(recipe.soak)}
    for a in full:
        if a.soak is None and a.name != SPARE_NAME:
            message = f"'{a.name}' has no dose of finished bait"
            path: NodePath = ("soak", at[fold(a.name)])
            problems.append(
                placed.problem(path, "no-soak-dose", message, "soak: 30 ml per kg bait")
            )
    return [a for a in full if a.soak], problems


def join_additives(
    recipe: Recipe,
    placed: Placed,
    register: RegisterIndex,
    key: Literal["additives", "soak"] = "additives",
) -> tuple[list[FullAdditive], list[Problem]]:
    """Return the additives of a recipe's list in full, and the problems of those that are not whole."""
    full: list[FullAdditive] = []
    problems: list[Problem] = []
    seen: set[str] = set()
    for i, entry in enumerate(getattr(recipe, key)):
        path: NodePath = (key, i)
        joined, wrong = _join(recipe, placed, register, path, entry)
        if fold(entry.name) in seen and entry.name != SPARE_NAME:
            message = f"'{entry.name}' is dosed twice in this recipe"
            wrong.append(placed.problem(path, "same-name", message, "keep one of them"))
        seen.add(fold(entry.name))
        problems += wrong + _misplaced(placed, path, entry)
        if joined:
            full.append(joined)
    return full, problems


_ELSEWHERE = {
    "additives": (("soak", "soak_time"), "is of finished bait", "list it under soak"),
    "soak": (
        ("hookbait", "freebie", "ceiling", "wetting", "analysis"),
        "is of what goes into the bowl",
        "move it to additives, or leave it out",
    ),
}
"""Keys of an additive that belong into the other list."""


def _misplaced(placed: Placed, path: NodePath, entry: AdditiveEntry) -> list[Problem]:
    """Return a problem for each key of a list that belongs to the other one."""
    keys, text, hint = _ELSEWHERE[str(path[0])]
    return [
        placed.problem((*path, key), "soak-place", f"{key} {text}", hint, key=True)
        for key in keys
        if getattr(entry, key) is not None and entry.name != SPARE_NAME
    ]


SPARE_NAME = "\ufffd"
"""The name of the entry that stands for one that could not be read."""
SPARE_ADDITIVE = {"name": SPARE_NAME, "form": "liquid", "hookbait": "none", "freebie": "none"}


def _join(
    recipe: Recipe, placed: Placed, register: RegisterIndex, path: NodePath, entry: AdditiveEntry
) -> tuple[FullAdditive | None, list[Problem]]:
    found = register.find(entry.name)
    problems = measure_problems(placed, path, entry, recipe.measures)
    stated = ((found[1], register.measures),) if found else ()
    joined = full_additive(entry.name, *stated, (entry, recipe.measures))
    if joined.form is None:
        return None, [*problems, _formless(placed, path, entry, register)]
    told = found is not None and needs_density(found[1])
    doses: Iterator[DoseText | None] = (getattr(joined, key) for key in DOSE_KEYS)
    by_volume = any(dose and dose.by_volume for dose in doses)
    if joined.form == "powder" and joined.density is None and by_volume and not told:
        problems.append(density_problem(placed, path, entry))
    wet = found is not None and found[1].form != "powder" and found[1].wetting is not None
    if joined.form == "powder" and (entry.wetting is not None or wet):
        problems.append(wetting_problem(placed, path, entry))
    return joined, problems


def _formless(
    placed: Placed, path: NodePath, entry: AdditiveEntry, register: RegisterIndex
) -> Problem:
    """Return the problem of an additive nobody describes: a register name gone wrong, mostly."""
    name_only = all(getattr(entry, k) is None for k in AdditiveKeys.model_fields)
    if fold(entry.name) in register.broken:
        message = f"'{entry.name}' has a problem in {register.file}"
        return placed.problem(path, "broken-additive", message, "mend it there")
    near = did_you_mean(entry.name, register.names())
    if name_only:
        if register.file is None:
            message = f"'{entry.name}' needs additives.yaml, and there is none"
            hint = "write its form and doses here, or put additives.yaml beside the recipe"
            return placed.problem(path, "unknown-additive", message, hint)
        message = f"'{entry.name}' is not in {register.file}"
        hint = near or "write its form and doses here, or add it there"
        return placed.problem(path, "unknown-additive", message, hint)
    hint = near or "form: liquid, oil or powder"
    return placed.problem(path, "missing-key", "form is missing", hint)


def missing_doses(
    recipe: Recipe, placed: Placed, additives: list[FullAdditive], strength: Strength
) -> list[Problem]:
    """Return a problem for each additive without a dose of the strength that is asked for."""
    problems = []
    at = {fold(entry.name): i for i, entry in enumerate(recipe.additives)}
    for additive in additives:
        has = getattr(additive, strength) is not None
        if has or (strength == "freebie" and recipe.freebie_strength and additive.hookbait):
            continue
        hint = f"{strength}: an amount per egg or per kg mix, or none to leave it out"
        message = f"'{additive.name}' has no {strength} dose"
        path: NodePath = ("additives", at[fold(additive.name)])
        problems.append(placed.problem(path, f"no-{strength}-dose", message, hint))
    return problems


def missing_mix(recipe: Recipe, placed: Placed, strength: Strength) -> list[Problem]:
    """Return the problem of a recipe that has no base mix for a strength."""
    if recipe.mix(strength) is not None:
        return []
    hint = f"{strength}: the name of its base mix"
    message = f"there is no {strength} mix"
    return [placed.problem(("base_mix",), "no-mix", message, hint, key=True)]


def all_mixes(recipe: Recipe) -> list[tuple[NodePath, Mix]]:
    """Return every base mix of a recipe with its path."""
    if isinstance(recipe.base_mix, Mix):
        return [(("base_mix",), recipe.base_mix)]
    pairs = [(("base_mix", s), recipe.mix(s)) for s in STRENGTHS]
    return [(path, mix) for path, mix in pairs if mix is not None]
