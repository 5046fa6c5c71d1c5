"""The paste of a recipe, for commands that work on paste alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from eggfold.commands.run import answers, finish, open_workspace

if TYPE_CHECKING:
    from eggfold.files.workspace import OpenRecipe
    from eggfold.jobs.assumptions import Assumed
    from eggfold.jobs.batch import Batch, Paste

ANY_SIZE_MM = 16.0
"""Paste is the same whatever is rolled from it; no bait of the recipe can stand in its way."""


def paste_of(
    recipe: str | None, strength: str, additives: str | None, assumed: Assumed
) -> tuple[Paste | None, str, int]:
    """Return a recipe's paste, its name, and the exit code where there is none."""
    if recipe is None:
        return None, "typical paste", 0
    from eggfold.jobs.powder import paste_assumptions  # noqa: PLC0415

    found, code = one_egg(recipe, strength, additives)
    if found is None:
        return None, "", code
    opened, batch = found
    assumed.overrides = opened.recipe.assume
    for a in paste_assumptions(batch):
        assumed.note(a.what, a.value, a.origin, a.source)
    return batch.paste, batch.recipe, 0


def one_egg(
    recipe: str, strength: str, additives: str | None
) -> tuple[tuple[OpenRecipe, Batch] | None, int]:
    """Return a recipe and its batch of one egg, or None and the exit code."""
    from eggfold.jobs.asked import Asked  # noqa: PLC0415
    from eggfold.jobs.batch import build_batch  # noqa: PLC0415

    asked = Asked("freebie" if strength == "freebie" else "hookbait", diameter_mm=ANY_SIZE_MM)
    workspace = open_workspace((recipe,), additives)

    def answer(opened: OpenRecipe) -> tuple[OpenRecipe, Batch]:
        return opened, build_batch(opened, asked)

    found = list(answers(workspace, asked.strength, answer))
    code = finish(workspace)
    if len(found) > 1:
        raise click.UsageError("give one recipe here, not a folder of them")
    return (found[0], 0) if found else (None, code or 1)
