"""The paste of a recipe and the bench, for commands that work on paste alone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from eggfold.commands.run import answers, finish, open_workspace

if TYPE_CHECKING:
    from eggfold.files.companions import Companion
    from eggfold.files.opened import OpenRecipe
    from eggfold.recipe.assumptions import Defaults
    from eggfold.recipe.batch import Batch
    from eggfold.recipe.bench import Bench
    from eggfold.recipe.composition import Composition

ANY_SIZE_MM = 16.0
"""Paste is the same whatever is rolled from it; no bait of the recipe can stand in its way."""


class PasteFound(NamedTuple):
    """A recipe's paste and its name (None and typical without a recipe), the bench, the exit code."""

    paste: Composition | None
    density_g_ml: float
    name: str
    bench: Bench
    defaults: Defaults
    companions: tuple[Companion, ...] = ()
    code: int = 0


class OneEgg(NamedTuple):
    """A recipe and its batch of one egg, None where there is none; the bench and the exit code."""

    opened: OpenRecipe | None
    batch: Batch | None
    bench: Bench
    code: int = 0


def paste_of(recipe: str | None, strength: str, given: Mapping[str, Any]) -> PasteFound:
    """Return the paste of a recipe, and the bench beside it or in the working folder."""
    from eggfold.files.companions import read_with  # noqa: PLC0415
    from eggfold.recipe.assumptions import HOUSE_DEFAULTS, Defaults  # noqa: PLC0415
    from eggfold.recipe.bench import build_bench  # noqa: PLC0415
    from eggfold.recipe.composition import Composition  # noqa: PLC0415

    if recipe is None:
        workspace = open_workspace((), None, given)
        tools = build_bench(workspace.open_bench())
        read = tuple(read_with(workspace.companions.files, None))
        name = "typical paste"
        return PasteFound(None, 0.0, name, tools, HOUSE_DEFAULTS, read, finish(workspace))
    from eggfold.recipe.powder import paste_assumptions  # noqa: PLC0415

    found = one_egg(recipe, strength, given)
    if found.opened is None or found.batch is None:
        return PasteFound(None, 0.0, "", found.bench, HOUSE_DEFAULTS, code=found.code)
    batch, defaults = found.batch, Defaults(found.opened.recipe.assume)
    paste = Composition(batch.paste.parts, paste_assumptions(batch))
    density = batch.paste.density_g_ml
    return PasteFound(paste, density, batch.recipe, found.bench, defaults, batch.companions)


def one_egg(
    recipe: str, strength: str, given: Mapping[str, Any], *, stocked: bool = False
) -> OneEgg:
    """Return a recipe with its batch of one egg, and the bench beside it."""
    from eggfold.recipe.asked import Asked  # noqa: PLC0415
    from eggfold.recipe.batch import build_batch  # noqa: PLC0415
    from eggfold.recipe.bench import build_bench  # noqa: PLC0415

    asked = Asked("freebie" if strength == "freebie" else "hookbait", diameter_mm=ANY_SIZE_MM)
    workspace = open_workspace((recipe,), given["additives"], given, stocked=stocked)

    def answer(opened: OpenRecipe) -> tuple[OpenRecipe, Batch]:
        return opened, build_batch(opened, asked)

    found = list(answers(workspace, asked.strength, answer))
    code = finish(workspace)
    bench = build_bench(workspace.companions.bench)
    if len(found) > 1:
        raise click.UsageError("give one recipe here, not a folder of them")
    return OneEgg(*found[0], bench) if found else OneEgg(None, None, bench, code or 1)
