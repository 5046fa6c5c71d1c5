"""What a kilo of powder costs off the shelf, and what could stand in for what is missing there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from eggfold.recipe.composition import KnownPowder, known_powder
from eggfold.recipe.powder import MixPrice
from eggfold.recipe.swap import alike
from eggfold.records import NamedTuple
from eggfold.stock.needs import Need, NeedOfBatch
from eggfold.stock.shopping import ShoppingItem, items_by_need

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from eggfold.recipe.batch import Batch
    from eggfold.recipe.composition import Powders
    from eggfold.recipe.powder import IngredientLine
    from eggfold.stock.holdings import ShelfToday


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
    if mix is None or not mix.blend or not _is_short(_items({mix.name: need_g}, stock)[mix.name]):
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
