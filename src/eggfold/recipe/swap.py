"""A blend with one powder in the place of another: what the recipe becomes, and what is alike."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from eggfold.errors import OptionError
from eggfold.load.load_recipe import ingredient_hint
from eggfold.nearest import nearest_few
from eggfold.recipe.composition import KnownPowder, known_powder
from eggfold.recipe.trial import mix_of
from eggfold.reference.customary import ALIKE_POINTS, NEVER_ALIKE
from eggfold.reference.ingredients import INGREDIENTS, known_names

if TYPE_CHECKING:
    from collections.abc import Iterable

    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.recipe import Strength
    from eggfold.recipe.composition import Powders
    from eggfold.reference.properties import Parts

COMPARED = ("protein", "fat", "carbohydrate", "water")


def alike(name: str, powders: Powders) -> list[KnownPowder]:
    """Return the powders of nearly the same analysis, the nearest first.

    What binds or flavours is never alike: no analysis says so.
    """
    known = known_powder(name, powders)
    if known is None or NEVER_ALIKE.search(name) or NEVER_ALIKE.search(known.name):
        return []
    names = [*(row.name for row in INGREDIENTS), *(own for own, _ in powders.values())]
    others = {one.name: one for n in names if (one := known_powder(n, powders))}
    near = []
    for other in others.values():
        gaps = _gaps(known.parts, other.parts)
        if max(gaps) <= ALIKE_POINTS and other != known and not NEVER_ALIKE.search(other.name):
            near.append((math.hypot(*gaps), other))
    return [other for _, other in sorted(near, key=lambda pair: pair[0])]


def _gaps(one: Parts, other: Parts) -> list[float]:
    """Return how far two analyses are apart in each part that is compared [points of per cent]."""
    mine, others = one.normalised(), other.normalised()
    return [100 * abs(getattr(mine, part) - getattr(others, part)) for part in COMPARED]


def swapped(opened: OpenRecipe, strength: Strength, swaps: Iterable[str]) -> OpenRecipe:
    """Return a recipe with other powders in a blend; raises OptionError where that cannot be.

    The mix is one that nobody has weighed; what it was before counts among the mixes that were.
    """
    mix = mix_of(opened.recipe, strength)
    if not mix.blend:
        raise OptionError(f"--swap: {mix.name} has no blend, so nothing in it can be swapped")
    blend = dict(mix.blend)
    for swap in swaps:
        blend = _with_another(swap, blend, mix.name, opened.companions.powders)
    unweighed = {"name": f"{mix.name}, swapped", "blend": blend, "amount": None, "contains": None}
    other, pair = mix.model_copy(update=unweighed), opened.recipe.base_mix
    base_mix = other if opened.recipe.one_mix else pair.model_copy(update={strength: other})
    recipe = opened.recipe.model_copy(update={"base_mix": base_mix})
    return opened._replace(recipe=recipe, before=opened)


def _with_another(
    swap: str, blend: dict[str, float], mix: str, powders: Powders
) -> dict[str, float]:
    old, equals, new = (part.strip() for part in swap.partition("="))
    if not (old and equals and new):
        raise OptionError(
            f"--swap: '{swap[:60]}' is not a swap; write OLD=NEW, as in \"Semolina=Oats\""
        )
    found = known_powder(new, powders)
    if found is None:
        near = nearest_few(new, [*(own for own, _ in powders.values()), *known_names()])
        mend = ingredient_hint(new, near)
        raise OptionError(f"--swap: '{new[:60]}' is not an ingredient known here; {mend}")
    wanted = known_powder(old, powders)
    known = {name: one.name for name in blend if (one := known_powder(name, powders))}
    if wanted is None or wanted.name not in known.values():
        raise OptionError(f"--swap: no '{old[:60]}' in {mix}, which is of {', '.join(blend)}")
    shares: dict[str, float] = {}
    for name, share in blend.items():
        called = found.name if known.get(name) in (wanted.name, found.name) else name
        shares[called] = shares.get(called, 0.0) + share
    return shares
