"""A blend with one powder in the place of another: what the recipe becomes, and what is alike."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from eggfold.errors import OptionError, in_quotes
from eggfold.load.load_recipe import OpenRecipe, ingredient_hint
from eggfold.nearest import nearest_few
from eggfold.recipe.composition import KnownPowder, Powders, known_powder
from eggfold.recipe.powder import IngredientLine, MixPrice
from eggfold.recipe.trial import mix_of
from eggfold.records import NamedTuple
from eggfold.reference.customary import ALIKE_POINTS, NEVER_ALIKE
from eggfold.reference.ingredients import INGREDIENTS, known_names
from eggfold.stock.holdings import Need, NeedOfBatch, ShelfToday
from eggfold.stock.shopping import ShoppingItem, items_by_need

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from eggfold.load.recipe import Strength
    from eggfold.recipe.batch import Batch
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
            f'--swap: {in_quotes(swap)} is not a swap; write OLD=NEW, as in "Semolina=Oats"'
        )
    found = known_powder(new, powders)
    if found is None:
        near = nearest_few(new, [*(own for own, _ in powders.values()), *known_names()])
        mend = ingredient_hint(new, near)
        raise OptionError(f"--swap: {in_quotes(new)} is not an ingredient known here; {mend}")
    wanted = known_powder(old, powders)
    known = {name: one.name for name in blend if (one := known_powder(name, powders))}
    if wanted is None or wanted.name not in known.values():
        raise OptionError(f"--swap: no {in_quotes(old)} in {mix}, which is of {', '.join(blend)}")
    shares: dict[str, float] = {}
    for name, share in blend.items():
        called = found.name if known.get(name) in (wanted.name, found.name) else name
        shares[called] = shares.get(called, 0.0) + share
    return shares


def mix_price(lines: Iterable[IngredientLine], stock: ShelfToday) -> MixPrice | None:
    """Return what a kilo of powder costs in the packs that it takes; None without any price."""
    items = _items({line.name: 10 * line.percent for line in lines}, stock)
    priced = {name: item.unit_price for name, item in items.items() if item.unit_price is not None}
    parts = tuple((name, items[name].need, float(each)) for name, each in priced.items())
    unpriced = tuple(name for name in items if name not in priced)
    return MixPrice(stock.currency, parts, unpriced) if stock.currency and parts else None


def _items(grams: Mapping[str, float], stock: ShelfToday) -> dict[str, ShoppingItem]:
    """Return what the shelf says of powders that are needed."""
    needs = {name: Need("mix", name, g) for name, g in grams.items()}
    by_need = {need.key: [NeedOfBatch(need, 0, 0, None)] for need in needs.values()}
    items = items_by_need(by_need, stock)
    return {name: items[need.key] for name, need in needs.items()}


class SwapHint(NamedTuple):
    """A powder of which the shelf has too little, and one of the same analysis."""

    recipe: str
    file: str
    strength: str
    missing: str
    need_g: float
    in_hand_g: float
    instead: str
    instead_in_hand: bool
    brings: tuple[str, ...]
    """Allergens that the mix does not hold without it."""


def swap_hints(
    batches: Iterable[Batch], stock: ShelfToday, powders: Powders
) -> tuple[SwapHint, ...]:
    """Return what could stand in for powders of which the shelf has too little."""
    return tuple(hint for batch in batches for hint in _hints(batch, stock, powders))


def _hints(batch: Batch, stock: ShelfToday, powders: Powders) -> Iterator[SwapHint]:
    mix, need_g = batch.mix, batch.powder.base_mix_high_g
    if not mix.blend or not _is_short(_items({mix.name: need_g}, stock)[mix.name]):
        return
    total = sum(mix.blend.values())
    items = _items({name: need_g * share / total for name, share in mix.blend.items()}, stock)
    if not any(item.on_shelf for item in items.values()):
        return
    in_it = {word for name in items for word in _contains(known_powder(name, powders))}
    for name, item in items.items():
        others = [one for one in alike(name, powders) if one.name not in items]
        held = _items({one.name: item.need for one in others}, stock)
        there = [one for one in others if held[one.name].in_hand and not _is_short(held[one.name])]
        for one in (there or others)[:1] if _is_short(item) else ():
            new = tuple(word for word in _contains(one) if word not in in_it)
            short = name, item.need, item.in_hand or 0.0, one.name, bool(there), new
            yield SwapHint(batch.recipe, batch.file, batch.strength, *short)


def _is_short(item: ShoppingItem) -> bool:
    """Tell whether less is in hand than is needed; of what is not tracked there is no telling."""
    if item.in_hand is None:
        return item.on_shelf is None
    return item.in_hand < item.need


def _contains(powder: KnownPowder | None) -> tuple[str, ...]:
    return (powder.contains if powder else None) or ()
