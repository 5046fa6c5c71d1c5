"""What a kilo of powder costs off the shelf, and what could stand in for what is missing there."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from eggfold.recipe.powder import MixPrice
from eggfold.recipe.swap import KnownPowder, alike, known_powder
from eggfold.stock.holdings import exact, holding_of, plain_number, price_per_unit, purchase_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from fractions import Fraction

    from eggfold.recipe.batch import Batch
    from eggfold.recipe.composition import Powders
    from eggfold.recipe.powder import IngredientLine
    from eggfold.stock.holdings import ShelfToday


def mix_price(lines: Iterable[IngredientLine], stock: ShelfToday | None) -> MixPrice | None:
    """Return what a kilo of powder costs in the packs that it takes; None without any price."""
    if stock is None or stock.currency is None:
        return None
    parts, unpriced = [], []
    for line in lines:
        each = _coins_per_g(line.name, 10 * line.percent, stock)
        if each is None:
            unpriced.append(line.name)
        else:
            parts.append(
                (line.name, 10 * line.percent, float(each) / 10**stock.opened.minor_digits)
            )
    return MixPrice(stock.currency, tuple(parts), tuple(unpriced)) if parts else None


def _coins_per_g(name: str, need_g: float, stock: ShelfToday) -> Fraction | None:
    holding = holding_of(stock, name, "g", None)
    bought = holding and purchase_of(exact(need_g), holding.offers)
    if not holding or not bought:
        return None
    return price_per_unit(exact(need_g), bought, holding.offers)


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
    batches: Iterable[Batch], stock: ShelfToday | None, powders: Powders
) -> tuple[SwapHint, ...]:
    """Return what could stand in for powders of which the shelf has too little."""
    if stock is None:
        return ()
    return tuple(hint for batch in batches for hint in _hints(batch, stock, powders))


def _hints(batch: Batch, stock: ShelfToday, powders: Powders) -> Iterator[SwapHint]:
    mix, need_g = batch.mix, batch.powder.base_mix_high_g
    if mix is None or not mix.blend or _in_hand_g(mix.name, stock) >= need_g:
        return
    held = {name: _in_hand_g(name, stock) for name in mix.blend}
    if not any(stock.opened.find(name) for name in held):
        return
    total = sum(mix.blend.values())
    in_it = {one for name in mix.blend for one in _contains(known_powder(name, powders))}
    for name, share in mix.blend.items():
        part_g = need_g * share / total
        if held[name] >= part_g:
            continue
        others = [one for one in alike(name, powders) if one.name not in mix.blend]
        there = [one for one in others if UNTOLD > _in_hand_g(one.name, stock) >= part_g]
        for one in (there or others)[:1]:
            new = tuple(word for word in _contains(one) if word not in in_it)
            of = batch.recipe, batch.file, batch.strength
            yield SwapHint(*of, name, part_g, held[name], one.name, bool(there), new)


UNTOLD = float("inf")


def _in_hand_g(name: str, stock: ShelfToday) -> float:
    """Return what is in hand [g]; of what is there and not tracked there is no telling."""
    holding = holding_of(stock, name, "g", None)
    if holding is None:
        return 0.0
    return UNTOLD if holding.in_hand is None else plain_number(holding.in_hand)


def _contains(powder: KnownPowder | None) -> tuple[str, ...]:
    return (powder.contains if powder else None) or ()
