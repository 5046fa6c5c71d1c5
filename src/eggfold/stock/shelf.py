"""What the shelf holds today, what is past its date, and what runs out first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Literal

from eggfold.load.lots import Lot, lots_of
from eggfold.load.recipe import STRENGTHS
from eggfold.load.register import all_mixes
from eggfold.nearest import fold
from eggfold.recipe.batch import Batch
from eggfold.recipe.trial import build_egg
from eggfold.records import NamedTuple
from eggfold.reference.measures import SOON_DAYS
from eggfold.stock.holdings import ShelfToday, as_fraction
from eggfold.stock.shopping import ShoppingItem, build_shopping
from eggfold.units import amount_in

if TYPE_CHECKING:
    from datetime import date

    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.shelf import BaseUnit, Item

Status = Literal["in date", "soon due", "past its date", "not tracked"]


class Supply(NamedTuple):
    """What is in date, what that recipe needs for so many eggs, and the unit of both."""

    in_hand: float
    need: float
    eggs: float
    unit: str


class ShelfRow(NamedTuple):
    """One thing on the shelf, and how far it reaches."""

    name: str
    left: float | None
    unit: BaseUnit | None
    status: Status
    opened: date | None
    use_by: date | None
    days_left: int | None
    lasts_eggs: float | None
    """Eggs it lasts in the recipe that takes most of it, at the freebie dose."""
    recipe: str | None
    """That recipe."""
    drawn: Supply | None


class BaitRow(NamedTuple):
    """A lot of finished bait, its age in days, None where its day is not known, and whether it has dried by now."""

    lot: Lot
    age_days: int | None
    is_dry: bool


class ShelfState(NamedTuple):
    """The shelf today, seen from the recipes that draw on it."""

    file: str
    day: date
    rows: tuple[ShelfRow, ...]
    first_out: ShelfRow | None
    missing: tuple[str, ...]
    """What the recipes need and the shelf does not name."""
    unused: tuple[str, ...]
    """What no recipe uses; empty where there is no recipe."""
    baits: tuple[BaitRow, ...] = ()


def _names_of(opened: OpenRecipe) -> Iterator[str]:
    recipe = opened.recipe
    yield build_egg(recipe).label
    yield from (a.name for a in (*opened.additives, *opened.soak))
    for _, mix in all_mixes(recipe):
        yield mix.name
        yield from mix.blend or ()
    for strength in STRENGTHS:
        for bait in recipe.baits_of(strength):
            if bait.core:
                yield f"cork balls {amount_in(bait.core, 'mm'):g} mm"


def build_shelf(
    stock: ShelfToday,
    recipes: Sequence[OpenRecipe],
    batches: Iterable[Batch],
    drying_h: float,
) -> ShelfState:
    """Return the state of the shelf, seen from recipes and from their batches of one egg."""
    reach: dict[str, tuple[float, str, Supply]] = {}
    missing: dict[str, None] = {}
    for recipe, item in _needed(stock, batches):
        if item.on_shelf is None:
            missing[item.name] = None
        elif item.in_hand is not None and item.need:
            drawn = Supply(item.in_hand, item.need, item.eggs, item.unit)
            lasts = (
                float(as_fraction(item.in_hand) / as_fraction(item.need) * as_fraction(item.eggs)),
                recipe,
                drawn,
            )
            reach[item.on_shelf] = min(lasts, reach.get(item.on_shelf, lasts))
    shelf = stock.opened.shelf
    rows = [_row(stock, name, item, reach.get(name)) for name, item in shelf.items.items()]
    lasting = [
        (row.lasts_eggs, row)
        for row in rows
        if row.lasts_eggs is not None and row.status != "past its date"
    ]
    first = min(lasting, key=lambda pair: pair[0])[1] if lasting else None
    unused = tuple(_unused(stock, recipes)) if recipes else ()
    baits = tuple(_bait(lot, stock.today, drying_h) for lot in lots_of(stock.opened))
    return ShelfState(
        stock.opened.file, stock.today, tuple(rows), first, tuple(missing), unused, baits
    )


def _bait(lot: Lot, today: date, drying_h: float) -> BaitRow:
    begun = lot.made or lot.since
    age = (today - begun).days if begun else None
    return BaitRow(lot, age, lot.state == "drying" and age is not None and age > drying_h / 24)


def _row(
    stock: ShelfToday, name: str, item: Item, reach: tuple[float, str, Supply] | None
) -> ShelfRow:
    left = float(stock.opened.exact(item.left)) if item.left else None
    days = (item.use_by - stock.today).days if item.use_by else None
    return ShelfRow(
        name,
        left,
        item.left.kind if item.left else None,
        _status(item, days),
        item.opened,
        item.use_by,
        days,
        reach[0] if reach else None,
        reach[1] if reach else None,
        reach[2] if reach else None,
    )


def _status(item: Item, days: int | None) -> Status:
    if days is not None and days < 0:
        return "past its date"
    if days is not None and days <= SOON_DAYS:
        return "soon due"
    return "in date" if item.left else "not tracked"


def _needed(stock: ShelfToday, batches: Iterable[Batch]) -> Iterator[tuple[str, ShoppingItem]]:
    """Yield everything that each recipe takes for one egg, as the shelf has it today."""
    for batch in batches:
        for item in build_shopping([batch], stock):
            yield batch.recipe, item


def _unused(stock: ShelfToday, recipes: Iterable[OpenRecipe]) -> Iterable[str]:
    names = {fold(name) for opened in recipes for name in _names_of(opened)}
    used = {found[0] for name in names if (found := stock.opened.find(name))}
    return (name for name in stock.opened.shelf.items if name not in used)
