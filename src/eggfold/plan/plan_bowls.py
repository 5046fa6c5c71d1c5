"""A quantity of a recipe as bowls: whole eggs, equal bowls with the odd one last, loads for the pan."""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.bowls import split_eggs
from eggfold.engine.drying import freezer_l, tray_area_m2
from eggfold.engine.ordering import arrange
from eggfold.engine.schedule import Shop
from eggfold.engine.session import Load, Stages, Work
from eggfold.load.recipe import Baits
from eggfold.plan.plan_size import hold_bowls, size_in_bowls
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import Batch, build_batch
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.plan import Quantity
    from eggfold.load.recipe import Bait, Strength
    from eggfold.recipe.baits import BaitLine


class Basket(NamedTuple):
    """One load of one size: paste in it [g], baits, and how long it boils [s]."""

    number: int
    kind: str
    diameter_mm: float
    paste_g: float
    baits: float
    boil_s: float
    wait_s: float


class Bowl(NamedTuple):
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

    def numbered(self, number: int, want: int) -> Bowl:
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


def whole_batch(opened: OpenRecipe, strength: Strength, quantity: Quantity) -> Batch:
    """Return all of a quantity as one batch."""
    sized = with_sizes(opened, strength, quantity.sizes)
    return build_batch(sized, Asked(strength, size_of(quantity)))


def split_bowls(
    opened: OpenRecipe, whole: Batch, eggs: int, bowl_g: float, *, first: int, want: int
) -> tuple[Bowl, ...]:
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
            made[n, own] = build_batch(counted, Asked(whole.strength, BatchSize("eggs", float(n))))
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


def build_bowl(number: int, want: int, batch: Batch) -> Bowl:
    """Return a bowl with its loads; they hold all of the paste that leaves the bowl."""
    baskets: list[Basket] = []
    density = batch.paste.density_g_ml
    for line, paste_g in zip(batch.baits, _paste_by_size(batch), strict=True):
        loads = max(1, line.loads)
        baskets += [_basket(len(baskets) + i + 1, line, paste_g, loads) for i in range(loads)]
    loads_of = tuple(
        Load(b.paste_g, b.boil_s + b.wait_s, tray_area_m2(b.paste_g, density, b.diameter_mm))
        for b in baskets
    )
    room = freezer_l(batch.paste.finished_g, density)
    return Bowl(number, want, batch, tuple(baskets), Work(loads_of, want), room)


def with_loads(bowl: Bowl, order: tuple[int, ...]) -> Bowl:
    """Return a bowl with its loads in another order, numbered anew."""
    baskets = tuple(bowl.baskets[i]._replace(number=n + 1) for n, i in enumerate(order))
    loads = tuple(bowl.work.loads[i] for i in order)
    return bowl._replace(baskets=baskets, work=bowl.work._replace(loads=loads))


def in_best_order(bowls: Sequence[Bowl], stages: Stages, shop: Shop) -> tuple[Bowl, ...]:
    """Return bowls and their loads in the order that ends soonest, numbered from 1."""
    best = arrange([b.work for b in bowls], stages, shop)
    return tuple(
        with_loads(bowls[i], best.loads[i])._replace(number=n + 1) for n, i in enumerate(best.bowls)
    )


def _basket(number: int, line: BaitLine, paste_g: float, loads: int) -> Basket:
    share = 1 / loads
    return Basket(
        number,
        line.kind,
        line.diameter_mm,
        paste_g * share,
        line.count * share,
        line.boil.said_s,
        line.wait_s,
    )


def _paste_by_size(batch: Batch) -> list[float]:
    """Return the paste [g] of each size; together with what is left over it is all that is rolled."""
    rolled = batch.paste.mass_g * (1 - batch.roll.bowl_loss) - batch.unrolled_g
    raw = [max(line.count, 1) * line.each_g for line in batch.baits]
    return [rolled * g / sum(raw) for g in raw]
