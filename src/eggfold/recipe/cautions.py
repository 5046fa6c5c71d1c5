"""The cautions a card carries; none can be switched off."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from eggfold.recipe.composition import Powders, known_powder
from eggfold.records import NamedTuple
from eggfold.reference.defaults import HOOKBAIT_EGGS_LIMIT, PASTE_DAYS
from eggfold.reference.ingredients import BIRD_FOOD, CONTAINS

if TYPE_CHECKING:
    from eggfold.load.recipe import Mix
    from eggfold.recipe.baits import BaitLine, PasteLine
    from eggfold.recipe.trial import Additive

DOG_POISONS = re.compile(r"garlic|onion|chocolate|cocoa|xylitol", re.IGNORECASE)
SALT = re.compile(r"\bsalt", re.IGNORECASE)


ALWAYS = {
    "raw-egg": "Raw egg: do not taste the paste, wash hands and tools, keep the paste cool.",
    "boiling-water": "Boiling water and hot baskets scald: long sleeves, no children.",
    "gas": "Gas ring: certified, outdoors or wide open, a carbon monoxide alarm beside it.",
    "dust": "Fine powders: do not breathe them; a mask, and wipe up with a damp cloth.",
    "air-gun": "An air gun: let the pressure out before you open it.",
    "spoilt": "Mouldy or sour bait goes into the bin, never into the water or near a dog.",
    "tools": "Bait tools never go back to the kitchen.",
    "water-rules": "The water's own bait rules, local law and licensed practice come before this card.",
}
"""What stands on every card, by its code."""


class Caution(NamedTuple):
    """A warning: a code for scripts, and a sentence that says what to do."""

    code: str
    text: str


IN_BULK = "hookbait-in-bulk"


def bulk_caution(strength: str, eggs: float, rest: str) -> Iterator[Caution]:
    """Yield a warning where hookbait doses for many eggs are a slip more likely than a wish."""
    if strength == "hookbait" and eggs > HOOKBAIT_EGGS_LIMIT:
        yield Caution(IN_BULK, f"These are HOOKBAIT doses for {round(eggs, 1):.10g} eggs{rest}")


def raw_cautions(baits: Iterable[BaitLine], pastes: Iterable[PasteLine]) -> Iterator[Caution]:
    """Yield that egg stays raw in what is not boiled."""
    if any(pastes):
        text = f"{PASTE_DAYS} days in the fridge at most, or freeze it at once; wash hands, do not taste."
        yield Caution("raw-paste", f"Paste that is not boiled holds raw egg: {text}")
    if any(bait.boil is None for bait in baits):
        text = "dry them through, keep them cold; wash hands, do not taste."
        yield Caution("raw-bait", f"Baits that are not boiled hold raw egg: {text}")


def build_cautions(
    mix: Mix, used: list[Additive], powders: Powders, soak: list[Additive]
) -> list[Caution]:
    """Return every caution that belongs to a bowl and its soak, the ones about this mix first."""
    in_all = [*used, *soak]
    known = declared(mix, in_all, powders)
    return [
        _allergens(known),
        *_bans(known.contains),
        *_flammable(used),
        *_gloves(in_all),
        *_dogs(mix, in_all),
        *_salty(mix, in_all),
        *(Caution(code, text) for code, text in ALWAYS.items()),
    ]


def declared_in(mix: Mix, powders: Powders) -> tuple[set[str], tuple[str, ...]]:
    """Return what a base mix contains, and the names of those in it that do not say."""
    found = set(mix.contains or ())
    silent = []
    for name in mix.blend or {}:
        known = known_powder(name, powders)
        if known is None or known.contains is None:
            silent.append(name)
        else:
            found.update(known.contains)
    if mix.contains is not None:
        return found, ()
    return found, tuple(silent) if mix.blend else (mix.name,)


class Declared(NamedTuple):
    """What is known to be in a bait, allergens and bird food, and what keeps silent about it."""

    contains: tuple[str, ...]
    silent: tuple[str, ...]


def declared(mix: Mix, used: list[Additive], powders: Powders) -> Declared:
    """Return what mix and additives declare, and the names of those that declare nothing."""
    in_mix, silent_in_mix = declared_in(mix, powders)
    contains = in_mix.union({"eggs"}, *(a.contains or () for a in used))
    silent = dict.fromkeys(a.name for a in used if a.contains is None)
    names = (*((mix.name,) if silent_in_mix else ()), *silent)
    return Declared(tuple(a for a in CONTAINS if a in contains), names)


def _allergens(known: Declared) -> Caution:
    text = f"Contains {', '.join(a for a in known.contains if a != BIRD_FOOD)}."
    if known.silent:
        text += f" Labels still to read: {', '.join(known.silent)}."
    return Caution("allergens", text)


def _bans(contains: tuple[str, ...]) -> Iterable[Caution]:
    nuts = [a for a in ("peanuts", "nuts") if a in contains]
    if nuts:
        text = f"Contains {' and '.join(nuts)}: many waters ban them. Ask before you bait."
        yield Caution("nuts", text)
    if BIRD_FOOD in contains:
        text = "Contains bird food, which may hold peanut: a nut ban usually covers it. Ask first."
        yield Caution("bird-food", text)


def _flammable(used: list[Additive]) -> Iterable[Caution]:
    names = [a.name for a in used if a.carrier == "alcohol"]
    if names:
        text = f"{', '.join(names)}: alcohol, burns from 17 °C on. No flame near the bowl."
        yield Caution("flammable", text)


def _gloves(used: list[Additive]) -> Iterable[Caution]:
    if any(a.form != "powder" for a in used):
        text = "Flavours, acids and essential oils burn and cause allergies: wear gloves, protect your eyes, open a window."
        yield Caution("gloves", text)


def _salty(mix: Mix, used: list[Additive]) -> Iterable[Caution]:
    if any(SALT.search(name) for name in (*(a.name for a in used), *(mix.blend or {}))):
        text = "Salty: keep bait and drying trays out of reach of dogs and children."
        yield Caution("salt", text)


def _dogs(mix: Mix, used: list[Additive]) -> Iterable[Caution]:
    names = dict.fromkeys([*(a.name for a in used), *(mix.blend or {})])
    found = [name for name in names if DOG_POISONS.search(name)]
    if found:
        text = f"{', '.join(found)}: poison to dogs. Keep paste, bait and waste out of their reach."
        yield Caution("dogs", text)
