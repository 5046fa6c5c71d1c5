"""The main job: a one-egg trial becomes a batch."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.bowls import split_eggs
from eggfold.engine.paste import (
    measured_density_g_ml,
    mixed_parts,
    paste_density_g_ml,
)
from eggfold.engine.powder import (
    Rates,
    base_mix_g,
    dry_mix_g,
    dry_mix_range_g,
    wet_g,
)
from eggfold.errors import NoAnswerError
from eggfold.files.recipe import MOST_EGGS
from eggfold.jobs.asked import Asked, AskedEgg
from eggfold.jobs.assumptions import Assumed, Assumption
from eggfold.jobs.baits import (
    BaitLine,
    Roll,
    build_baits,
    count_of_all,
    refuse_more_than_counted,
    roll_of,
)
from eggfold.jobs.bench import Bench, build_bench
from eggfold.jobs.bowl import (
    Additive,
    Egg,
    Strength,
    Trial,
    build_additives,
    build_egg,
    build_trial,
    graded_egg,
    mix_of,
    note_densities,
    own_egg,
    rates_of,
)
from eggfold.jobs.cautions import Caution, build_cautions
from eggfold.jobs.composition import FAT, WATER, mix_parts, note_tables
from eggfold.jobs.dose_line import DoseLine, dose_line
from eggfold.jobs.kitchen import note_customs
from eggfold.jobs.learnt import Figure, Learnt, build_learnt, note_cautions
from eggfold.reference.defaults import HOOKBAIT_EGGS_LIMIT
from eggfold.reference.eggs import EGG_IN_WORDS, WHOLE_EGG, WHOLE_EGG_SOURCE
from eggfold.reference.parts import Parts
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.files.recipe import Mix
    from eggfold.files.shelf import OpenShelf
    from eggfold.files.workspace import OpenRecipe


class Powder(NamedTuple):
    """The dry mix of a bowl, as a range, and the base mix in it [g]."""

    expected_g: float
    low_g: float
    high_g: float
    base_mix: str
    base_mix_g: float
    base_mix_low_g: float
    base_mix_high_g: float
    absorbency: float
    weighings: int


class Paste(NamedTuple):
    """The paste of a bowl: mass [g], density [g/ml], composition, and what it weighs as dry baits."""

    mass_g: float
    density_g_ml: float
    finished_g: float
    parts: Parts
    density: Figure
    """The density with its doubt, after the notes on it."""
    portions: tuple[tuple[float, Parts], ...]
    """What was stirred together: mass [g] and composition."""
    air: float
    measured: tuple[float, float] | None
    """What a hundred baits weigh [g] at which diameter [mm], where the recipe says so."""


class BowlShare(NamedTuple):
    """So many equal bowls of a batch, and what goes into each of them."""

    number: int
    eggs: int
    doses: tuple[DoseLine, ...]
    powder: Powder
    paste_g: float


class Batch(NamedTuple):
    """The answer for one recipe."""

    recipe: str
    file: str
    asked: Asked
    egg: Egg
    eggs: int
    trial: Trial
    learned: Learnt
    rates: Rates
    doses: tuple[DoseLine, ...]
    wet_g: float
    powder: Powder
    paste: Paste
    roll: Roll
    baits: tuple[BaitLine, ...]
    unrolled_g: float
    bowls: tuple[BowlShare, ...]
    wait_s: float
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    sha256: str = ""
    """Of the recipe file's bytes, in hexadecimal."""

    @property
    def strength(self) -> Strength:
        """Hookbait or freebie."""
        return self.asked.strength

    @property
    def shelled_g(self) -> float:
        """All eggs, shelled [g]."""
        return self.eggs * self.egg.each_g


class _Bowl(NamedTuple):
    """Everything that does not depend on the number of eggs."""

    opened: OpenRecipe
    asked: Asked
    egg: Egg
    additives: list[Additive]
    rates: Rates
    trial: Trial
    learned: Learnt
    parts: Parts
    bowl_loss: float
    air: float
    bench: Bench
    assumed: Assumed

    def dry_g(self, eggs: float) -> float:
        return dry_mix_g(self.learned.absorbency.mean, eggs, self.egg.each_g, self.rates)

    def base_g(self, eggs: float) -> float:
        return base_mix_g(self.dry_g(eggs), eggs, self.rates)


def build_batch(opened: OpenRecipe, asked: Asked) -> Batch:
    """Return the batch that was asked of a recipe.

    The recipe must be answerable for the strength; raises NoAnswerError where no batch exists.
    """
    bowl = _bowl(opened, asked)
    paste_of_one = _paste(bowl, 1)
    roll = roll_of(opened.recipe, asked, bowl.bowl_loss, bowl.bench, bowl.assumed)
    eggs = _whole_eggs(bowl, roll, paste_of_one)
    dry = bowl.dry_g(eggs)
    paste = _paste(bowl, eggs)
    powder = _powder(bowl, eggs)
    margin = (powder.high_g - dry, dry - powder.low_g)
    baits, unrolled = build_baits(roll, paste, margin)
    note_customs((bait.boil for bait in baits), bowl.assumed)
    doses = _dose_lines(bowl, eggs, dry)
    cautions = build_cautions(
        _declared(mix_of(opened.recipe, asked.strength), opened.companions.shelf),
        bowl.additives,
        asked.strength,
        opened.companions.powders,
    )
    return Batch(
        opened.recipe.name,
        opened.file,
        asked,
        bowl.egg,
        eggs,
        bowl.trial,
        bowl.learned,
        bowl.rates,
        doses,
        wet_g(eggs, bowl.egg.each_g, dry, bowl.rates),
        powder,
        paste,
        roll,
        baits,
        unrolled,
        _bowl_shares(bowl, eggs, paste_of_one.mass_g),
        max(b.wait_s for b in baits),
        (
            *_dose_cautions(opened.file, asked, eggs, doses),
            *_lift_cautions(baits),
            *cautions,
            *note_cautions(bowl.learned, paste.density),
        ),
        bowl.assumed.listed(),
        opened.placed.source.sha256,
    )


def _declared(mix: Mix, shelf: OpenShelf | None) -> Mix:
    """Return a mix with the shelf's allergens where the recipe declares none."""
    if shelf is None or mix.contains is not None:
        return mix
    return mix.model_copy(update={"contains": shelf.contains(mix.name)})


def _bowl(opened: OpenRecipe, asked: Asked) -> _Bowl:
    recipe = opened.recipe
    assumed = Assumed(recipe.assume)
    trial_egg = build_egg(recipe.eggs, assumed)
    egg = _asked_egg(asked.egg, trial_egg, assumed)
    bench = build_bench(opened.companions.bench)
    additives = build_additives(recipe, opened.additives, assumed, bench)
    trial = build_trial(recipe, additives, asked.strength, trial_egg, assumed)
    learned = build_learnt(opened, mix_of(recipe, asked.strength).name, trial, assumed)
    note_densities(additives, asked.strength, assumed)
    bench.note_tools(assumed)
    parts = mix_parts(mix_of(recipe, asked.strength), opened.companions.powders, assumed)
    assumed.note(
        "composition of egg",
        EGG_IN_WORDS,
        "published",
        WHOLE_EGG_SOURCE,
    )
    note_tables(assumed)
    return _Bowl(
        opened,
        asked,
        egg,
        additives,
        rates_of(additives, asked.strength),
        trial,
        learned,
        parts,
        assumed.share("bowl_loss"),
        0.0 if recipe.measured else assumed.share("air"),
        bench,
        assumed,
    )


def _asked_egg(asked: AskedEgg | None, trial_egg: Egg, assumed: Assumed) -> Egg:
    if asked is None:
        return trial_egg
    if asked.each_g is not None:
        return own_egg(asked.each_g, assumed, "one egg of this batch, shelled")
    return graded_egg(str(asked.standard), str(asked.grade), assumed)


def _paste(bowl: _Bowl, eggs: float) -> Paste:
    dry = bowl.dry_g(eggs)
    base = bowl.base_g(eggs)
    portions = [(eggs * bowl.egg.each_g, WHOLE_EGG), (base, bowl.parts)]
    for a in bowl.additives:
        amount = a.amount(bowl.asked.strength, eggs, dry)
        if amount and amount.g:
            stands_in = {"liquid": WATER, "oil": FAT}.get(a.form, bowl.parts)
            portions.append((amount.g, a.parts or stands_in))
    mass = sum(g for g, _ in portions)
    parts = mixed_parts(portions)
    measured = bowl.opened.recipe.measured
    hundred = None
    if measured:
        hundred_g = amount_in(measured.hundred_baits, "g")
        diameter = amount_in(measured.diameter, "mm")
        hundred = hundred_g, diameter
        density = measured_density_g_ml(hundred_g, diameter)
        text = f"{density:.3f} g/ml: 100 baits of {diameter:g} mm weigh {hundred_g:g} g"
        bowl.assumed.note("density of the paste", text, "yours")
    else:
        density = paste_density_g_ml(parts, bowl.air)
    figure = bowl.learned.density(density, bowl.assumed, once=measured is not None)
    finished = mass * bowl.learned.finished.mean
    return Paste(mass, figure.mean, finished, parts, figure, tuple(portions), bowl.air, hundred)


def _powder(bowl: _Bowl, eggs: int) -> Powder:
    dry, base = bowl.dry_g(eggs), bowl.base_g(eggs)
    wet = wet_g(eggs, bowl.egg.each_g, dry, bowl.rates)
    absorbency = bowl.learned.absorbency
    low, high = dry_mix_range_g(absorbency.mean, wet, absorbency.sd, absorbency.bowl_sd)
    fixed = dry - base
    return Powder(
        dry,
        low,
        high,
        mix_of(bowl.opened.recipe, bowl.asked.strength).name,
        base,
        max(0.0, low - fixed),
        high - fixed,
        absorbency.mean,
        absorbency.notes,
    )


def _bowl_shares(bowl: _Bowl, eggs: int, paste_of_one_g: float) -> tuple[BowlShare, ...]:
    bench = bowl.bench
    bowl.assumed.note("bowl", f"{bench.bowl_g / 1000:g} kg of paste", bench.origin("bowl"))
    return tuple(
        BowlShare(
            number,
            each,
            _dose_lines(bowl, each, bowl.dry_g(each)),
            _powder(bowl, each),
            paste_of_one_g * each,
        )
        for number, each in split_eggs(eggs, paste_of_one_g, bench.bowl_g)
    )


def _dose_lines(bowl: _Bowl, eggs: int, dry_g: float) -> tuple[DoseLine, ...]:
    trial, strength, tools = bowl.trial, bowl.asked.strength, bowl.bench.tools
    lines = (
        dose_line(
            a, strength, eggs, dry_g, a.amount(trial.strength, trial.eggs, trial.dry_g), tools
        )
        for a in bowl.additives
    )
    return tuple(line for line in lines if line)


def _whole_eggs(bowl: _Bowl, roll: Roll, paste_of_one: Paste) -> int:
    size = bowl.asked.size
    if size.by == "eggs":
        return int(size.value)
    if size.by == "powder":
        one = bowl.base_g(1)
        eggs = math.floor(size.value / one + 1e-9)
        if eggs < 1:
            raise NoAnswerError(
                f"{size.value:g} g of base mix is not enough for one egg, which takes {one:.0f} g; "
                f"a bag of {math.ceil(one)} g is"
            )
    elif size.by == "bait":
        eggs = max(1, math.ceil(size.value / paste_of_one.finished_g - 1e-9))
    else:
        wanted = int(size.value)
        refuse_more_than_counted(roll, wanted)
        eggs = _smallest(lambda n: count_of_all(roll, paste_of_one, n) >= wanted)
    if eggs > MOST_EGGS:
        raise NoAnswerError(f"that takes more than {MOST_EGGS:,} eggs; ask for a smaller batch")
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


def _dose_cautions(
    file: str, asked: Asked, eggs: int, doses: tuple[DoseLine, ...]
) -> list[Caution]:
    cautions = []
    if asked.strength == "hookbait" and eggs > HOOKBAIT_EGGS_LIMIT:
        command = f"eggfold batch {file} --as freebie --{asked.size.by} {_size_text(asked)}"
        text = f"These are HOOKBAIT doses for {eggs} eggs. For freebies: {command}"
        cautions.append(Caution("hookbait-in-bulk", text))
    cautions += [
        Caution(
            "over-ceiling",
            f"{d.additive.name} is over its ceiling of {d.additive.ceiling_text}: check the dose.",
        )
        for d in doses
        if d.over_ceiling
    ]
    return cautions


def _size_text(asked: Asked) -> str:
    unit = "" if asked.size.by in ("eggs", "count") else "g"
    return f"{asked.size.value:.15g}{unit}"


def _lift_cautions(baits: tuple[BaitLine, ...]) -> list[Caution]:
    if all(bait.floating is None for bait in baits):
        return []
    from eggfold.jobs.lift import lift_cautions  # noqa: PLC0415 - only cored baits have a lift

    return list(lift_cautions(baits))
