"""What the paste is made of, from labels, blends and what stands in for them."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from eggfold.engine.paste import mixed_parts
from eggfold.load.additives import Analysis, OwnPowder
from eggfold.nearest import fold
from eggfold.recipe.asked import Assumption
from eggfold.records import NamedTuple
from eggfold.reference.boiling import TYPICAL_MIX
from eggfold.reference.defaults import DEFAULT_WATER_PERCENT
from eggfold.reference.eggs import EGG_IN_WORDS, WHOLE_EGG_SOURCE
from eggfold.reference.ingredients import SOURCE, find_ingredient
from eggfold.reference.properties import CHOI_OKOS_SOURCE, PART_NAMES, Parts

if TYPE_CHECKING:
    from eggfold.load.recipe import Mix
    from eggfold.load.register import FullAdditive

Powders: TypeAlias = "dict[str, tuple[str, OwnPowder]]"
"""The user's own powders, as they are spelt, by folded name."""
WATER = Parts(0, 0, 0, 0, 0, 100)
FAT = Parts(0, 100, 0, 0, 0, 0)


EGG_PARTS = Assumption("composition of egg", EGG_IN_WORDS, "published", WHOLE_EGG_SOURCE)
PASTE_TABLES = Assumption(
    "density and heat of a paste from its parts", "Choi and Okos", "published", CHOI_OKOS_SOURCE
)
TYPICAL_PARTS = Assumption(
    "analysis of a typical mix, %",
    ", ".join(f"{name} {part:g}" for name, part in zip(PART_NAMES, TYPICAL_MIX, strict=True)),
    "house default",
)


class Composition(NamedTuple):
    """What something is made of, and what that rests on."""

    parts: Parts
    assumptions: tuple[Assumption, ...] = ()


class KnownPowder(NamedTuple):
    """A powder whose analysis is known: the user's own, or a built-in one with its record."""

    name: str
    parts: Parts
    contains: tuple[str, ...] | None
    record: str = "yours"


def known_powder(name: str, powders: Powders) -> KnownPowder | None:
    """Return the powder of a name; the user's own beats the built-in one."""
    if own := powders.get(fold(name)):
        return KnownPowder(own[0], label_parts(own[1].analysis), own[1].contains)
    found = find_ingredient(name)
    return found and KnownPowder(found.name, found.parts, found.contains, f"USDA {found.record}")


def label_parts(analysis: Analysis) -> Parts:
    """Return a label's analysis with sum 1.

    Missing water is 9 %; without carbohydrate the rest is carbohydrate; other missing parts are 0.
    """
    stated = {"water": DEFAULT_WATER_PERCENT} | analysis.stated()
    if "carbohydrate" not in stated:
        stated["carbohydrate"] = max(0.0, 100 - sum(stated.values()))
    return Parts(*(stated.get(name, 0.0) for name in PART_NAMES)).normalised()


def additive_parts(additive: FullAdditive) -> Composition | None:
    """Return what an additive is made of; None for a powder that counts as base mix."""
    if additive.analysis is not None:
        missing = _missing(additive.name, additive.analysis)
        return Composition(label_parts(additive.analysis), missing)
    return {"liquid": Composition(WATER), "oil": Composition(FAT)}.get(additive.form)


def mix_parts(mix: Mix, powders: Powders) -> Composition:
    """Return what a base mix is made of: its label, its blend, or the typical mix."""
    if mix.analysis is not None:
        label = Assumption(f"analysis of {mix.name}", "from its label", "yours")
        return Composition(label_parts(mix.analysis), (label, *_missing(mix.name, mix.analysis)))
    if mix.blend:
        return _blend_parts(mix.name, mix.blend, powders)
    return Composition(TYPICAL_MIX, (TYPICAL_PARTS,))


def _blend_parts(name: str, blend: dict[str, float], powders: Powders) -> Composition:
    """Return what a blend is made of, and whose the analyses of its powders are."""
    own = [powder for powder in blend if fold(powder) in powders]
    assumptions = []
    if len(own) < len(blend):
        assumptions.append(Assumption(f"analysis of {name}", "from its blend", "published", SOURCE))
    if own:
        assumptions.append(Assumption(f"analysis of {name}, in it", ", ".join(own), "yours"))
    for powder in own:
        called, keys = powders[fold(powder)]
        assumptions += _missing(called, keys.analysis)
    known = ((share, known_powder(powder, powders)) for powder, share in blend.items())
    parts = mixed_parts((share, powder.parts) for share, powder in known if powder)
    return Composition(parts, tuple(assumptions))


def _missing(name: str, analysis: Analysis) -> tuple[Assumption, ...]:
    """Return what stands in for the parts that a label does not state."""
    missing = [part for part in PART_NAMES if part not in analysis.stated()]
    if not missing:
        return ()
    rule = {"water": "water 9 %", "carbohydrate": "carbohydrate the rest"}
    text = ", ".join(rule.get(part, f"{part} 0 %") for part in missing)
    return (Assumption(f"not on the label of {name}", text, "house default"),)
