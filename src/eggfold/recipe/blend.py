"""What a blend that was never weighed is expected to take, from the mixes that were."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from eggfold.engine.powder import KnownMix, WetTaken, predict_blend
from eggfold.errors import NoAnswerError
from eggfold.load.load_recipe import recipes_beside
from eggfold.load.recipe import STRENGTHS
from eggfold.nearest import fold
from eggfold.recipe.assumptions import HOUSE_DEFAULTS
from eggfold.recipe.bench import build_bench
from eggfold.recipe.composition import known_powder
from eggfold.recipe.learning import NotedMixes, learned_absorbency, notes_of
from eggfold.recipe.trial import (
    DEFAULT_ABSORBENCY,
    PredictedBlend,
    Trial,
    build_additives,
    build_egg,
    build_trial,
    weighed_mix,
)
from eggfold.records import NamedTuple

if TYPE_CHECKING:
    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.recipe import Mix, Strength
    from eggfold.recipe.composition import Powders

DEFAULT_WET = 1 / DEFAULT_ABSORBENCY
"""Wet that a gram of the usual mix takes [g]."""


def predicted_blend(
    opened: OpenRecipe, strength: Strength, noted: NotedMixes
) -> PredictedBlend | None:
    """Return what the blend of a strength is expected to take; None where it needs no prediction."""
    recipe = opened.recipe
    mix = recipe.mix(strength)
    if mix is None or not mix.blend or weighed_mix(recipe, strength)[1]:
        return None
    beside = recipes_beside(opened)
    recipes = (opened, *((opened.before,) if opened.before else ()), *beside.recipes)
    uses = [u for u in _uses(recipes) if fold(u.mix.name) != fold(mix.name)]
    known = tuple(_known_mixes(uses, noted))
    powders = opened.companions.powders
    estimate = predict_blend(_parts(mix.blend, powders), known, DEFAULT_WET)
    held = {
        key for n in estimate.neighbours if n.shared for key, part in n.mix.parts.items() if part
    }
    shared = tuple(name for name in mix.blend if _key(name, powders) in held)
    return PredictedBlend(estimate, shared, beside.files, beside.broken)


def ingredients_taken(
    opened: OpenRecipe, strength: Strength, predicted: PredictedBlend | None
) -> Mapping[str, WetTaken]:
    """Return what each ingredient of a blend seems to take, by its name, where anything tells.

    The mix itself counts as well, if it met the scale.
    """
    mix = opened.recipe.mix(strength)
    if mix is None or not mix.blend:
        return {}
    powders = opened.companions.powders
    own = [u for u in _uses([opened]) if predicted is None or fold(u.mix.name) == fold(mix.name)]
    others = [n.mix for n in predicted.estimate.neighbours] if predicted else []
    known = [*others, *_known_mixes(own, notes_of(opened))]
    found = predict_blend(_parts(mix.blend, powders), known, DEFAULT_WET).ingredients
    keys = {name: _key(name, powders) for name in mix.blend}
    return {
        name: found[key] for name, key in keys.items() if any(one.parts.get(key) for one in known)
    }


class _Use(NamedTuple):
    """A blend as a recipe uses it."""

    opened: OpenRecipe
    strength: Strength
    mix: Mix


def _uses(recipes: Iterable[OpenRecipe]) -> Iterator[_Use]:
    for opened in recipes:
        for strength in STRENGTHS:
            mix = opened.recipe.mix(strength)
            if mix is not None and mix.blend:
                yield _Use(opened, strength, mix)


def _known_mixes(uses: Iterable[_Use], noted: NotedMixes) -> Iterator[KnownMix]:
    """Yield each mix that met the scale once, by the first recipe that has its amount, else the first."""
    by_name: dict[str, _Use] = {}
    for use in uses:
        first = by_name.setdefault(fold(use.mix.name), use)
        if use.mix.amount and not first.mix.amount:
            by_name[fold(use.mix.name)] = use
    for use in by_name.values():
        if known := _known_mix(use, noted):
            yield known


def _known_mix(use: _Use, noted: NotedMixes) -> KnownMix | None:
    """Return what the scale says of a mix, from its amount or the default on; None where nothing."""
    notes, recipe = noted.of(use.mix.name), use.opened.recipe
    if not (use.mix.amount or notes.weighings):
        return None
    try:
        learned = learned_absorbency(recipe, notes, _trial(use))
    except NoAnswerError:
        return None
    parts = _parts(use.mix.blend or {}, use.opened.companions.powders)
    return KnownMix(use.mix.name, parts, 1 / learned.expected, learned.ratio.level_sd)


def _trial(use: _Use) -> Trial:
    recipe, bench = use.opened.recipe, build_bench(use.opened.companions.bench)
    egg = build_egg(recipe)
    additives = build_additives(recipe, use.opened.additives, egg, bench)
    trial = build_trial(recipe, additives, use.strength, egg)
    if use.mix.amount:
        return trial
    doubt = HOUSE_DEFAULTS.value("absorbency_sd").share
    return trial._replace(absorbency=DEFAULT_ABSORBENCY, sd_share=doubt, own=False)


def _parts(blend: Mapping[str, float], powders: Powders) -> dict[str, float]:
    """Return shares by one key for every name of an ingredient."""
    parts: dict[str, float] = {}
    for name, share in blend.items():
        key = _key(name, powders)
        parts[key] = parts.get(key, 0.0) + share
    return parts


def _key(name: str, powders: Powders) -> str:
    known = known_powder(name, powders)
    return fold(known.name if known else name)
