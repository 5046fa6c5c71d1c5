"""The doubtful figures of a recipe as warnings, each at its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.errors import NoAnswerError
from eggfold.load.recipe import STRENGTHS
from eggfold.recipe.bench import build_bench
from eggfold.recipe.sanity import boil_doubts, recipe_doubts
from eggfold.recipe.trial import build_additives, build_egg, build_trial

if TYPE_CHECKING:
    from collections.abc import Iterator

    from eggfold.errors import Problem
    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.recipe import Strength
    from eggfold.recipe.sanity import Doubt


def doubt_problems(opened: OpenRecipe) -> Iterator[Problem]:
    """Yield a warning for each doubtful figure of a recipe, at its place."""
    strengths = [s for s in STRENGTHS if not opened.answerable(s)]
    found = [doubt for s in strengths for doubt in _doubts(opened, s)]
    told = {doubt.code + "".join(map(str, doubt.path)): doubt for doubt in reversed(found)}
    for doubt in told.values():
        whole = doubt.path == ("additives",)
        yield opened.placed.problem(
            doubt.path, doubt.code, doubt.text, doubt.hint, key=whole, severity="warning"
        )


def _doubts(opened: OpenRecipe, strength: Strength) -> Iterator[Doubt]:
    recipe = opened.recipe
    egg, bench = build_egg(recipe), build_bench(opened.companions.bench)
    additives = build_additives(recipe, opened.additives, egg, bench)
    try:
        trial = build_trial(recipe, additives, strength, egg)
        yield from recipe_doubts(recipe, trial, (strength, trial.strength))
        if opened.soak:
            from eggfold.recipe.soak import soak_doubts  # noqa: PLC0415 - few soak

            yield from soak_doubts(opened)
        if _has_own_time(opened, strength):
            from eggfold.recipe.asked import Asked  # noqa: PLC0415 - few have a time of their own
            from eggfold.recipe.batch import build_batch  # noqa: PLC0415

            batch = build_batch(opened, Asked(strength))
            yield from boil_doubts(recipe, strength, [bait.boil for bait in batch.baits])
    except NoAnswerError:
        return


def _has_own_time(opened: OpenRecipe, strength: Strength) -> bool:
    """Tell whether a recipe states a time in the pan for a strength."""
    baits = getattr(opened.recipe.baits, strength, None) or ()
    stated = getattr(opened.recipe.boil, strength, None)
    return stated is not None or any(bait.boil is not None for bait in baits)
