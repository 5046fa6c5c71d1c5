"""What lies beside the recipes of a run: register, own powders, bench and shelf."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from eggfold.errors import Problem, ProblemsError, tidy
from eggfold.load.additives import read_register
from eggfold.load.folder import companion, one_companion
from eggfold.load.gate import read_source
from eggfold.load.reading import NodePath, Placed
from eggfold.load.register import RegisterIndex, index_register
from eggfold.load.yaml_tree import read_nodes
from eggfold.nearest import fold
from eggfold.records import NamedTuple
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.amounts import Amount
    from eggfold.errors import Problem
    from eggfold.load.additives import AdditiveKeys, OwnPowder
    from eggfold.load.bench import BenchFile
    from eggfold.load.notebook import Notebook
    from eggfold.load.shelf import OpenShelf


Place = Literal["beside", "above", "here", "elsewhere"]


class Companion(NamedTuple):
    """A file that was read with a recipe: its kind, and where it lies as seen from there.

    ``here`` is the working folder, which stands for a recipe's where there is no file of one.
    """

    kind: str
    file: str
    place: Place

    @property
    def file_name(self) -> str:
        """The file's own name, without its folder."""
        return Path(self.file).name


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Companions:
    """What lies beside the recipes: the register, the user's own powders, the bench."""

    register: RegisterIndex = field(default_factory=RegisterIndex)
    powders: dict[str, tuple[str, OwnPowder]] = field(default_factory=dict)
    ingredients_file: str | None = None
    bench: BenchFile | None = None
    bench_file: str | None = None
    notebook: Notebook | None = None
    others: dict[str, Any] = field(default_factory=dict)
    """Recipes that notes name, as load_recipe.py opened them."""
    beside: dict[str, Any] = field(default_factory=dict)
    """The recipes of a folder, once a blend wanted to know them; as load_recipe.py opened them."""
    shelf: OpenShelf | None = None
    places: dict[str, tuple[Companion, ...]] = field(default_factory=dict)
    """What was read, by the folder of the recipe it was read with."""

    @property
    def files(self) -> dict[str, str]:
        """The files that were read, by kind; one that could not be is not among them."""
        found = {
            "additives": self.register.file if self.register.placed else None,
            "ingredients": self.ingredients_file if self.powders else None,
            "bench": self.bench_file if self.bench else None,
            "notebook": self.notebook.file if self.notebook else None,
            "shelf": self.shelf.file if self.shelf else None,
        }
        return {kind: file for kind, file in found.items() if file}

    def read_with(self, recipe: str) -> tuple[Companion, ...]:
        """Return the files that were read with a recipe."""
        folder = "-" if recipe == "-" else str(Path(recipe).parent)
        if folder not in self.places:
            self.places[folder] = tuple(read_with(self.files, recipe))
        return self.places[folder]


def read_with(files: dict[str, str], recipe: str | None) -> Iterator[Companion]:
    """Yield files by kind with their places; without a recipe, as seen from the working folder."""
    for kind, file in files.items():
        near = companion(kind, recipe, None)
        if near is None or Path(near).resolve() != Path(file).resolve():
            yield Companion(kind, file, "elsewhere")
        elif recipe in (None, "-"):
            yield Companion(kind, file, "above" if Path(near).parent.name else "here")
        else:
            beside = Path(near).parent == Path(str(recipe)).parent
            yield Companion(kind, file, "beside" if beside else "above")


def each_once(read: Iterable[tuple[Companion, ...]]) -> tuple[Companion, ...]:
    """Return the files that were read with several recipes, as the first of them sees each."""
    first: dict[str, Companion] = {}
    for companions in read:
        for one in companions:
            first.setdefault(one.file, one)
    return tuple(first.values())


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
    from eggfold.load.additives import read_ingredients  # noqa: PLC0415 - few have the file

    try:
        placed, problems = open_placed(file)
    except ProblemsError as error:
        return {}, error.problems
    reading = read_ingredients(placed)
    powders = {fold(n): (n, p) for n, p in reading.model.ingredients.items()}
    return powders, tidy(problems + reading.problems)


def open_stock(
    recipes: Iterable[str], shelf: str | None, register: RegisterIndex
) -> tuple[OpenShelf | None, StatedDensities | None, list[Problem]]:
    """Read the shelf of a run, and what it makes wrong with the register."""
    file = one_companion("shelf", recipes, shelf)
    if file is None:
        return None, None, []
    from eggfold.load.shelf import open_shelf  # noqa: PLC0415

    opened, problems = open_shelf(file)
    if opened is None:
        return None, None, problems
    densities = StatedDensities(opened)
    if register.placed and register.entries:
        entries = register.entries.values()
        named = ((("additives", name), name, keys) for name, keys in entries)
        problems += densities.conflicts(register.placed, named)
    return opened, densities, tidy(problems)


def open_bench(file: str) -> tuple[BenchFile | None, list[Problem]]:
    """Read the bench."""
    from eggfold.load.bench import read_bench  # noqa: PLC0415

    try:
        placed, problems = open_placed(file)
    except ProblemsError as error:
        return None, error.problems
    reading = read_bench(placed)
    return reading.model, tidy(problems + reading.problems)


class _Stated(NamedTuple):
    """A density as somebody wrote it, and where."""

    name: str
    density: Amount
    where: str


class StatedDensities:
    """Remembers the density of everything on the shelf as files are read."""

    def __init__(self, shelf: OpenShelf) -> None:
        self._shelf = shelf
        self._first: dict[str, _Stated] = {}

    def conflicts(
        self, placed: Placed, named: Iterator[tuple[NodePath, str, AdditiveKeys]]
    ) -> Iterator[Problem]:
        """Yield a problem for each density that differs from the first of the same thing."""
        for path, name, keys in named:
            own = self._shelf.names.get(fold(name))
            if own is None or keys.density is None:
                continue
            at = (*path, "density")
            line = placed.source.place(placed.index(at)).line
            stated = _Stated(name, keys.density, f"{placed.source.file}:{line}")
            first = self._first.setdefault(own, stated)
            if amount_in(first.density, "g/ml") != amount_in(stated.density, "g/ml"):
                message = (
                    f"'{name}' weighs {stated.density}, but {first.density} as '{first.name}' in "
                    f"{first.where}; both are '{own}' on the shelf"
                )
                hint = "one density for both, or two items on the shelf"
                yield placed.problem(at, "two-densities", message, hint)
