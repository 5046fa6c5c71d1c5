"""One run's files: every recipe read and joined with its companions, and every problem found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from eggfold.errors import EggfoldError, FileAccessError, Problem, ProblemsError, UsageProblemError
from eggfold.files.additives import read_register
from eggfold.files.folder import (
    expand,
    interrupted,
    kind_by_keys,
    kind_by_name,
    one_companion,
    places_beside,
)
from eggfold.files.full import (
    SPARE_ADDITIVE,
    SPARE_NAME,
    FullAdditive,
    RegisterIndex,
    all_mixes,
    index_register,
    join_additives,
    missing_doses,
    missing_mix,
)
from eggfold.files.nodes import read_nodes
from eggfold.files.reading import MOST_GUESSES, Placed, read_model
from eggfold.files.recipe import STRENGTHS, Recipe, Strength
from eggfold.files.source import read_source
from eggfold.nearest import fold, nearest_few, one_of
from eggfold.reference.ingredients import find_ingredient, known_names

if TYPE_CHECKING:
    from eggfold.files.bench import BenchFile
    from eggfold.files.densities import Densities
    from eggfold.files.ingredients import OwnPowder
    from eggfold.files.notebook import Notebook
    from eggfold.files.shelf import OpenShelf

OTHER_KINDS = ("additives", "ingredients", "bench", "shelf", "notebook", "rolling plan", "campaign")


@dataclass(frozen=True, slots=True)
class Companions:
    """What lies beside the recipes: the register, the user's own powders, the bench."""

    register: RegisterIndex = field(default_factory=RegisterIndex)
    powders: dict[str, tuple[str, OwnPowder]] = field(default_factory=dict)
    ingredients_file: str | None = None
    bench: BenchFile | None = None
    bench_file: str | None = None
    notebook: Notebook | None = None
    others: dict[str, OpenRecipe | None] = field(default_factory=dict)
    shelf: OpenShelf | None = None


class OpenRecipe(NamedTuple):
    """A recipe that was read: its model, its additives in full, and its problems."""

    file: str
    recipe: Recipe
    additives: list[FullAdditive]
    placed: Placed
    problems: list[Problem]
    companions: Companions

    def answerable(self, strength: Strength) -> list[Problem]:
        """Return what keeps the recipe from answering for a strength."""
        return (
            [p for p in self.problems if p.severity == "error"]
            + missing_mix(self.recipe, self.placed, strength)
            + missing_doses(self.recipe, self.placed, self.additives, strength)
        )


def open_placed(file: str) -> tuple[Placed, list[Problem]]:
    """Read a file into a tree with places; raises ProblemsError or FileAccessError."""
    source = read_source(file)
    root, problems = read_nodes(source)
    return Placed(source, root), problems


def open_companions(
    recipes: Iterable[str], additives: str | None, bench: str | None = None
) -> tuple[Companions, list[Problem]]:
    """Read the companions of all recipes of a run, and their problems."""
    recipes = list(recipes)
    problems: list[Problem] = []
    register = RegisterIndex()
    if file := one_companion("additives", recipes, additives):
        register, found = open_register(file)
        problems += found
    powders: dict[str, tuple[str, OwnPowder]] = {}
    own = one_companion("ingredients", recipes, None)
    if own:
        powders, found = open_powders(own)
        problems += found
    kitchen = None
    if tools := one_companion("bench", recipes, bench):
        kitchen, found = open_bench(tools)
        problems += found
    return Companions(register, powders, own, kitchen, tools), problems


def open_register(file: str) -> tuple[RegisterIndex, list[Problem]]:
    """Read a register: its good entries, and the problems of the others."""
    try:
        placed, problems = open_placed(file)
    except ProblemsError as error:
        return RegisterIndex(file), error.problems
    reading = read_register(placed)
    problems = tidy(problems + reading.problems)
    return index_register(file, reading.model, reading.broken)._replace(placed=placed), problems


def open_powders(file: str) -> tuple[dict[str, tuple[str, OwnPowder]], list[Problem]]:
    """Read the user's own powders by folded name."""
    from eggfold.files.ingredients import read_ingredients  # noqa: PLC0415 - few have the file

    try:
        placed, problems = open_placed(file)
    except ProblemsError as error:
        return {}, error.problems
    reading = read_ingredients(placed)
    powders = {fold(n): (n, p) for n, p in reading.model.ingredients.items()}
    return powders, tidy(problems + reading.problems)


def open_stock(
    recipes: Iterable[str], shelf: str | None, register: RegisterIndex
) -> tuple[OpenShelf | None, Densities | None, list[Problem]]:
    """Read the shelf of a run, and what it makes wrong with the register."""
    file = one_companion("shelf", recipes, shelf)
    if file is None:
        return None, None, []
    from eggfold.files.densities import Densities  # noqa: PLC0415 - only where there is a shelf
    from eggfold.files.shelf import open_shelf  # noqa: PLC0415

    opened, problems = open_shelf(file)
    if opened is None:
        return None, None, problems
    densities = Densities(opened)
    if register.placed and register.entries:
        entries = register.entries.values()
        named = ((("additives", name), name, keys) for name, keys in entries)
        problems += densities.conflicts(register.placed, named)
    return opened, densities, tidy(problems)


def open_bench(file: str) -> tuple[BenchFile | None, list[Problem]]:
    """Read the bench."""
    from eggfold.files.bench import read_bench  # noqa: PLC0415

    try:
        placed, problems = open_placed(file)
    except ProblemsError as error:
        return None, error.problems
    reading = read_bench(placed)
    return reading.model, tidy(problems + reading.problems)


def open_recipe(
    file: str, companions: Companions, placed: Placed, found: list[Problem]
) -> OpenRecipe:
    """Read a recipe's tree and join it with the companions."""
    spare = {"name": SPARE_NAME, "base_mix": SPARE_NAME}
    reading = read_model(Recipe, placed, spare, SPARE_ADDITIVE)
    additives, problems = join_additives(reading.model, placed, companions.register)
    problems += unknown_ingredients(reading.model, placed, companions)
    problems += short_analyses(reading.model, placed)
    problems = tidy([*found, *reading.problems, *problems])
    return OpenRecipe(file, reading.model, additives, placed, problems, companions)


def find_recipe(name: str, opened: OpenRecipe) -> OpenRecipe | None:
    """Return the recipe of a name: this one, or one beside it or beside the notebook."""
    if fold(opened.recipe.name) == fold(name):
        return opened
    found = opened.companions.others
    if name not in found:
        notebook = opened.companions.notebook
        beside = [opened.file, *([notebook.file] if notebook and notebook.file else [])]
        found[name] = _named_recipe(name, beside, opened.companions)
    return found[name]


def _named_recipe(name: str, beside: list[str], companions: Companions) -> OpenRecipe | None:
    folders = dict.fromkeys(str(Path(file).parent) for file in beside if file != "-")
    for file in expand(folders):
        try:
            if kind_by_name(file) or fold(name) not in fold(read_source(file).text):
                continue
            placed, problems = open_placed(file)
        except EggfoldError:
            continue
        if kind_by_keys(placed.root.entries) == "recipe":
            one = open_recipe(file, companions, placed, problems)
            if fold(one.recipe.name) == fold(name):
                return one
    return None


def unknown_ingredients(recipe: Recipe, placed: Placed, companions: Companions) -> list[Problem]:
    """Return a problem for each name in a blend that neither the user nor the tables know."""
    problems: list[Problem] = []
    for path, mix in all_mixes(recipe):
        for name in mix.blend or {}:
            if fold(name) in companions.powders or find_ingredient(name):
                continue
            own = [n for n, _ in companions.powders.values()]
            guess = len(problems) < MOST_GUESSES
            near = nearest_few(name, [*own, *known_names()]) if guess else []
            add = "add it with its analysis to ingredients.yaml"
            hint = f"did you mean {one_of(near)}?" if near else add
            message = f"'{name}' is not an ingredient known here"
            where = (*path, "blend", name)
            problems.append(placed.problem(where, "unknown-ingredient", message, hint, key=True))
    return problems


def short_analyses(recipe: Recipe, placed: Placed) -> list[Problem]:
    """Return a warning for each label whose stated parts leave something unsaid."""
    labels = [((*path, "analysis"), mix.analysis) for path, mix in all_mixes(recipe)]
    labels += [(("additives", i, "analysis"), a.analysis) for i, a in enumerate(recipe.additives)]
    problems = []
    for path, analysis in labels:
        if analysis and (short := analysis.shortfall()):
            message = f"the analysis leaves {short:g} % unsaid; it is scaled to 100 %"
            hint = "the missing part, or leave carbohydrate out: then it is the rest"
            problems.append(
                placed.problem(
                    path, "analysis-under-100", message, hint, key=True, severity="warning"
                )
            )
    return problems


def tidy(problems: list[Problem]) -> list[Problem]:
    """Sort problems, each once; where a comma split a number, that alone is told."""
    commas = {(p.file, p.line, p.column) for p in problems if p.code == "decimal-comma"}
    kept = {
        p for p in problems if p.code == "decimal-comma" or (p.file, p.line, p.column) not in commas
    }
    return sorted(kept, key=lambda p: (p.file, p.line, p.column, p.code, p.message))


@dataclass(slots=True)
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
    companions: Companions = field(default_factory=Companions)
    seen: int = 0
    plans: dict[str, tuple[str, Placed, list[Problem]]] = field(default_factory=dict)
    """Plans among the files, by file: the kind, the tree and its problems."""
    expected: int = 0
    """Files that may be recipes, once ``recipes`` has begun."""
    densities: Densities | None = None

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
        self._mend(candidates)
        self.companions, found = open_companions(candidates, self.additives, self.bench)
        self.expected = len(candidates)
        self.problems += found
        if self.with_notes and (notes := one_companion("notebook", candidates, self.notebook)):
            self.companions = replace(self.companions, notebook=self._open_notes(notes))
        if self.stocked:
            opened_shelf, self.densities, found = open_stock(
                candidates, self.shelf, self.companions.register
            )
            self.companions = replace(self.companions, shelf=opened_shelf)
            self.problems += found
        for file in candidates:
            if opened := self._open(file):
                self.seen += 1
                yield opened
        if required and not self.seen and not self.failures:
            passed = f" ({'; '.join(self.notes)})" if self.notes else ""
            raise UsageProblemError(f"there is no recipe among these files{passed}")

    def _without_companions(self, files: list[str]) -> list[str]:
        """Leave out the files that an option names as something else than a recipe."""
        named = [f for f in (self.additives, self.bench, self.notebook, self.shelf) if f]
        places = {Path(f).resolve() for f in named}
        return [f for f in files if Path(f).resolve() not in places] if places else files

    def _mend(self, candidates: list[str]) -> None:
        """Finish or withdraw a note that was stopped between two files."""
        beside = places_beside(candidates, self.notebook, self.shelf)
        if stopped := [folder for folder in beside if interrupted(folder)]:
            from eggfold.files.journal import mend  # noqa: PLC0415 - hardly ever needed

            self.notes += mend(stopped)

    def _open_notes(self, file: str) -> Notebook | None:
        from eggfold.files.notebook import open_notebook  # noqa: PLC0415

        try:
            notebook, found = open_notebook(file, ("weighed", "rolled"))
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
        self.problems += found
        return bench

    def _open(self, file: str) -> OpenRecipe | None:
        try:
            placed, problems = open_placed(file)
        except ProblemsError as error:
            self.seen += 1
            self.problems += error.problems
            return None
        except FileAccessError as error:
            self.seen += 1
            self.failures.append(error)
            return None
        kind = kind_by_keys(placed.root.entries)
        if self._other(file, kind):
            self.plans[file] = (kind, placed, problems)
            return None
        opened = open_recipe(file, self.companions, placed, problems)
        if self.companions.shelf:
            opened.additives[:] = [self.companions.shelf.declared(a) for a in opened.additives]
        if self.densities:
            entries = enumerate(opened.recipe.additives)
            named = ((("additives", i), entry.name, entry) for i, entry in entries)
            opened.problems.extend(self.densities.conflicts(placed, named))
        return opened

    def _other(self, file: str, kind: str | None) -> bool:
        if kind not in OTHER_KINDS:
            return False
        self.notes.append(f"{file}: passed over, it is {_article(kind)}")
        return True


_ARTICLES = {
    "additives": "the register of additives",
    "ingredients": "the list of own powders",
    "bench": "the bench",
    "shelf": "the shelf",
    "notebook": "the notebook",
    "rolling plan": "a rolling plan",
    "campaign": "a campaign",
}


def _article(kind: str) -> str:
    return _ARTICLES[kind]


def check_warnings(opened: OpenRecipe) -> list[Problem]:
    """Return what ``check`` warns of: doses and mixes that only matter when asked for."""
    found: list[Problem] = []
    for strength in STRENGTHS:
        found += missing_mix(opened.recipe, opened.placed, strength)
        found += missing_doses(opened.recipe, opened.placed, opened.additives, strength)
    return [replace(p, severity="warning") for p in found]
