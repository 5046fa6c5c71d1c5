"""What lies beside the recipes of a run: register, own powders, bench and shelf."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from eggfold.errors import Problem, ProblemsError, tidy
from eggfold.files.additives import read_register
from eggfold.files.folder import one_companion
from eggfold.files.full import RegisterIndex, index_register
from eggfold.files.nodes import read_nodes
from eggfold.files.reading import Placed
from eggfold.files.source import read_source
from eggfold.nearest import fold

if TYPE_CHECKING:
    from eggfold.files.bench import BenchFile
    from eggfold.files.densities import Densities
    from eggfold.files.ingredients import OwnPowder
    from eggfold.files.notebook import Notebook
    from eggfold.files.opened import OpenRecipe
    from eggfold.files.shelf import OpenShelf


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
