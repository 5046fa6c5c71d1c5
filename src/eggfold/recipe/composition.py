"""What the paste is made of, from labels, blends and what stands in for them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from eggfold.engine.paste import mixed_parts
from eggfold.files.analysis import Analysis
from eggfold.nearest import fold
from eggfold.reference.boiling import TYPICAL_MIX
from eggfold.reference.defaults import DEFAULT_WATER_PERCENT
from eggfold.reference.ingredients import SOURCE, find_ingredient
from eggfold.reference.parts import PART_NAMES, Parts
from eggfold.reference.properties import CHOI_OKOS_SOURCE

if TYPE_CHECKING:
    from eggfold.files.full import FullAdditive
    from eggfold.files.ingredients import OwnPowder
    from eggfold.files.recipe import Mix
    from eggfold.recipe.assumptions import Assumed

WATER = Parts(0, 0, 0, 0, 0, 100)
FAT = Parts(0, 100, 0, 0, 0, 0)


def label_parts(analysis: Analysis) -> Parts:
    """Return a label's analysis with sum 1.

    Missing water is 9 %; without carbohydrate the rest is carbohydrate; other missing parts are 0.
    """
    stated = {"water": DEFAULT_WATER_PERCENT} | analysis.stated()
    if "carbohydrate" not in stated:
        stated["carbohydrate"] = max(0.0, 100 - sum(stated.values()))
    return Parts(*(stated.get(name, 0.0) for name in PART_NAMES)).normalised()


def additive_parts(additive: FullAdditive, assumed: Assumed) -> Parts | None:
    """Return what an additive is made of; None for a powder that counts as base mix."""
    if additive.analysis is not None:
        _note_missing(additive.name, additive.analysis, assumed)
        return label_parts(additive.analysis)
    return {"liquid": WATER, "oil": FAT}.get(additive.form)


def mix_parts(mix: Mix, powders: dict[str, tuple[str, OwnPowder]], assumed: Assumed) -> Parts:
    """Return what a base mix is made of: its label, its blend, or the typical mix."""
    if mix.analysis is not None:
        assumed.note(f"analysis of {mix.name}", "from its label", "yours")
        _note_missing(mix.name, mix.analysis, assumed)
        return label_parts(mix.analysis)
    if mix.blend:
        _note_blend(mix.name, mix.blend, powders, assumed)
        return mixed_parts(_blend_portions(mix.blend, powders, assumed))
    note_typical(assumed)
    return TYPICAL_MIX


def note_typical(assumed: Assumed) -> None:
    """Remember the analysis that stands in for one that nobody stated."""
    text = ", ".join(f"{name} {part:g}" for name, part in zip(PART_NAMES, TYPICAL_MIX, strict=True))
    assumed.note("analysis of a typical mix, %", text, "house default")


def note_tables(assumed: Assumed) -> None:
    """Remember the tables that make density and heat of a paste from what it is made of."""
    what = "density and heat of a paste from its parts"
    assumed.note(what, "Choi and Okos", "published", CHOI_OKOS_SOURCE)


def _note_blend(
    name: str, blend: dict[str, float], powders: dict[str, tuple[str, OwnPowder]], assumed: Assumed
) -> None:
    """Remember whose the analyses of a blend's powders are."""
    own = [powder for powder in blend if fold(powder) in powders]
    if len(own) < len(blend):
        assumed.note(f"analysis of {name}", "from its blend", "published", SOURCE)
    if own:
        assumed.note(f"analysis of {name}, in it", ", ".join(own), "yours")


def _note_missing(name: str, analysis: Analysis, assumed: Assumed) -> None:
    missing = [part for part in PART_NAMES if part not in analysis.stated()]
    if missing:
        rule = {"water": "water 9 %", "carbohydrate": "carbohydrate the rest"}
        text = ", ".join(rule.get(part, f"{part} 0 %") for part in missing)
        assumed.note(f"not on the label of {name}", text, "house default")


def _blend_portions(
    blend: dict[str, float], powders: dict[str, tuple[str, OwnPowder]], assumed: Assumed
) -> Iterable[tuple[float, Parts]]:
    for name, share in blend.items():
        own = powders.get(fold(name))
        built_in = find_ingredient(name)
        if own:
            _note_missing(own[0], own[1].analysis, assumed)
            yield share, label_parts(own[1].analysis)
        elif built_in:
            yield share, built_in.parts
