"""A recipe with the files that stand beside it: which register, shelf, bench and notebook belong to it, and what they say together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from eggfold.errors import EggfoldError, Problem, ProblemsError, Severity, errors_of, tidy
from eggfold.load.additives import (
    AdditiveKeys,
    Ingredients,
    OwnPowder,
    read_register,
    unknown_measure,
)
from eggfold.load.eggs import LEAST_LIQUID, MOST_LIQUID
from eggfold.load.folder import (
    SUFFIXES,
    companion,
    expand,
    kind_by_keys,
    kind_by_name,
    one_companion,
)
from eggfold.load.gate import read_source
from eggfold.load.reading import MOST_GUESSES, NodePath, Placed, read_model
from eggfold.load.recipe import STRENGTHS, Recipe, Strength
from eggfold.load.register import (
    SPARE_ADDITIVE,
    SPARE_NAME,
    FullAdditive,
    RegisterIndex,
    all_mixes,
    index_register,
    join_additives,
    join_soak,
    missing_doses,
    missing_mix,
)
from eggfold.load.yaml_tree import read_nodes
from eggfold.nearest import fold, is_slip, nearest_few, one_of
from eggfold.records import NamedTuple
from eggfold.reference.ingredients import find_ingredient, known_names
from eggfold.reference.learning import MOST_NEIGHBOURS
from eggfold.reference.measures import KITCHEN_UNITS
from eggfold.units import amount_in, egg_mass_g

if TYPE_CHECKING:
    from eggfold.amounts import Amount
    from eggfold.load.bench import BenchFile
    from eggfold.load.notebook import Notebook
    from eggfold.load.shelf import OpenShelf


Location = Literal["beside", "above", "here", "elsewhere"]


class Companion(NamedTuple):
    """A file that was read with a recipe: its kind, and where it lies as seen from there.

    ``here`` is the working folder, which stands for a recipe's where there is no file of one.
    """

    kind: str
    file: str
    place: Location

    @property
    def file_name(self) -> str:
        """The file's own name, without its folder."""
        return Path(self.file).name


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Companions:
    """What lies beside the recipes, and other recipes once they were asked for."""

    register: RegisterIndex = field(default_factory=RegisterIndex)
    powders: dict[str, tuple[str, OwnPowder]] = field(default_factory=dict)
    ingredients_file: str | None = None
    bench: BenchFile | None = None
    bench_file: str | None = None
    notebook: Notebook | None = None
    others: dict[str, OpenRecipe | None] = field(default_factory=dict)
    """Recipes that notes name, as they were asked for; None where no one recipe is called so."""
    beside: dict[str, Beside] = field(default_factory=dict)
    """The recipes of a folder, once a blend wanted to know them."""
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
    recipes: Iterable[str], additives: str | None, bench: str | None
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
    return index_register(placed, reading), problems


def open_powders(file: str) -> tuple[dict[str, tuple[str, OwnPowder]], list[Problem]]:
    """Read the user's own powders by folded name."""
    try:
        placed, problems = open_placed(file)
    except ProblemsError as error:
        return {}, error.problems
    reading = read_model(Ingredients, placed, {"ingredients": {}})
    powders = {fold(n): (n, p) for n, p in reading.model.ingredients.items()}
    return powders, tidy(problems + reading.problems)


def open_stock(
    file: str, register: RegisterIndex
) -> tuple[OpenShelf | None, dict[str, StatedDensity], list[Problem]]:
    """Read a shelf, the densities that the register states of it, and what is wrong between them."""
    from eggfold.load.shelf import open_shelf  # noqa: PLC0415

    opened, problems = open_shelf(file)
    stated: dict[str, StatedDensity] = {}
    if opened and register.placed:
        entries = register.entries.values()
        named = ((("additives", name), name, keys) for name, keys in entries)
        problems += density_conflicts(opened, stated, register.placed, named)
    return opened, stated, tidy(problems)


def open_bench(file: str) -> tuple[BenchFile | None, list[Problem]]:
    """Read the bench."""
    from eggfold.load.bench import BenchFile  # noqa: PLC0415

    try:
        placed, problems = open_placed(file)
    except ProblemsError as error:
        return None, error.problems
    reading = read_model(BenchFile, placed, {})
    return reading.model, tidy(problems + reading.problems)


class StatedDensity(NamedTuple):
    """A density as somebody wrote it, and where."""

    name: str
    density: Amount
    where: str


def density_conflicts(
    shelf: OpenShelf,
    stated: dict[str, StatedDensity],
    placed: Placed,
    named: Iterable[tuple[NodePath, str, AdditiveKeys]],
) -> Iterator[Problem]:
    """Yield a problem for each density that differs from the first ``stated`` of the same thing.

    One that is the first joins those stated.
    """
    for path, name, keys in named:
        own = shelf.names.get(fold(name))
        if own is None or keys.density is None:
            continue
        at = (*path, "density")
        line = placed.source.place(placed.index(at)).line
        one = StatedDensity(name, keys.density, f"{placed.source.file}:{line}")
        first = stated.setdefault(own, one)
        if amount_in(first.density, "g/ml") != amount_in(one.density, "g/ml"):
            message = (
                f"'{name}' weighs {one.density}, but {first.density} as '{first.name}' in "
                f"{first.where}; both are '{own}' on the shelf"
            )
            hint = "one density for both, or two items on the shelf"
            yield placed.problem(at, "two-densities", message, hint)


class OpenRecipe(NamedTuple):
    """A recipe that was read: its model, its additives in full, and its problems."""

    file: str
    recipe: Recipe
    additives: list[FullAdditive]
    placed: Placed
    problems: list[Problem]
    companions: Companions
    soak: tuple[FullAdditive, ...] = ()
    """What finished bait is soaked in."""
    before: OpenRecipe | None = None
    """What it was before powders of its blend were swapped."""

    def answerable(self, strength: Strength) -> list[Problem]:
        """Return what keeps the recipe from answering for a strength."""
        return (
            errors_of(self.problems)
            + missing_mix(self.recipe, self.placed, strength)
            + missing_doses(self.recipe, self.placed, self.additives, strength)
        )


def open_recipe(
    file: str, companions: Companions, placed: Placed, found: list[Problem]
) -> OpenRecipe:
    """Read a recipe's tree and join it with the companions."""
    spare = {"name": SPARE_NAME, "base_mix": SPARE_NAME}
    reading = read_model(Recipe, placed, spare, spare_item=SPARE_ADDITIVE)
    additives, problems = join_additives(reading.model, placed, companions.register)
    soak, of_soak = join_soak(reading.model, placed, companions.register)
    problems += of_soak
    problems += unknown_ingredients(reading.model, placed, companions)
    problems += short_analyses(reading.model, placed)
    problems += _unmeasured_egg(reading.model, placed)
    problems = tidy([*found, *reading.problems, *problems])
    return OpenRecipe(file, reading.model, additives, placed, problems, companions, tuple(soak))


def _unmeasured_egg(recipe: Recipe, placed: Placed) -> list[Problem]:
    """Return the problem of liquid egg in a kitchen measure of no size, or of an impossible amount."""
    egg = recipe.eggs.liquid_egg if recipe.eggs else None
    if egg is None or egg.unit not in KITCHEN_UNITS:
        return []
    path: NodePath = ("eggs", "liquid_egg")
    if wrong := unknown_measure(egg.unit, recipe.measures):
        return [placed.problem(path, "unknown-measure", *wrong)]
    if LEAST_LIQUID <= egg_mass_g(egg, recipe.measures) <= MOST_LIQUID:
        return []
    message, hint = f"{egg} is not possible here", f"{LEAST_LIQUID} to {MOST_LIQUID} g"
    return [placed.problem(path, "out-of-range", message, hint)]


class Beside(NamedTuple):
    """The recipes in a folder that could be read, all files read, and those with errors."""

    recipes: tuple[OpenRecipe, ...] = ()
    files: tuple[str, ...] = ()
    broken: tuple[str, ...] = ()


def recipes_beside(opened: OpenRecipe) -> Beside:
    """Return the recipes in a recipe's folder, of the first files by name; itself is not among them."""
    folder = str(Path(opened.file).parent)
    found = opened.companions.beside
    if folder not in found:
        found[folder] = _opened_in(folder, opened.companions)
    all_in = found[folder]
    files = [f for f in all_in.files if Path(f) != Path(opened.file)][:MOST_NEIGHBOURS]
    return Beside(
        tuple(one for one in all_in.recipes if one.file in files),
        tuple(files),
        tuple(file for file in all_in.broken if file in files),
    )


def _opened_in(folder: str, companions: Companions) -> Beside:
    files = (file for file in expand([folder]) if not kind_by_name(file))
    recipes, read, broken = [], [], []
    for file in islice(files, MOST_NEIGHBOURS + 1):
        try:
            placed, problems = open_placed(file)
        except EggfoldError:
            read.append(file)
            broken.append(file)
            continue
        if kind_by_keys(placed.root.entries) != "recipe":
            continue
        one = open_recipe(file, companions, placed, problems)
        read.append(file)
        if errors_of(one.problems):
            broken.append(file)
        else:
            recipes.append(one)
    return Beside(tuple(recipes), tuple(read), tuple(broken))


def find_recipe(name: str, opened: OpenRecipe) -> OpenRecipe | None:
    """Return the recipe of a name: this one, or the only one beside it or beside the notebook."""
    if fold(opened.recipe.name) == fold(name):
        return opened
    companions, notebook = opened.companions, opened.companions.notebook
    if name not in companions.others:
        beside = [opened.file, *([notebook.file] if notebook and notebook.file else [])]
        found = _called(name, (file for file in beside if file != "-"))
        companions.others[name] = (
            open_recipe(found[0], companions, *open_placed(found[0])) if len(found) == 1 else None
        )
    return companions.others[name]


def _called(name: str, beside: Iterable[str]) -> list[str]:
    """Return the files of the recipes of a name in the folders of some files."""
    from eggfold.load.names import recipe_names  # noqa: PLC0415 - few look for a name

    folders = dict.fromkeys(str(Path(file).parent) for file in beside)
    return [*recipe_names(expand(folders), only=name)]


def named_recipes(arguments: Iterable[str]) -> tuple[str, ...]:
    """Return the files that are meant by recipes' files without their ending, or by their names.

    Raises EggfoldError where two recipes of the working folder have the name.
    """
    return tuple(_named_recipe(argument) for argument in arguments)


def _named_recipe(argument: str) -> str:
    path = Path(argument)
    if not argument or argument == "-" or path.suffix in SUFFIXES or path.exists():
        return argument
    if (file := with_ending(argument)) != argument:
        return file
    found = _called(argument, ["."])
    if len(found) > 1:
        both = " and ".join(found)
        raise EggfoldError(f"{both} are both called {argument}: name the file")
    return found[0] if found else argument


def with_ending(argument: str) -> str:
    """Return the YAML file that is meant by its name without the ending; else what was typed."""
    if argument in ("", "-") or Path(argument).exists():
        return argument
    files = (f"{argument}{suffix}" for suffix in SUFFIXES)
    return next((file for file in files if Path(file).is_file()), argument)


def shared_name(opened: OpenRecipe) -> list[Problem]:
    """Return an error if another recipe beside this one has its name: a note would be of both."""
    if opened.file == "-":
        return []
    found = _called(opened.recipe.name, [opened.file])
    others = [file for file in found if Path(file) != Path(opened.file)]
    return [shared_name_problem(opened.placed, other) for other in others[:1]]


def shared_name_problem(placed: Placed, other: str, *, severity: Severity = "error") -> Problem:
    """Return the problem of a recipe whose name another file has too."""
    message = f"{other} has this name too: a note or a plan cannot tell which is meant"
    return placed.problem(
        ("name",), "shared-name", message, "another name for one of them", severity=severity
    )


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
            hint = ingredient_hint(name, near)
            message = f"'{name}' is not an ingredient known here"
            where = (*path, "blend", name)
            problems.append(placed.problem(where, "unknown-ingredient", message, hint, key=True))
    return problems


def ingredient_hint(name: str, near: list[str]) -> str:
    """Offer near names; where none is plainly meant, many a powder just stands in no table."""
    add = "add it with its analysis to ingredients.yaml"
    if not near:
        return add
    question = f"did you mean {one_of(near)}?"
    return question if is_slip(name, near[0]) else f"{question} if not, {add}"


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


def check_warnings(opened: OpenRecipe) -> list[Problem]:
    """Return what ``check`` warns of: doses and mixes that only matter when asked for."""
    found: list[Problem] = []
    for strength in STRENGTHS:
        found += missing_mix(opened.recipe, opened.placed, strength)
        found += missing_doses(opened.recipe, opened.placed, opened.additives, strength)
    return [p._replace(severity="warning") for p in found]
