"""``powder``: what a powder and its paste are made of; and the paste of a recipe for other tasks."""

from __future__ import annotations

from functools import partial

from eggfold.errors import OptionError
from eggfold.load.folder import companion
from eggfold.load.load_recipe import Companion, OpenRecipe, open_bench, read_with
from eggfold.load.workspace import Findings
from eggfold.pages.figures import units_in
from eggfold.pages.powder import powder_page
from eggfold.recipe.asked import HOUSE_DEFAULTS, Asked, Defaults
from eggfold.recipe.batch import Batch, build_batch
from eggfold.recipe.bench import Bench, build_bench
from eggfold.recipe.boil_times import Cut
from eggfold.recipe.composition import Composition
from eggfold.recipe.powder import PowderResult, build_powder, paste_assumptions
from eggfold.records import NamedTuple
from eggfold.reference.defaults import DEFAULT_SIZE_MM
from eggfold.tasks.asked import Given
from eggfold.tasks.delivery import Answer, deliver_alone, destination_of
from eggfold.tasks.run import answers, begin, finish, open_files


class PasteFound(NamedTuple):
    """A recipe's paste and its name (None and typical without a recipe), the bench, the exit code."""

    paste: Composition | None
    density_g_ml: float
    name: str
    bench: Bench
    defaults: Defaults
    companions: tuple[Companion, ...] = ()
    cuts: tuple[Cut, ...] = ()
    code: int = 0


class OneEgg(NamedTuple):
    """A recipe and its batch of one egg, None where there is none; the bench and the exit code."""

    opened: OpenRecipe | None
    batch: Batch | None
    bench: Bench
    code: int = 0


def run_powder(given: Given) -> int:
    """Write what is in the powder and the paste; return the exit code."""
    to = destination_of(given)
    found = one_egg(given["recipe"], given["strength"] or "hookbait", given, stocked=True)
    if found.opened is None or found.batch is None:
        return found.code
    result = _priced(build_powder(found.opened, found.batch), found.opened, given["date"])
    if given["swaps"]:
        from eggfold.stock.swaps import swapped  # noqa: PLC0415 - few swap

        other = swapped(found.opened, found.batch.strength, given["swaps"])
        batch = build_batch(other, found.batch.asked)
        after = _priced(build_powder(other, batch), other, given["date"])
        result = result._replace(swapped=after)
    deliver_alone(
        to,
        Answer(
            "powder", result, partial(powder_page, units=units_in(given["units"])), given["why"]
        ),
    )
    return 0


def _priced(result: PowderResult, opened: OpenRecipe, day: str) -> PowderResult:
    """Return a powder with what a kilo of it costs, where the shelf knows."""
    if opened.companions.shelf is None:
        return result
    from eggfold.stock.shopping import stock_on  # noqa: PLC0415 - only with a shelf
    from eggfold.stock.swaps import mix_price  # noqa: PLC0415

    stock = stock_on(opened.companions.shelf, day)
    return result._replace(price=stock and mix_price(result.ingredients, stock))


def paste_of(recipe: str | None, strength: str, given: Given) -> PasteFound:
    """Return the paste of a recipe, and the bench beside it or in the working folder."""
    if recipe is None:
        file = companion("bench", None, begin(given).bench)
        kitchen, problems = open_bench(file) if file else (None, [])
        read = tuple(read_with({"bench": file} if file and kitchen else {}, None))
        code, tools = finish(Findings(problems)), build_bench(kitchen)
        return PasteFound(None, 0.0, "typical paste", tools, HOUSE_DEFAULTS, read, code=code)
    found = one_egg(recipe, strength, given)
    if found.opened is None or found.batch is None:
        return PasteFound(None, 0.0, "", found.bench, HOUSE_DEFAULTS, code=found.code)
    batch, defaults = found.batch, Defaults(found.opened.recipe.assume)
    paste = Composition(batch.paste.parts, paste_assumptions(batch))
    density = batch.paste.density_g_ml
    read, cuts = batch.companions, batch.roll.cuts
    return PasteFound(paste, density, batch.recipe, found.bench, defaults, read, cuts)


def one_egg(recipe: str, strength: str, given: Given, *, stocked: bool = False) -> OneEgg:
    """Return a recipe with its batch of one egg, and the bench beside it."""
    # paste is the same whatever is rolled from it; no bait of the recipe can stand in its way
    any_mm = DEFAULT_SIZE_MM["hookbait"]
    asked = Asked("freebie" if strength == "freebie" else "hookbait", diameter_mm=any_mm)
    workspace = open_files((recipe,), given, stocked=stocked)
    found, findings = answers(workspace, asked, lambda o, a: (o, build_batch(o, a)))
    code = finish(findings)
    bench = build_bench(workspace.companions.bench)
    if len(found) > 1:
        raise OptionError("give one recipe here, not a folder of them")
    return OneEgg(*found[0], bench) if found else OneEgg(None, None, bench, code or 1)
