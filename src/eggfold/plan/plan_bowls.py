"""A quantity of a recipe as bowls: whole eggs, equal bowls with the odd one last, loads for the pan."""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.bowls import split_eggs
from eggfold.engine.ordering import arrange
from eggfold.engine.schedule import Shop
from eggfold.engine.session import Load, Stages, Work
from eggfold.engine.trays import freezer_l, tray_area_m2
from eggfold.load.recipe import Baits
from eggfold.plan.plan_size import hold_bowls, size_in_bowls
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import Batch, build_batch
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from eggfold.amounts import Amount
    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.plan import Quantity
    from eggfold.load.recipe import Bait, Strength
    from eggfold.recipe.baits import BaitLine


class Basket(NamedTuple):
    """One load of one size: its paste, and its baits with their corks [g]; how long it boils [s]."""

    number: int
    kind: str
    diameter_mm: float
    paste_g: float
    load_g: float
    baits: float
    boil_s: float
    wait_s: float


class PlanBowl(NamedTuple):
    """One mixing: its number in the plan, what goes in, and the loads it is boiled in."""

    number: int
    want: int
    batch: Batch
    baskets: tuple[Basket, ...]
    work: Work
    freezer_l: float

    @property
    def baits(self) -> int:
        """All baits of the bowl."""
        return sum(line.count for line in self.batch.baits)

    @property
    def area_m2(self) -> float:
        """Tray that the whole bowl needs."""
        return sum(load.area_m2 for load in self.work.loads)

    def numbered(self, number: int, want: int) -> PlanBowl:
        """Return the same bowl at another place of a plan, for another want."""
        return self._replace(number=number, want=want, work=self.work._replace(want=want))


def with_sizes(
    opened: OpenRecipe, strength: Strength, sizes: tuple[Bait, ...] | None
) -> OpenRecipe:
    """Return the recipe with other sizes for a strength."""
    if sizes is None:
        return opened
    baits = Baits(**{strength: sizes})
    return opened._replace(recipe=opened.recipe.model_copy(update={"baits": baits}))


def size_of(quantity: Quantity) -> BatchSize:
    """Return how much is wanted, as a size of a batch."""
    if quantity.bait is not None:
        return BatchSize("bait", amount_in(quantity.bait, "g"))
    if quantity.count is not None:
        return BatchSize("count", float(quantity.count))
    return BatchSize("eggs", float(quantity.eggs or 1))


def whole_batch(
    opened: OpenRecipe, strength: Strength, quantity: Quantity, drying: Amount | None = None
) -> Batch:
    """Return all of a quantity as one batch, dried for the plan's time or the bench's."""
    sized = with_sizes(opened, strength, quantity.sizes)
    drying_h = amount_in(drying, "h") if drying else None
    return build_batch(sized, Asked(strength, size_of(quantity), drying_h=drying_h))


def split_bowls(
    opened: OpenRecipe, whole: Batch, eggs: int, bowl_g: float, *, first: int, want: int
) -> tuple[PlanBowl, ...]:
    """Return the bowls that so many eggs of a batch make, numbered from ``first``."""
    hold_bowls(size_in_bowls(whole, eggs, bowl_g))
    groups = split_eggs(eggs, whole.paste.mass_g / whole.eggs, bowl_g)
    each = [group.eggs for group in groups for _ in range(group.number)]
    counts = _shared_counts(opened, whole.strength, each)
    made: dict[tuple[int, tuple[int, ...]], Batch] = {}
    bowls = []
    for i, (n, own) in enumerate(zip(each, counts, strict=True)):
        if (n, own) not in made:
            counted = _with_counts(opened, whole.strength, own)
            asked = whole.asked._replace(size=BatchSize("eggs", float(n)))
            made[n, own] = build_batch(counted, asked)
        bowls.append(build_bowl(first + i, want, made[n, own]))
    return tuple(bowls)


def _fixed(opened: OpenRecipe, strength: Strength) -> tuple[Bait, ...]:
    baits = getattr(opened.recipe.baits, strength) if opened.recipe.baits else None
    return tuple(baits or ())


def _shared_counts(
    opened: OpenRecipe, strength: Strength, each: list[int]
) -> list[tuple[int, ...]]:
    """Share every fixed count over the bowls by their eggs; the shares add up to it."""
    shared: list[list[int]] = [[] for _ in each]
    total = sum(each)
    for bait in _fixed(opened, strength):
        if not bait.count:
            continue
        before = 0
        for i, eggs in enumerate(accumulate(each)):
            upto = bait.count * eggs // total
            shared[i].append(upto - before)
            before = upto
    return [tuple(counts) for counts in shared]


def _with_counts(opened: OpenRecipe, strength: Strength, counts: tuple[int, ...]) -> OpenRecipe:
    if not counts:
        return opened
    left = iter(counts)
    baits = []
    for bait in _fixed(opened, strength):
        count = next(left) if bait.count else None
        if count != 0:
            baits.append(bait.model_copy(update={"count": count}))
    return with_sizes(opened, strength, tuple(baits) or None)


def build_bowl(number: int, want: int, batch: Batch) -> PlanBowl:
    """Return a bowl with its loads; they hold all of the paste that leaves the bowl."""
    baskets: list[Basket] = []
    loads: list[Load] = []
    for line in batch.baits:
        number_of = max(1, line.loads)
        for _ in range(number_of):
            basket = _basket(len(baskets) + 1, line, number_of)
            baskets.append(basket)
            area = tray_area_m2(basket.load_g, line.density_g_ml, line.diameter_mm)
            loads.append(Load(basket.paste_g, basket.boil_s + basket.wait_s, area))
    return PlanBowl(number, want, batch, tuple(baskets), Work(tuple(loads), want), _room_l(batch))


def _room_l(batch: Batch) -> float:
    """Return the room in the freezer, size by size: a kilo of baits on cork takes more."""
    paste, fresh_g = batch.paste, sum(line.baits_g for line in batch.baits) or 1.0
    return sum(
        freezer_l(paste.finished_g * line.baits_g / fresh_g, line.density_g_ml)
        for line in batch.baits
    )


def with_loads(bowl: PlanBowl, order: tuple[int, ...]) -> PlanBowl:
    """Return a bowl with its loads in another order, numbered anew."""
    baskets = tuple(bowl.baskets[i]._replace(number=n + 1) for n, i in enumerate(order))
    loads = tuple(bowl.work.loads[i] for i in order)
    return bowl._replace(baskets=baskets, work=bowl.work._replace(loads=loads))


def in_best_order(bowls: Sequence[PlanBowl], stages: Stages, shop: Shop) -> tuple[PlanBowl, ...]:
    """Return bowls and their loads in the order that ends soonest, numbered from 1."""
    best = arrange([b.work for b in bowls], stages, shop)
    return tuple(
        with_loads(bowls[i], best.loads[i])._replace(number=n + 1) for n, i in enumerate(best.bowls)
    )


def _basket(number: int, line: BaitLine, loads: int) -> Basket:
    return Basket(
        number,
        line.kind,
        line.diameter_mm,
        line.paste_g / loads,
        line.baits_g / loads,
        line.count / loads,
        line.boil.said_s if line.boil else 0.0,
        line.wait_s,
    )
