"""One run's files: what stands beside the recipes, read at once; the recipes, opened one by one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain
from pathlib import Path
from shlex import quote
from typing import Any

from eggfold.errors import (
    EggfoldError,
    FileAccessError,
    Problem,
    ProblemsError,
    UsageProblemError,
)
from eggfold.load.folder import (
    expand,
    interrupted,
    kind_by_keys,
    kind_by_name,
    one_companion,
    places_beside,
)
from eggfold.load.load_recipe import (
    Companions,
    OpenRecipe,
    StatedDensity,
    density_conflicts,
    open_companions,
    open_placed,
    open_recipe,
    open_stock,
)
from eggfold.load.reading import Placed
from eggfold.records import NamedTuple

OTHER_KINDS = {
    "additives": "the register of additives",
    "ingredients": "the list of own powders",
    "bench": "the bench",
    "shelf": "the shelf",
    "notebook": "the notebook",
    "rolling plan": "a weekend plan",
    "campaign": "a season plan",
}
"""What is no recipe, and how a note calls it."""
PLAN_COMMANDS = {"rolling plan": "rolling", "campaign": "campaign"}
"""The command that takes each kind of plan."""


class Chosen(NamedTuple):
    """Which companions a run reads: those that options name, and whether notes and shelf are read."""

    additives: str | None = None
    bench: str | None = None
    notebook: str | None = None
    shelf: str | None = None
    with_notes: bool = False
    stocked: bool = False


class Findings(NamedTuple):
    """What a run has to tell beside its answer."""

    problems: Sequence[Problem] = ()
    failures: Sequence[EggfoldError] = ()
    notes: Sequence[str] = ()
    """What was passed over."""
    unanswered: Sequence[str] = ()
    """Recipes that have no part in the answer, as they have errors or no answer exists."""
    interrupted: Sequence[str] = ()
    """Folders in which a note was stopped while it was written; only a writer finishes it."""

    def plus(self, *more: Findings) -> Findings:
        """Return what this and others have to tell, in their order."""
        fields: Iterator[tuple[Any, ...]] = zip(self, *more, strict=True)
        return Findings(*([*chain.from_iterable(field)] for field in fields))

    def failing(self, failures: Iterable[EggfoldError]) -> Findings:
        """Return this with what failed afterwards."""
        return self._replace(failures=[*self.failures, *failures])


class NoRecipe(NamedTuple):
    """A file that gives no recipe: what is to be told of it, and where it is a plan, its kind, tree and problems."""

    file: str
    findings: Findings
    plan: tuple[str, Placed, list[Problem]] | None = None


class Workspace(NamedTuple):
    """The files that a command was given, and what stands beside those that may be recipes."""

    arguments: tuple[str, ...]
    files: tuple[str, ...]
    candidates: tuple[str, ...]
    companions: Companions
    told: frozenset[str | None]
    """Companions whose problems are among ``findings``."""
    stated: Mapping[str, StatedDensity]
    """The densities that the register states of things on the shelf."""
    findings: Findings

    def opened(self, *, required: bool = True) -> Iterator[OpenRecipe | NoRecipe]:
        """Yield what each candidate is; one is held at a time.

        Raises UsageProblemError at the end if a recipe is required and none was there.
        """
        stated, plans = dict(self.stated), dict[str, str]()
        for file in self.candidates:
            one = self._open(file, stated)
            if isinstance(one, NoRecipe) and one.plan:
                plans[file] = one.plan[0]
            yield one
        if required and len(plans) == len(self.candidates) and not self.findings.failures:
            raise UsageProblemError(self._no_recipe(plans))

    def recipes(self, *, required: bool = True) -> tuple[list[OpenRecipe], Findings]:
        """Return all that are recipes at once, with errors or without, and what there is to tell."""
        opened = [*self.opened(required=required)]
        others = (one.findings for one in opened if isinstance(one, NoRecipe))
        found = self.findings.plus(*others)
        return [one for one in opened if isinstance(one, OpenRecipe)], found

    def _open(self, file: str, stated: dict[str, StatedDensity]) -> OpenRecipe | NoRecipe:
        try:
            placed, problems = open_placed(file)
        except ProblemsError as error:
            return NoRecipe(file, Findings(error.problems, unanswered=(file,)))
        except FileAccessError as error:
            return NoRecipe(file, Findings(failures=(error,), unanswered=(file,)))
        kind = kind_by_keys(placed.root.entries)
        if kind in OTHER_KINDS:
            return NoRecipe(file, Findings(notes=(_skipped(file, kind),)), (kind, placed, problems))
        opened = open_recipe(file, self.companions, placed, problems)
        if shelf := self.companions.shelf:
            lists = ("additives", opened.recipe.additives), ("soak", opened.recipe.soak)
            named = (
                ((key, i), entry.name, entry) for key, one in lists for i, entry in enumerate(one)
            )
            return opened._replace(
                additives=[*map(shelf.declared, opened.additives)],
                soak=tuple(map(shelf.declared, opened.soak)),
                problems=[*opened.problems, *density_conflicts(shelf, stated, placed, named)],
            )
        return opened

    def _no_recipe(self, plans: dict[str, str]) -> str:
        """Return the sentence where nothing was a recipe; of a plan alone, the command that takes it."""
        notes = [*self.findings.notes, *(_skipped(*plan) for plan in plans.items())]
        if len(notes) == len(plans) == 1:
            [(file, kind)] = plans.items()
            return f"{file} is {OTHER_KINDS[kind]}: eggfold {PLAN_COMMANDS[kind]} {quote(file)}"
        passed = f" ({'; '.join(notes)})" if notes else ": eggfold new makes one to begin with"
        where = "in this folder" if self.arguments == (".",) else "among these files"
        return f"there is no recipe {where}{passed}"


def open_workspace(arguments: Iterable[str], chosen: Chosen) -> Workspace:
    """Find the files that are meant and read the companions of those that may be recipes.

    A companion that a folder holds is no news; one that is an argument is passed over with a note.
    """
    arguments = tuple(arguments)
    found, failures = _found(arguments)
    named = chosen.additives, chosen.bench, chosen.notebook, chosen.shelf
    options = {Path(f).resolve() for f in named if f}
    files = [f for f in found if not options or Path(f).resolve() not in options]
    kinds = {file: kind_by_name(file) for file in files}
    notes = [_skipped(f, kind) for f, kind in kinds.items() if kind and f in arguments]
    candidates = tuple(file for file, kind in kinds.items() if kind is None)
    stopped = [*filter(interrupted, places_beside(files, chosen.notebook, chosen.shelf))]
    read, problems = open_companions(candidates, chosen.additives, chosen.bench)
    told = {read.register.file, read.ingredients_file, read.bench_file}
    if chosen.with_notes and (file := one_companion("notebook", candidates, chosen.notebook)):
        from eggfold.load.notebook import open_notebook  # noqa: PLC0415

        try:
            notebook, wrong = open_notebook(file, ("weighed", "rolled", "cut", "trip"))
            read, problems = replace(read, notebook=notebook), problems + wrong
        except FileAccessError as error:
            failures.append(error)
    stated: dict[str, StatedDensity] = {}
    file = one_companion("shelf", candidates, chosen.shelf) if chosen.stocked else None
    if file is not None:
        shelf, stated, wrong = open_stock(file, read.register)
        read, problems = replace(read, shelf=shelf), problems + wrong
        told.add(file)
    findings = Findings(problems, failures, notes, interrupted=stopped)
    return Workspace(arguments, tuple(found), candidates, read, frozenset(told), stated, findings)


def _found(arguments: tuple[str, ...]) -> tuple[list[str], list[EggfoldError]]:
    """Return the files that are meant, each once, and what cannot be found."""
    files: list[str] = []
    failures: list[EggfoldError] = []
    for argument in arguments:
        try:
            files += expand([argument])
        except FileAccessError as error:
            failures.append(error)
    return [*dict.fromkeys(files)], failures


def _skipped(file: str, kind: str) -> str:
    return f"{file}: skipped: this is {OTHER_KINDS[kind]}"
