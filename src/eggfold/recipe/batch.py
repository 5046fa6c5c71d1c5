"""The batch: its eggs from whatever was asked for, its bowls, and all that a card tells of it."""

from __future__ import annotations

import math
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING

from eggfold.engine.powder import Rates
from eggfold.engine.scaling import equal_bowls, split_eggs
from eggfold.errors import NoAnswerError, errors_of
from eggfold.load.eggs import MOST_EGGS
from eggfold.load.load_recipe import Companion, OpenRecipe, find_recipe
from eggfold.nearest import fold
from eggfold.recipe.asked import Asked, Assumption, BatchSize, Defaults, joined
from eggfold.recipe.baits import (
    BaitLine,
    Drying,
    PasteLine,
    Roll,
    WantedBait,
    build_baits,
    count_of_all,
    drying_of,
    expected_finished,
    finished_of,
    refuse_more_than_counted,
    roll_of,
    wanted_of,
)
from eggfold.recipe.boil_times import Cut, custom_assumptions, noted_cut
from eggfold.recipe.cautions import Caution, build_cautions, bulk_caution, raw_cautions
from eggfold.recipe.learning import DriedBowl, Learnt, LearntFigure, learned_yield, note_cautions
from eggfold.recipe.mixing import Bowlful, DoseLine, DryMix, Mixing, Paste, Poured, build_mixing
from eggfold.recipe.sanity import boil_doubts, recipe_doubts
from eggfold.recipe.trial import Egg, EggBox, Trial, mix_of, trial_eggs
from eggfold.records import NamedTuple
from eggfold.reference.defaults import LEAST_FINISHED_SHARE, MOST_FINISHED_SHARE

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from eggfold.load.recipe import Mix, Strength
    from eggfold.recipe.soak import SoakLine


class EggsAsked(NamedTuple):
    """The eggs that doses go by, which liquid egg or a whole bag need not make whole."""

    worth: float
    whole: bool
    """Whether they are counted, so that a bowl holds whole ones."""


def eggs_asked(mixing: Mixing, roll: Roll, paste_of_one: Paste, dried: LearntFigure) -> EggsAsked:
    """Return the eggs of the size that is asked for; raises NoAnswerError where there are none."""
    size, egg = mixing.asked.size, mixing.egg
    if size.by == "trial":
        found = trial_eggs(mixing.opened.recipe) if egg.liquid else 1
        return EggsAsked(found, whole=not egg.liquid)
    if size.by == "liquid":
        return EggsAsked(_not_too_many(size.value / egg.each_g), whole=False)
    if size.by == "powder":
        one_g = mixing.bowlful(1).base_g
        eggs = size.value / one_g if size.is_bag else _whole_by_powder(size.value, one_g)
        return EggsAsked(_not_too_many(eggs), whole=not size.is_bag)
    return EggsAsked(_not_too_many(_counted(size, roll, paste_of_one, dried)), whole=not egg.liquid)


def _counted(size: BatchSize, roll: Roll, paste_of_one: Paste, dried: LearntFigure) -> int:
    """Return whole eggs: as many as are asked for, or the fewest that make what is."""
    if size.by == "eggs":
        return int(size.value)
    wanted = size.value * size.enough * (1 - 1e-9)
    if size.by == "count":
        refuse_more_than_counted(roll, int(size.value))
        return _smallest(lambda n: count_of_all(roll, paste_of_one, n) >= wanted)
    one_g = paste_of_one.mass_g

    def enough(n: int) -> bool:
        return finished_of(roll, paste_of_one._replace(mass_g=one_g * n), dried).mass_g >= wanted

    return _smallest(enough)


def _not_too_many(eggs: float) -> float:
    if eggs > MOST_EGGS:
        raise NoAnswerError(f"that takes more than {MOST_EGGS:,} eggs; ask for a smaller batch")
    return eggs


def _whole_by_powder(bag_g: float, one_g: float) -> int:
    eggs = math.floor(bag_g / one_g + 1e-9)
    if eggs < 1:
        raise NoAnswerError(
            f"{bag_g:g} g of base mix is not enough for one egg, which takes {one_g:.0f} g; "
            f"a bag of {math.ceil(one_g)} g is"
        )
    return eggs


def _smallest(enough: Callable[[int], bool]) -> int:
    """Return the least whole number of eggs that is enough, or MOST_EGGS + 1."""
    low, high = 1, 1
    while high <= MOST_EGGS and not enough(high):
        low, high = high + 1, high * 2
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle + 1, high)
    return low


def bowls_of(
    asked: EggsAsked, paste_of_one_g: float, bowl_g: float
) -> tuple[tuple[int, float], ...]:
    """Return how many bowls of how many eggs a batch is stirred in."""
    if asked.whole:
        return split_eggs(int(asked.worth), paste_of_one_g, bowl_g)
    number = equal_bowls(asked.worth * paste_of_one_g, bowl_g)
    return ((number, asked.worth / number),)


def eggs_to_beat(asked: EggsAsked, mixing: Mixing, poured: Poured | None) -> int:
    """Return the whole eggs to have: of a bag those for its high end."""
    most = poured.high_g / mixing.egg.each_g if poured else asked.worth
    return max(1, math.ceil(most - 1e-9))


def eggs_sure(mixing: Mixing, powder: DryMix, eggs: int) -> int:
    """Return the most whole eggs that a bag is enough for in 19 cases of 20: at their high end."""
    # a bowl's range is as wide in per cent, whatever its eggs
    most_g = powder.base_mix_high_g / eggs
    return math.floor(mixing.asked.size.value / most_g + 1e-9)


MOST_PASSED = 3
"""Recipes with errors that a card names; house limit."""


class BowlShare(NamedTuple):
    """So many equal bowls of a batch, and what goes into each of them."""

    number: int
    eggs: float
    """Those that doses go by: of liquid egg or a whole bag they need not be whole."""
    doses: tuple[DoseLine, ...]
    powder: DryMix
    paste_g: float
    poured: Poured | None = None


class Batch(NamedTuple):
    """The answer for one recipe."""

    recipe: str
    file: str
    asked: Asked
    egg: Egg
    eggs: int
    """Whole eggs to break, or what liquid egg counts as, rounded up."""
    worth: float
    """Eggs that doses go by."""
    trial: Trial
    learned: Learnt
    dried: LearntFigure
    """Finished bait over what was expected of the noted bowls."""
    rates: Rates
    doses: tuple[DoseLine, ...]
    wet_g: float
    powder: DryMix
    paste: Paste
    roll: Roll
    baits: tuple[BaitLine, ...]
    unrolled_g: float
    bowls: tuple[BowlShare, ...]
    wait_s: float
    sha256: str
    """Of the recipe file's bytes, in hexadecimal."""
    companions: tuple[Companion, ...]
    soak: tuple[SoakLine, ...]
    """What the finished bait takes up."""
    pastes: tuple[PasteLine, ...]
    """What is neither rolled nor boiled nor dried."""
    mix: Mix
    """Its base mix as the recipe states it."""
    poured: Poured | None
    """The egg that varies, where the whole bag goes in."""
    sure: int | None
    """Whole eggs that the bag is enough for in 19 cases of 20."""
    assumptions: tuple[Assumption, ...] = ()
    cautions: tuple[Caution, ...] = ()

    @property
    def served(self) -> tuple[BaitLine | PasteLine, ...]:
        """All that is fished: baits, then paste."""
        return *self.baits, *self.pastes

    @property
    def soak_s(self) -> float:
        """How long its finished bait takes to take up all of its soak."""
        return 3600 * max((line.hours for line in self.soak), default=0.0)

    @property
    def paste_g(self) -> float:
        """What is bagged as paste."""
        return sum(line.mass_g for line in self.pastes)

    @property
    def counted(self) -> int | None:
        """The eggs, None where they are not counted."""
        return None if self.egg.liquid else self.eggs

    @property
    def boxes(self) -> tuple[EggBox, ...] | None:
        """The boxes that the eggs come from, where they are mixed."""
        return self.egg.boxes or None

    @property
    def strength(self) -> Strength:
        """Hookbait or freebie."""
        return self.asked.strength

    @property
    def bowls_number(self) -> int:
        """How many bowls the batch is stirred in."""
        return sum(share.number for share in self.bowls)

    @property
    def shelled_g(self) -> float:
        """All egg, shelled [g]."""
        return (self.worth if self.egg.liquid else self.eggs) * self.egg.each_g


class Tally(NamedTuple):
    """How many baits some batches make, and from how few to how many."""

    expected: int
    low: int
    high: int


def tally(batches: Iterable[Batch]) -> Tally:
    """Count all baits of some batches."""
    lines = [line for batch in batches for line in batch.baits]
    return Tally(
        sum(line.count for line in lines),
        sum(line.low for line in lines),
        sum(line.high for line in lines),
    )


def build_batch(opened: OpenRecipe, asked: Asked) -> Batch:
    """Return what was asked of a recipe that can answer; raises NoAnswerError where no batch exists."""
    mixing = build_mixing(opened, asked)
    one = mixing.bowlful(1)
    paste_of_one = mixing.paste(one)
    cuts = cuts_of(opened, mixing.mix.name)
    roll = roll_of(opened.recipe, asked, mixing.bowl_loss, mixing.bench, cuts)
    dried = _dried(mixing, paste_of_one)
    eggs = eggs_asked(mixing, roll, paste_of_one, dried)
    bowl = one if eggs.worth == 1 else mixing.bowlful(eggs.worth)
    bowls = bowls_of(eggs, paste_of_one.mass_g, mixing.bench.bowl_g)
    powder, poured = _powder(mixing, bowl, sum(number for number, _ in bowls))
    paste, doses = mixing.paste(bowl), mixing.doses(bowl)
    paste = paste._replace(finished=finished_of(roll, paste, dried))
    whole = eggs_to_beat(eggs, mixing, poured)
    baits, pastes, unrolled = build_baits(roll, paste, (poured or powder).margin)
    soak, paste, baits = _soaked(opened, mixing, paste, baits)
    lone = BowlShare(1, eggs.worth, doses, powder, paste.mass_g, poured)
    batch = Batch(
        opened.recipe.name,
        opened.file,
        asked,
        mixing.egg,
        whole,
        eggs.worth,
        mixing.trial,
        mixing.learned,
        dried,
        mixing.rates,
        doses,
        bowl.wet_g,
        powder,
        paste,
        roll,
        baits,
        unrolled,
        tuple(_bowl_shares(mixing, lone, bowls, paste_of_one.mass_g)),
        max(b.wait_s for b in baits),
        opened.placed.source.sha256,
        (*opened.companions.read_with(opened.file), *_recipes_read(mixing)),
        soak,
        pastes,
        mixing.mix,
        poured,
        eggs_sure(mixing, powder, whole) if asked.size.whole_eggs else None,
    )
    return batch._replace(
        assumptions=_assumptions(mixing, batch, paste_of_one),
        cautions=tuple(_cautions(mixing, batch)),
    )


def _assumptions(mixing: Mixing, batch: Batch, paste_of_one: Paste) -> tuple[Assumption, ...]:
    return joined(
        *(mixing.assumptions, paste_of_one.assumptions, batch.dried.assumptions),
        *(batch.roll.assumptions, batch.roll.heat(batch.paste).assumptions),
        custom_assumptions(bait.boil for bait in batch.baits if bait.boil),
        [mixing.bench.bowl_assumption],
        *(line.assumptions for line in batch.soak),
    )


def _soaked(
    opened: OpenRecipe, mixing: Mixing, paste: Paste, baits: tuple[BaitLine, ...]
) -> tuple[tuple[SoakLine, ...], Paste, tuple[BaitLine, ...]]:
    """Return what is soaked into finished bait, and paste and baits with what they take up."""
    if not opened.soak:
        return (), paste, baits
    from eggfold.recipe.soak import build_soak, soaked_baits, taken_up_g  # noqa: PLC0415 - few soak

    strength = mixing.asked.strength
    soak = tuple(build_soak(opened.soak, strength, paste.finished_g, mixing.bench))
    paste = paste._replace(soaked_g=paste.finished_g + taken_up_g(soak))
    return soak, paste, tuple(soaked_baits(baits, soak))


def _powder(mixing: Mixing, bowl: Bowlful, bowls: int = 1) -> tuple[DryMix, Poured | None]:
    """Return the dry mix of some bowls, and the egg that varies where the whole bag goes in."""
    if mixing.asked.size.is_bag:
        return mixing.bag(bowl, bowls=bowls)
    return mixing.powder(bowl, bowls=bowls), None


def _cautions(mixing: Mixing, batch: Batch) -> Iterator[Caution]:
    """Yield what its doses, baits and notes ask to mind, and what was left out of them."""
    yield from _dose_cautions(batch)
    yield from _doubtful(mixing, batch.baits)
    yield from _lift_cautions(batch.baits)
    yield from _soak_cautions(mixing.opened, batch)
    used = [a for a in mixing.additives if a.dose(batch.strength) is not None]
    soaked = [line.dose.additive for line in batch.soak]
    mix, powders = declared_mix(mixing.opened, batch.strength), mixing.opened.companions.powders
    yield from build_cautions(mix, used, powders, soaked)
    yield from raw_cautions(batch.baits, batch.pastes)
    yield from note_cautions(batch.learned, batch.dried, batch.paste.density)
    yield from _passed_over(mixing)


def _recipes_read(mixing: Mixing) -> Iterator[Companion]:
    """Yield the recipes that were read because a blend was never weighed."""
    predicted = mixing.trial.predicted
    for file in predicted.files if predicted else ():
        yield Companion("recipe", file, "here" if mixing.opened.file == "-" else "beside")


def _dried(mixing: Mixing, paste: Paste) -> LearntFigure:
    """Return what bowls weighed dried over what was expected of their recipes' sizes."""
    noted = mixing.learned.notes.dried
    of = {(bowl.recipe, bowl.strength): _drying_of(bowl, mixing) for bowl in noted}
    expected = [_expected_g(bowl, *of[bowl.recipe, bowl.strength], mixing, paste) for bowl in noted]
    return learned_yield(noted, expected)


def _drying_of(bowl: DriedBowl, mixing: Mixing) -> tuple[tuple[WantedBait, ...], Drying]:
    """Return a noted bowl's sizes and how they dried; this recipe's where its own is gone or broken."""
    found = find_recipe(bowl.recipe, mixing.opened)
    if found is None or errors_of(found.problems):
        found = mixing.opened
    sizes = wanted_of(found.recipe, Asked(bowl.strength))[0]
    return sizes, drying_of(Defaults(found.recipe.assume), mixing.bench)


def _expected_g(
    bowl: DriedBowl, sizes: tuple[WantedBait, ...], drying: Drying, mixing: Mixing, paste: Paste
) -> float:
    """Return what a noted bowl was to weigh dried; paste of one mix is much the same in all bowls."""
    facts = mixing.bowl_loss, bowl.paste_g, paste.density_g_ml, paste.water_share
    expected_g = expected_finished(sizes, drying, *facts).mass_g
    least, most = LEAST_FINISHED_SHARE * bowl.paste_g, MOST_FINISHED_SHARE * bowl.paste_g
    return min(max(expected_g, least), most)


def _bowl_shares(
    mixing: Mixing, whole: BowlShare, bowls: Iterable[tuple[int, float]], paste_of_one_g: float
) -> Iterator[BowlShare]:
    """Yield the bowls of a batch; a lone one holds the ``whole`` of it."""
    for number, each in bowls:
        paste_g = paste_of_one_g * each
        if each == whole.eggs:
            yield whole._replace(number=number, paste_g=paste_g)
            continue
        bowl = mixing.bowlful(each)
        powder, poured = _powder(mixing, bowl)
        yield BowlShare(number, each, mixing.doses(bowl), powder, paste_g, poured)


def cuts_of(opened: OpenRecipe, mix: str) -> tuple[Cut, ...]:
    """Return the baits of a mix that the notebook knows to have been cut open."""
    notebook = opened.companions.notebook
    return tuple(
        noted_cut(one.size, one.boiled, one.looked, one.start, one.altitude)
        for one in (notebook.cut if notebook else ())
        if fold(one.base_mix) == fold(mix)
    )


def declared_mix(opened: OpenRecipe, strength: Strength) -> Mix:
    """Return a mix with the shelf's allergens where the recipe declares none."""
    mix, shelf = mix_of(opened.recipe, strength), opened.companions.shelf
    if shelf is None or mix.contains is not None:
        return mix
    return mix.model_copy(update={"contains": shelf.contains(mix.name)})


def _dose_cautions(batch: Batch) -> Iterator[Caution]:
    command = f"eggfold batch {quote(batch.file)} --as freebie{_size_text(batch.asked)}"
    yield from bulk_caution(batch.strength, batch.worth, f". For freebies: {command}")
    for d in batch.doses:
        if d.over_ceiling:
            over = f"{d.additive.name} is over its ceiling of {d.additive.ceiling_text}"
            yield Caution("over-ceiling", f"{over}: check the dose.")


def _doubtful(mixing: Mixing, baits: tuple[BaitLine, ...]) -> Iterator[Caution]:
    """Yield the figures that are hardly ever meant."""
    trial, own, recipe = mixing.trial, mixing.asked.strength, mixing.opened.recipe
    yield from (
        doubt.caution
        for doubt in (
            *recipe_doubts(recipe, trial, (own, trial.strength)),
            *boil_doubts(recipe, own, [bait.boil for bait in baits]),
        )
    )


def _passed_over(mixing: Mixing) -> Iterator[Caution]:
    """Yield that recipes beside a blend could not tell anything of it."""
    predicted = mixing.trial.predicted
    if predicted and predicted.broken:
        names = ", ".join(Path(file).name for file in predicted.broken[:MOST_PASSED])
        more = len(predicted.broken) - MOST_PASSED
        told = f"{names} and {more} more" if more > 0 else names
        text = (
            f"{told}: skipped for its errors, so nothing was learned there of what one egg takes."
        )
        yield Caution("recipe-passed-over", text)


def _size_text(asked: Asked) -> str:
    """Return the options that say how big a batch is."""
    size, boxes = asked.size, [egg for egg in asked.eggs if egg.number]
    if boxes:
        return "".join(f" --egg {egg.in_words}" for egg in boxes)
    if size.by == "trial":
        return ""
    unit = "" if size.by in ("eggs", "count") else "g"
    return f" --{size.by} {size.value:.15g}{unit}{' --whole-eggs' if size.whole_eggs else ''}"


def _lift_cautions(baits: tuple[BaitLine, ...]) -> Iterator[Caution]:
    if cored := [(bait.kind, bait.floating) for bait in baits if bait.floating]:
        from eggfold.recipe.buoyancy import lift_cautions  # noqa: PLC0415 - few are on cork

        yield from lift_cautions(cored)


def _soak_cautions(opened: OpenRecipe, batch: Batch) -> Iterator[Caution]:
    if batch.soak:
        from eggfold.recipe.soak import soak_cautions  # noqa: PLC0415 - few soak

        yield from soak_cautions(opened, batch.soak, batch.baits)
