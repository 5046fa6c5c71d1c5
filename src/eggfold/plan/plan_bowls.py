"""A quantity of a recipe as bowls: whole eggs, equal bowls with the odd one last, loads for the pan."""

from __future__ import annotations

import math
from itertools import accumulate, chain
from typing import TYPE_CHECKING

from eggfold.engine.day_plan import ROUGH_EVALUATIONS, fill_days, largest_share
from eggfold.engine.drying import freezer_l, tray_area_m2
from eggfold.engine.scaling import loads_needed, split_eggs
from eggfold.engine.workplace import BowlWork, PanLoad, mixing_s, rolling_s
from eggfold.load.recipe import Baits
from eggfold.recipe.asked import Asked, BatchSize
from eggfold.recipe.batch import Batch, build_batch
from eggfold.recipe.boil_times import pan_load_g
from eggfold.records import NamedTuple
from eggfold.reference.session import FEWER_BOWLS_S, SMALLER_BOWLS
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from eggfold.amounts import Amount
    from eggfold.engine.workplace import Hours
    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.plan import Quantity
    from eggfold.load.recipe import Bait, Strength
    from eggfold.plan.session import Session, Workshop
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
    work: BowlWork
    freezer_l: float

    @property
    def area_m2(self) -> float:
        """Tray that the whole bowl needs."""
        return sum(load.area_m2 for load in self.work.loads)

    def made_as(self, order: Sequence[int]) -> PlanBowl:
        """Return the bowl with its loads to tick in the order in which they are made."""
        baskets = (self.baskets[i]._replace(number=n + 1) for n, i in enumerate(order))
        return self._replace(baskets=tuple(baskets))


class Divisible(NamedTuple):
    """A quantity of one recipe to be split into bowls, and the paste that a bowl of it may take."""

    recipe: OpenRecipe
    whole: Batch
    eggs: int
    most_g: float

    @property
    def paste_of_one_g(self) -> float:
        """The paste that one egg makes."""
        return self.whole.paste.mass_g / self.whole.eggs

    def eggs_of_bowls(self, more: int) -> tuple[int, ...]:
        """Return the eggs of each bowl, of the fewest or of so many more; a small want stays one bowl."""
        groups = split_eggs(self.eggs, self.paste_of_one_g, self.most_g)
        if more and sum(group.number for group in groups) > 1:
            groups = split_eggs(self.eggs, self.paste_of_one_g, self.most_g, more=more)
        return tuple(group.eggs for group in groups for _ in range(group.number))


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
    opened: OpenRecipe,
    strength: Strength,
    quantity: Quantity,
    drying: Amount | None = None,
    pan_l: float | None = None,
) -> Batch:
    """Return all of a quantity as one batch, dried for the plan's time or the bench's."""
    sized = with_sizes(opened, strength, quantity.sizes)
    drying_h = amount_in(drying, "h") if drying else None
    return build_batch(sized, Asked(strength, size_of(quantity), drying_h=drying_h, pan_l=pan_l))


def most_paste_g(whole: Batch, session: Session) -> float:
    """Return the paste that a bowl may take: what it holds, and what is rolled and boiled in time.

    A bowl may stand through the longest break, unless that is longer than half the time it may stand for.
    """
    workshop, place = session.workshop, session.place
    break_s = max((end - start for day in session.hours for start, end in day.breaks), default=0.0)
    if break_s <= place.stand_s / 2:
        place = place._replace(stand_s=place.stand_s - break_s)
    full = bowl_work(whole, workshop, workshop.bowl_g / whole.paste.mass_g)
    return workshop.bowl_g * largest_share(full, place)


def split_evenly(
    session: Session,
    wants: Sequence[Divisible],
    hours: tuple[Hours, ...],
) -> tuple[tuple[int, ...], ...]:
    """Return the eggs of each bowl of each want: smaller bowls where that ends the days clearly sooner."""
    splits = [
        tuple(want.eggs_of_bowls(more) for want in wants) for more in range(SMALLER_BOWLS + 1)
    ]
    splits = list(dict.fromkeys(splits))
    if len(splits) == 1 or sum(map(len, splits[0])) > MOST_COMPARED:
        return splits[0]
    return min(splits, key=lambda split: _cost(session, wants, split, hours))


MOST_COMPARED = 40
"""Plans of more bowls than this are made of the fewest there can be."""


def _cost(
    session: Session,
    wants: Sequence[Divisible],
    split: tuple[tuple[int, ...], ...],
    hours: tuple[Hours, ...],
) -> tuple[float, float]:
    """Return the paste that is left out, and the time that is worked and that more bowls are worth."""
    works = [
        bowl_work(want.whole, session.workshop, eggs / want.whole.eggs)
        for want, bowls in zip(wants, split, strict=True)
        for eggs in bowls
    ]
    grams = [
        want.paste_of_one_g * eggs for want, own in zip(wants, split, strict=True) for eggs in own
    ]
    days, left = fill_days(
        works, range(len(works)), session.place, hours, (), session.frees_at, ROUGH_EVALUATIONS
    )
    runs = [(day.run, own) for day, own in zip(days, hours, strict=True) if day.run]
    worked_s = sum(run.clean_s - own.opens_s for run, own in runs)
    return round(sum(grams[i] for i in left)), worked_s + FEWER_BOWLS_S * len(works)


def split_bowls(
    want: Divisible, each: Sequence[int], workshop: Workshop, *, first: int, place: int
) -> tuple[PlanBowl, ...]:
    """Return the bowls of a want, so many eggs each, numbered from ``first``; ``place`` is the want's own."""
    counts = _shared_counts(want.recipe, want.whole.strength, each)
    made: dict[tuple[int, tuple[int, ...]], Batch] = {}
    bowls = []
    for i, (n, own) in enumerate(zip(each, counts, strict=True)):
        if (n, own) not in made:
            counted = _with_counts(want.recipe, want.whole.strength, own)
            asked = want.whole.asked._replace(size=BatchSize("eggs", float(n)))
            alone = n == want.whole.eggs
            made[n, own] = (
                want.whole._replace(asked=asked) if alone else build_batch(counted, asked)
            )
        bowls.append(build_bowl(first + i, place, made[n, own], workshop))
    return tuple(bowls)


def _shared_counts(
    opened: OpenRecipe, strength: Strength, each: Sequence[int]
) -> list[tuple[int, ...]]:
    """Share every fixed count over the bowls by their eggs; the shares add up to it."""
    shared: list[list[int]] = [[] for _ in each]
    total = sum(each)
    for bait in opened.recipe.baits_of(strength):
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
    for bait in opened.recipe.baits_of(strength):
        count = next(left) if bait.count else None
        if count != 0:
            baits.append(bait.model_copy(update={"count": count}))
    return with_sizes(opened, strength, tuple(baits) or None)


def build_bowl(number: int, want: int, batch: Batch, workshop: Workshop) -> PlanBowl:
    """Return a bowl with its loads; they hold all of the paste that leaves the bowl."""
    baskets: list[Basket] = []
    for line, n in _lines(batch, workshop):
        baskets += (_basket(len(baskets) + 1 + i, line, n) for i in range(n))
    work = bowl_work(batch, workshop)
    return PlanBowl(number, want, batch, tuple(baskets), work, _room_l(batch))


def bowl_work(batch: Batch, workshop: Workshop, share: float = 1.0) -> BowlWork:
    """Return what is to be done with a bowl of a share of a batch."""
    paste_g = share * batch.paste.mass_g
    mix_s = mixing_s(paste_g, workshop.bowl_g) if workshop.mix_s is None else workshop.mix_s
    loads = chain.from_iterable(
        (_load(batch, line, share / number, workshop),) * number
        for line, number in _lines(batch, workshop, share)
    )
    return BowlWork(mix_s, tuple(loads), HOOKBAIT_WORTH if batch.strength == "hookbait" else 0.0)


HOOKBAIT_WORTH = 1.0
"""Hookbaits are left out last."""


def _lines(batch: Batch, workshop: Workshop, share: float = 1.0) -> Iterator[tuple[BaitLine, int]]:
    """Yield the baits of a share of a batch, with their loads."""
    load_g = pan_load_g(batch.roll.heat(batch.paste), batch.roll.kitchen)
    for line in batch.baits:
        most_g = load_g if line.boil else math.inf
        roll_s = _roll_s(line, share, workshop)
        yield line, loads_needed(share * line.baits_g, most_g, roll_s)


def _roll_s(line: BaitLine, share: float, workshop: Workshop) -> float:
    """Return how long one person rolls a share of some baits; those on cork by hand."""
    if line.core_mm:
        return share * line.count / workshop.cork_pace_h * 3600
    return rolling_s(share * line.paste_g, workshop.pace_kg_h)


def _load(batch: Batch, line: BaitLine, share: float, workshop: Workshop) -> PanLoad:
    return PanLoad(
        f"{batch.file} {batch.strength} {line.kind} {line.diameter_mm:g}",
        share * line.paste_g,
        _roll_s(line, share, workshop),
        line.boil.said_s if line.boil else 0.0,
        line.wait_s,
        tray_area_m2(share * line.baits_g, line.density_g_ml, line.diameter_mm),
        workshop.cool_s + line.drying_h * 3600,
    )


def _room_l(batch: Batch) -> float:
    """Return the room in the freezer, size by size: a kilo of baits on cork takes more, one of paste less."""
    paste, fresh_g = batch.paste, sum(line.baits_g for line in batch.baits) or 1.0
    baits_l = (
        freezer_l(paste.finished_g * line.baits_g / fresh_g, line.density_g_ml)
        for line in batch.baits
    )
    return sum(baits_l) + batch.paste_g / 1000 / paste.density_g_ml


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
