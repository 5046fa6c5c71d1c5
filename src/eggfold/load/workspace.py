"""One run's files: every recipe read and joined with its companions, and every problem found."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING

from eggfold.errors import (
    EggfoldError,
    FileAccessError,
    Problem,
    ProblemsError,
    UsageProblemError,
    errors_of,
)
from eggfold.load.folder import (
    KINDS_BY_NAME,
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
    open_bench,
    open_companions,
    open_placed,
    open_recipe,
    open_stock,
)
from eggfold.load.reading import Placed

if TYPE_CHECKING:
    from eggfold.load.bench import BenchFile
    from eggfold.load.load_recipe import StatedDensities
    from eggfold.load.notebook import Notebook

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


@dataclass(slots=True, eq=False, repr=False)
class Workspace:
    """The recipes that a command was given, opened one by one.

    ``problems`` fills with what is wrong, ``notes`` with what was passed over, ``failures`` with
    what could not be read; good recipes are yielded all the same.
    """

    arguments: tuple[str, ...]
    additives: str | None = None
    bench: str | None = None
    notebook: str | None = None
    with_notes: bool = False
    shelf: str | None = None
    stocked: bool = False
    """Whether the shelf is read too."""
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    failures: list[EggfoldError] = field(default_factory=list)
    interrupted: list[str] = field(default_factory=list)
    """Folders in which a note was stopped while it was written; only a writer finishes it."""
    companions: Companions = field(default_factory=Companions)
    seen: int = 0
    plans: dict[str, tuple[str, Placed, list[Problem]]] = field(default_factory=dict)
    """Plans among the files, by file: the kind, the tree and its problems."""
    unanswered: list[str] = field(default_factory=list)
    """Recipes that have no part in the answer, as they have errors or no answer exists."""
    expected: int = 0
    """Files that may be recipes, once ``recipes`` has begun."""
    densities: StatedDensities | None = None
    told: set[str] = field(default_factory=set)
    """Companions whose problems are among ``problems``."""

    def recipes(self, *, required: bool = True) -> Iterator[OpenRecipe]:
        """Yield the recipes that could be read as YAML; other kinds are passed over with a note.

        Raises UsageProblemError at the end if one is required and none was there.
        """
        files: list[str] = []
        for argument in self.arguments:
            try:
                files += expand([argument])
            except FileAccessError as error:
                self.failures.append(error)
        files = self._without_companions(files)
        candidates = [f for f in dict.fromkeys(files) if not self._other(f, kind_by_name(f))]
        beside = places_beside(files, self.notebook, self.shelf)
        self.interrupted += filter(interrupted, beside)
        self.companions, found = open_companions(candidates, self.additives, self.bench)
        self.expected = len(candidates)
        self.problems += found
        read = self.companions
        self.told |= {f for f in (read.register.file, read.ingredients_file, read.bench_file) if f}
        if self.with_notes and (notes := one_companion("notebook", candidates, self.notebook)):
            self.companions = replace(self.companions, notebook=self._open_notes(notes))
        if self.stocked:
            opened_shelf, self.densities, found = open_stock(
                candidates, self.shelf, self.companions.register
            )
            self.companions = replace(self.companions, shelf=opened_shelf)
            self.problems += found
            if shelf := one_companion("shelf", candidates, self.shelf):
                self.told.add(shelf)
        for file in candidates:
            if opened := self._open(file):
                self.seen += 1
                yield opened
        if required and not self.seen and not self.failures:
            raise UsageProblemError(self._no_recipe())

    def _no_recipe(self) -> str:
        """Return the sentence where nothing was a recipe; of a plan alone, the command that takes it."""
        if len(self.notes) == len(self.plans) == 1:
            [(file, (kind, _, _))] = self.plans.items()
            return f"{file} is {OTHER_KINDS[kind]}: eggfold {PLAN_COMMANDS[kind]} {quote(file)}"
        passed = (
            f" ({'; '.join(self.notes)})" if self.notes else ": eggfold new makes one to begin with"
        )
        where = "in this folder" if self.arguments == (".",) else "among these files"
        return f"there is no recipe {where}{passed}"

    def good_recipes(self, *, required: bool = True) -> Iterator[OpenRecipe]:
        """Yield the recipes without errors; the errors of the others are remembered."""
        for opened in self.recipes(required=required):
            errors = errors_of(opened.problems)
            self.problems += errors
            if not errors:
                yield opened

    def _without_companions(self, files: list[str]) -> list[str]:
        """Leave out the files that an option names as something else than a recipe."""
        named = [f for f in (self.additives, self.bench, self.notebook, self.shelf) if f]
        places = {Path(f).resolve() for f in named}
        return [f for f in files if Path(f).resolve() not in places] if places else files

    def _open_notes(self, file: str) -> Notebook | None:
        from eggfold.load.notebook import open_notebook  # noqa: PLC0415

        try:
            notebook, found = open_notebook(file, ("weighed", "rolled", "cut", "trip"))
        except FileAccessError as error:
            self.failures.append(error)
            return None
        self.problems += found
        return notebook

    def open_bench(self) -> BenchFile | None:
        """Return the bench of the working folder, or the named one, where there is no recipe."""
        file = one_companion("bench", [], self.bench)
        if file is None:
            return None
        bench, found = open_bench(file)
        self.companions = replace(self.companions, bench=bench, bench_file=file)
        self.problems += found
        return bench

    def _open(self, file: str) -> OpenRecipe | None:
        try:
            placed, problems = open_placed(file)
        except ProblemsError as error:
            self.seen += 1
            self.problems += error.problems
            self.unanswered.append(file)
            return None
        except FileAccessError as error:
            self.failures.append(error)
            self.unanswered.append(file)
            return None
        kind = kind_by_keys(placed.root.entries)
        if self._other(file, kind):
            self.plans[file] = (kind, placed, problems)
            return None
        opened = open_recipe(file, self.companions, placed, problems)
        if self.companions.shelf:
            declared = self.companions.shelf.declared
            opened.additives[:] = map(declared, opened.additives)
            opened = opened._replace(soak=tuple(map(declared, opened.soak)))
        if self.densities:
            lists = ("additives", opened.recipe.additives), ("soak", opened.recipe.soak)
            named = (
                ((key, i), entry.name, entry) for key, one in lists for i, entry in enumerate(one)
            )
            opened.problems.extend(self.densities.conflicts(placed, named))
        return opened

    def _other(self, file: str, kind: str | None) -> bool:
        """Tell whether a file is no recipe; a companion that a folder holds is no news."""
        if kind not in OTHER_KINDS:
            return False
        if kind not in KINDS_BY_NAME or file in self.arguments:
            self.notes.append(f"{file}: skipped: this is {OTHER_KINDS[kind]}")
        return True
