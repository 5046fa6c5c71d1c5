"""What goes into a bowl: doses, dry mix and paste, and what a blend never weighed should take."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

from eggfold.engine.measuring import ToolReading, best_reading, reading_as_written, scale_for
from eggfold.engine.paste import measured_density_g_ml, mixed_parts, paste_density_g_ml
from eggfold.engine.powder import (
    KnownMix,
    Rates,
    WetTaken,
    base_mix_g,
    dry_mix_g,
    predict_blend,
    wet_g,
)
from eggfold.engine.scaling import Measure
from eggfold.errors import NoAnswerError
from eggfold.load.load_recipe import OpenRecipe, recipes_beside
from eggfold.load.recipe import STRENGTHS, Mix, Recipe, Strength
from eggfold.nearest import fold
from eggfold.recipe.asked import HOUSE_DEFAULTS, Asked, AskedEgg, Assumption, Defaults, joined
from eggfold.recipe.bench import Bench, build_bench
from eggfold.recipe.composition import (
    EGG_PARTS,
    FAT,
    PASTE_TABLES,
    WATER,
    Powders,
    known_powder,
    mix_parts,
)
from eggfold.recipe.learning import (
    Learnt,
    LearntFigure,
    NotedMixes,
    learned_absorbency,
    notes_of,
)
from eggfold.recipe.trial import (
    DEFAULT_ABSORBENCY,
    Additive,
    Egg,
    EggBox,
    PredictedBlend,
    Trial,
    build_additives,
    build_egg,
    build_trial,
    dose_assumptions,
    graded_egg,
    liquid_egg,
    mix_of,
    mixed_eggs,
    own_egg,
    rates_of,
    told_by_volume,
    weighed_mix,
)
from eggfold.records import NamedTuple
from eggfold.reference.eggs import WHOLE_EGG
from eggfold.reference.measures import PREMIX_ROOM, Tool
from eggfold.reference.properties import Parts
from eggfold.units import amount_in

DEFAULT_WET = 1 / DEFAULT_ABSORBENCY
"""Wet that a gram of the usual mix takes [g]."""


def predicted_blend(
    opened: OpenRecipe, strength: Strength, noted: NotedMixes
) -> PredictedBlend | None:
    """Return what the blend of a strength is expected to take; None where it needs no prediction."""
    recipe = opened.recipe
    mix = recipe.mix(strength)
    if mix is None or not mix.blend or weighed_mix(recipe, strength)[1]:
        return None
    beside = recipes_beside(opened)
    recipes = (opened, *((opened.before,) if opened.before else ()), *beside.recipes)
    uses = [u for u in _uses(recipes) if fold(u.mix.name) != fold(mix.name)]
    known = tuple(_known_mixes(uses, noted))
    powders = opened.companions.powders
    estimate = predict_blend(_parts(mix.blend, powders), known, DEFAULT_WET)
    held = {
        key for n in estimate.neighbours if n.shared for key, part in n.mix.parts.items() if part
    }
    shared = tuple(name for name in mix.blend if _key(name, powders) in held)
    return PredictedBlend(estimate, shared, beside.files, beside.broken)


def ingredients_taken(
    opened: OpenRecipe, strength: Strength, predicted: PredictedBlend | None
) -> Mapping[str, WetTaken]:
    """Return what each ingredient of a blend seems to take, by its name, where anything tells.

    The mix itself counts as well, if it met the scale.
    """
    mix = opened.recipe.mix(strength)
    if mix is None or not mix.blend:
        return {}
    powders = opened.companions.powders
    own = [u for u in _uses([opened]) if predicted is None or fold(u.mix.name) == fold(mix.name)]
    others = [n.mix for n in predicted.estimate.neighbours] if predicted else []
    known = [*others, *_known_mixes(own, notes_of(opened))]
    found = predict_blend(_parts(mix.blend, powders), known, DEFAULT_WET).ingredients
    keys = {name: _key(name, powders) for name in mix.blend}
    return {
        name: found[key] for name, key in keys.items() if any(one.parts.get(key) for one in known)
    }


class _Use(NamedTuple):
    """A blend as a recipe uses it."""

    opened: OpenRecipe
    strength: Strength
    mix: Mix


def _uses(recipes: Iterable[OpenRecipe]) -> Iterator[_Use]:
    for opened in recipes:
        for strength in STRENGTHS:
            mix = opened.recipe.mix(strength)
            if mix is not None and mix.blend:
                yield _Use(opened, strength, mix)


def _known_mixes(uses: Iterable[_Use], noted: NotedMixes) -> Iterator[KnownMix]:
    """Yield each mix that met the scale once, by the first recipe that has its amount, else the first."""
    by_name: dict[str, _Use] = {}
    for use in uses:
        first = by_name.setdefault(fold(use.mix.name), use)
        if use.mix.amount and not first.mix.amount:
            by_name[fold(use.mix.name)] = use
    for use in by_name.values():
        if known := _known_mix(use, noted):
            yield known


def _known_mix(use: _Use, noted: NotedMixes) -> KnownMix | None:
    """Return what the scale says of a mix, from its amount or the default on; None where nothing."""
    notes, recipe = noted.of(use.mix.name), use.opened.recipe
    if not (use.mix.amount or notes.weighings):
        return None
    try:
        learned = learned_absorbency(recipe, notes, _trial(use))
    except NoAnswerError:
        return None
    parts = _parts(use.mix.blend or {}, use.opened.companions.powders)
    return KnownMix(use.mix.name, parts, 1 / learned.expected, learned.ratio.level_sd)


def _trial(use: _Use) -> Trial:
    recipe, bench = use.opened.recipe, build_bench(use.opened.companions.bench)
    egg = build_egg(recipe)
    additives = build_additives(recipe, use.opened.additives, egg, bench)
    trial = build_trial(recipe, additives, use.strength, egg)
    if use.mix.amount:
        return trial
    doubt = HOUSE_DEFAULTS.value("absorbency_sd").share
    return trial._replace(absorbency=DEFAULT_ABSORBENCY, sd_share=doubt, own=False)


def _parts(blend: Mapping[str, float], powders: Powders) -> dict[str, float]:
    """Return shares by one key for every name of an ingredient."""
    parts: dict[str, float] = {}
    for name, share in blend.items():
        key = _key(name, powders)
        parts[key] = parts.get(key, 0.0) + share
    return parts


def _key(name: str, powders: Powders) -> str:
    known = known_powder(name, powders)
    return fold(known.name if known else name)


class DoseLine(NamedTuple):
    """One additive in the bowl: this batch's amount beside the trial's, and how to measure it."""

    additive: Additive
    amount: Measure
    by_volume: bool
    trial: Measure | None
    reading: ToolReading
    over_ceiling: bool
    finer_g: float | None = None
    """What a scale that shows the dose tells apart [g], where no tool here shows it."""


class Bowlful(NamedTuple):
    """What goes into a bowl: eggs, all that is wet, dry mix and the base mix in it [g], additives."""

    eggs: float
    wet_g: float
    dry_g: float
    base_g: float
    amounts: tuple[tuple[Additive, Measure], ...]


def dose_line(
    additive: Additive,
    amount: Measure,
    strength: Strength,
    bowl: Bowlful,
    trial: Measure | None,
    tools: tuple[Tool, ...],
) -> DoseLine:
    """Return the line of an additive that a bowl takes an amount of.

    A premix of a powder takes no more than the bowl's own base mix.
    """
    dose = additive.dose(strength)
    reading = reading_of(additive, strength, amount, tools, bowl.base_g)
    over = additive.over_ceiling(amount, bowl.eggs, bowl.dry_g)
    finer = None if reading.amount else scale_for(amount.g, room=_room(additive, bowl.base_g))
    return DoseLine(
        additive, amount, dose is not None and dose.by_volume, trial, reading, over, finer
    )


def reading_of(
    additive: Additive,
    strength: Strength,
    amount: Measure,
    tools: tuple[Tool, ...],
    base_g: float,
) -> ToolReading:
    """Return the reading a person would take for an amount.

    A dose changes between syringe and scale only by a density that somebody stated, or where no
    syringe shows it. Whole drops and spoons stay what they were written as, and a powder cannot be
    drawn up.
    """
    dose, room = additive.dose(strength), _room(additive, base_g)
    written = additive.written.get(strength)
    if additive.form == "powder":
        tools = tuple(tool for tool in tools if tool.kind in {"scale", "spoon"})
    if written and amount.ml is not None:
        counted = reading_as_written(tools, amount.ml, written)
        if counted:
            return counted
    by_volume = dose is not None and dose.by_volume
    if not by_volume and not additive.density_is_own:
        return best_reading(tools, amount.g, None, written=written, room=room)
    if by_volume and not additive.density_is_own:
        by_ml = tuple(tool for tool in tools if tool.unit == "ml")
        reading = best_reading(by_ml, amount.g, amount.ml, written=written, room=room)
        if reading.is_plain:
            return reading
    return best_reading(tools, amount.g, amount.ml, written=written, room=room)


def _room(additive: Additive, base_g: float) -> float:
    """Return how much a premix may be stirred into: base mix is lighter than 1 g/ml."""
    return base_g if additive.form == "powder" else PREMIX_ROOM


class DryMix(NamedTuple):
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

    @property
    def margin(self) -> tuple[float, float]:
        """How much more and how much less than expected it may be [g]."""
        return self.high_g - self.expected_g, self.expected_g - self.low_g


class Poured(NamedTuple):
    """The beaten egg that a whole bag asks for: as expected, and the range [g]."""

    expected_g: float
    low_g: float
    high_g: float

    @property
    def margin(self) -> tuple[float, float]:
        """How much more and how much less than expected it may be [g]."""
        return self.high_g - self.expected_g, self.expected_g - self.low_g


class Finished(NamedTuple):
    """What baits weigh once they are dried, with their corks [g]; at most what never dried."""

    mass_g: float
    low_g: float
    high_g: float
    most_g: float


class Paste(NamedTuple):
    """The paste of a bowl: mass [g], density [g/ml], composition, and what it weighs as dry baits."""

    mass_g: float
    density_g_ml: float
    parts: Parts
    density: LearntFigure
    """The density with its doubt, after the notes on it."""
    portions: tuple[tuple[float, Parts], ...]
    """What was stirred together: mass [g] and composition."""
    air: float
    measured: tuple[float, float] | None
    """What a hundred baits weigh [g] at which diameter [mm], where the recipe says so."""
    assumptions: tuple[Assumption, ...]
    finished: Finished = Finished(0.0, 0.0, 0.0, 0.0)
    soaked_g: float | None = None
    """What they weigh with their soak; None without one."""

    @property
    def finished_g(self) -> float:
        """What its baits are expected to weigh once they are dried, with their corks."""
        return self.finished.mass_g

    @property
    def water_share(self) -> float:
        """The water in it, by mass."""
        return self.parts.water / sum(self.parts)


class Mixing(NamedTuple):
    """A recipe at one strength: its egg, additives, trial, and what the notes have taught."""

    opened: OpenRecipe
    asked: Asked
    egg: Egg
    additives: list[Additive]
    rates: Rates
    trial: Trial
    learned: Learnt
    parts: Parts
    air: float
    """Of the paste, by volume; 0 where its density was measured."""
    bowl_loss: float
    """What of the paste stays in bowl and gun."""
    bench: Bench
    assumptions: tuple[Assumption, ...]

    @property
    def mix(self) -> Mix:
        """The base mix of the strength."""
        return mix_of(self.opened.recipe, self.asked.strength)

    def bowlful(self, eggs: float) -> Bowlful:
        """Return what goes into a bowl of so many eggs, or of liquid egg that counts as so many."""
        dry_g = dry_mix_g(self.learned.absorbency.expected, eggs, self.egg.each_g, self.rates)
        base_g = base_mix_g(dry_g, eggs, self.rates)
        wet = wet_g(eggs, self.egg.each_g, dry_g, self.rates)
        strength = self.asked.strength
        amounts = ((a, a.amount(strength, eggs, dry_g)) for a in self.additives)
        taken = tuple((a, amount) for a, amount in amounts if amount)
        return Bowlful(eggs, wet, dry_g, base_g, taken)

    def powder(self, bowl: Bowlful, *, bowls: int = 1) -> DryMix:
        """Return the dry mix of a bowl as a range, or of many bowls together, which narrows it."""
        absorbency = self.learned.absorbency
        _, low, high = (bowl.wet_g * taken for taken in absorbency.next_bowls(bowls))
        fixed = bowl.dry_g - bowl.base_g
        return DryMix(
            bowl.dry_g,
            low,
            high,
            self.mix.name,
            bowl.base_g,
            max(0.0, low - fixed),
            high - fixed,
            absorbency.expected,
            absorbency.bowls,
        )

    def bag(self, bowl: Bowlful, *, bowls: int = 1) -> tuple[DryMix, Poured]:
        """Return the dry mix of a bowl that takes a whole bag, and the egg it may ask for."""
        figure, mix = self.learned.absorbency, self.mix.name
        _, low, high = figure.next_bowls(bowls)
        expected_g = bowl.eggs * self.egg.each_g
        others_g = bowl.wet_g - expected_g
        poured = (max(0.0, bowl.dry_g / absorbs - others_g) for absorbs in (high, low))
        dry_g, base_g, bag_g = bowl.dry_g, bowl.base_g, self.asked.size.value
        base_g = bag_g if math.isclose(base_g, bag_g) else base_g  # not a last digit less
        return DryMix(
            dry_g, dry_g, dry_g, mix, base_g, base_g, base_g, figure.expected, figure.bowls
        ), Poured(expected_g, *poured)

    def doses(self, bowl: Bowlful) -> tuple[DoseLine, ...]:
        """Return every additive of a bowl beside the trial's."""
        trial = self.trial
        return tuple(
            dose_line(
                a,
                amount,
                self.asked.strength,
                bowl,
                a.amount(trial.strength, trial.eggs, trial.dry_g),
                self.bench.tools,
            )
            for a, amount in bowl.amounts
        )

    def paste(self, bowl: Bowlful) -> Paste:
        """Return the paste of a bowl."""
        portions = self._portions(bowl)
        mass = sum(g for g, _ in portions)
        parts = mixed_parts(portions)
        hundred = self._hundred()
        density = (
            paste_density_g_ml(parts, self.air)
            if hundred is None
            else measured_density_g_ml(*hundred)
        )
        figure = self.learned.density(density, once=hundred is not None)
        return Paste(
            mass,
            figure.expected,
            parts,
            figure,
            tuple(portions),
            self.air,
            hundred,
            (*_hundred_told(hundred, density), *figure.assumptions),
        )

    def _portions(self, bowl: Bowlful) -> list[tuple[float, Parts]]:
        portions = [(bowl.eggs * self.egg.each_g, WHOLE_EGG), (bowl.base_g, self.parts)]
        for a, amount in bowl.amounts:
            if amount.g:
                stands_in = {"liquid": WATER, "oil": FAT}.get(a.form, self.parts)
                portions.append((amount.g, a.parts or stands_in))
        return portions

    def _hundred(self) -> tuple[float, float] | None:
        """Return what a hundred baits weigh [g] at which diameter [mm], None where none were weighed."""
        measured = self.opened.recipe.measured
        if measured is None:
            return None
        return amount_in(measured.hundred_baits, "g"), amount_in(measured.diameter, "mm")


def _hundred_told(
    hundred: tuple[float, float] | None, density_g_ml: float
) -> tuple[Assumption, ...]:
    if hundred is None:
        return ()
    text = f"{density_g_ml:.3f} g/ml: 100 baits of {hundred[1]:g} mm weigh {hundred[0]:g} g"
    return (Assumption("density of the paste", text, "yours"),)


def build_mixing(opened: OpenRecipe, asked: Asked) -> Mixing:
    """Return a recipe's mixing; the recipe must be answerable for the strength."""
    recipe, mix = opened.recipe, mix_of(opened.recipe, asked.strength)
    trial_egg = build_egg(recipe)
    egg = _asked_egg(asked, recipe, trial_egg)
    bench = build_bench(opened.companions.bench)
    additives = build_additives(recipe, opened.additives, egg, bench)
    noted = notes_of(opened)
    predicted = predicted_blend(opened, asked.strength, noted)
    trial = build_trial(recipe, additives, asked.strength, trial_egg, predicted)
    notes, defaults = noted.of(mix.name), Defaults(recipe.assume)
    absorbency = learned_absorbency(recipe, notes, trial)
    composition = mix_parts(mix, opened.companions.powders)
    bowl_loss, air = defaults.value("bowl_loss"), defaults.value("air")
    return Mixing(
        opened,
        asked,
        egg,
        additives,
        rates_of(additives, asked.strength),
        trial,
        Learnt(absorbency, notes),
        composition.parts,
        0.0 if recipe.measured else air.share,
        bowl_loss.share,
        bench,
        joined(
            trial_egg.assumptions,
            egg.assumptions,
            *(a.assumptions for a in additives),
            trial.assumptions,
            absorbency.assumptions,
            (bowl_loss.assumption,),
            dose_assumptions(additives, asked.strength),
            bench.tool_assumptions,
            composition.assumptions,
            (EGG_PARTS, PASTE_TABLES),
            () if recipe.measured else (air.assumption,),
        ),
    )


def _asked_egg(asked: Asked, recipe: Recipe, trial_egg: Egg) -> Egg:
    """Return the egg of this batch: liquid, of one kind, or the mean of several boxes."""
    defaults = Defaults(recipe.assume)
    if not asked.eggs:
        egg = trial_egg
    elif len(asked.eggs) == 1:
        egg = _one_kind(asked.eggs[0], defaults)
    else:
        egg = mixed_eggs(
            tuple(EggBox(one.number or 0, _one_kind(one, defaults)) for one in asked.eggs)
        )
    if asked.size.by != "liquid" or egg.liquid:
        return egg
    return liquid_egg(*egg.assumptions, *told_by_volume(asked.size.by_volume), each_g=egg.each_g)


def _one_kind(asked: AskedEgg, defaults: Defaults) -> Egg:
    if asked.each_g is not None:
        return own_egg(asked.each_g, "one egg of this batch, shelled")
    return graded_egg(str(asked.standard), str(asked.grade), defaults)
