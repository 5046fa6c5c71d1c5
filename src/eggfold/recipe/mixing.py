"""One mixing: everything of a recipe that does not depend on the number of eggs."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from eggfold.engine.paste import measured_density_g_ml, mixed_parts, paste_density_g_ml
from eggfold.engine.powder import Rates, base_mix_g, dry_mix_g, dry_mix_range_g, wet_g
from eggfold.recipe.asked import Asked, AskedEgg
from eggfold.recipe.assumptions import Assumption, Defaults, joined
from eggfold.recipe.bench import Bench, build_bench
from eggfold.recipe.composition import EGG_PARTS, FAT, PASTE_TABLES, WATER, mix_parts
from eggfold.recipe.dose import DoseLine, dose_line
from eggfold.recipe.learning import Figure, Learnt, build_learnt
from eggfold.recipe.trial import (
    Additive,
    Egg,
    Trial,
    build_additives,
    build_egg,
    build_trial,
    dose_assumptions,
    graded_egg,
    mix_of,
    own_egg,
    rates_of,
)
from eggfold.reference.eggs import WHOLE_EGG
from eggfold.reference.parts import Parts
from eggfold.units import amount_in

if TYPE_CHECKING:
    from eggfold.files.opened import OpenRecipe
    from eggfold.files.recipe import Mix, Recipe


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
    assumptions: tuple[Assumption, ...]


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
    bench: Bench
    assumptions: tuple[Assumption, ...]

    @property
    def mix(self) -> Mix:
        """The base mix of the strength."""
        return mix_of(self.opened.recipe, self.asked.strength)

    def dry_g(self, eggs: float) -> float:
        """Return the dry mix that so many eggs take [g]."""
        return dry_mix_g(self.learned.absorbency.mean, eggs, self.egg.each_g, self.rates)

    def base_g(self, eggs: float) -> float:
        """Return the base mix in it [g]."""
        return base_mix_g(self.dry_g(eggs), eggs, self.rates)

    def wet_g(self, eggs: float) -> float:
        """Return everything wet that goes in [g]."""
        return wet_g(eggs, self.egg.each_g, self.dry_g(eggs), self.rates)

    def powder(self, eggs: int) -> Powder:
        """Return the dry mix of so many eggs as a range."""
        dry, base = self.dry_g(eggs), self.base_g(eggs)
        absorbency = self.learned.absorbency
        low, high = dry_mix_range_g(
            absorbency.mean, self.wet_g(eggs), absorbency.sd, absorbency.bowl_sd
        )
        fixed = dry - base
        return Powder(
            dry,
            low,
            high,
            self.mix.name,
            base,
            max(0.0, low - fixed),
            high - fixed,
            absorbency.mean,
            absorbency.notes,
        )

    def doses(self, eggs: int) -> tuple[DoseLine, ...]:
        """Return every additive of so many eggs beside the trial's."""
        trial, strength = self.trial, self.asked.strength
        dry, base = self.dry_g(eggs), self.base_g(eggs)
        lines = (
            dose_line(
                a,
                strength,
                eggs,
                dry,
                base,
                a.amount(trial.strength, trial.eggs, trial.dry_g),
                self.bench.tools,
            )
            for a in self.additives
        )
        return tuple(line for line in lines if line)

    def paste(self, eggs: int) -> Paste:
        """Return the paste of so many eggs."""
        portions = self._portions(eggs)
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
            figure.mean,
            mass * self.learned.finished.mean,
            parts,
            figure,
            tuple(portions),
            self.air,
            hundred,
            (*_measured(hundred, density), *figure.assumptions),
        )

    def _portions(self, eggs: int) -> list[tuple[float, Parts]]:
        dry = self.dry_g(eggs)
        portions = [(eggs * self.egg.each_g, WHOLE_EGG), (self.base_g(eggs), self.parts)]
        for a in self.additives:
            amount = a.amount(self.asked.strength, eggs, dry)
            if amount and amount.g:
                stands_in = {"liquid": WATER, "oil": FAT}.get(a.form, self.parts)
                portions.append((amount.g, a.parts or stands_in))
        return portions

    def _hundred(self) -> tuple[float, float] | None:
        """Return what a hundred baits weigh [g] at which diameter [mm], None where none were weighed."""
        measured = self.opened.recipe.measured
        if measured is None:
            return None
        return amount_in(measured.hundred_baits, "g"), amount_in(measured.diameter, "mm")


def _measured(hundred: tuple[float, float] | None, density_g_ml: float) -> tuple[Assumption, ...]:
    if hundred is None:
        return ()
    text = f"{density_g_ml:.3f} g/ml: 100 baits of {hundred[1]:g} mm weigh {hundred[0]:g} g"
    return (Assumption("density of the paste", text, "yours"),)


def build_mixing(opened: OpenRecipe, asked: Asked) -> Mixing:
    """Return a recipe's mixing; the recipe must be answerable for the strength."""
    recipe, mix = opened.recipe, mix_of(opened.recipe, asked.strength)
    trial_egg = build_egg(recipe)
    egg = _asked_egg(asked.egg, recipe) or trial_egg
    bench = build_bench(opened.companions.bench)
    additives = build_additives(recipe, opened.additives, bench)
    trial = build_trial(recipe, additives, asked.strength, trial_egg)
    learned = build_learnt(opened, mix.name, trial)
    composition = mix_parts(mix, opened.companions.powders)
    air = None if recipe.measured else Defaults(recipe.assume).value("air")
    return Mixing(
        opened,
        asked,
        egg,
        additives,
        rates_of(additives, asked.strength),
        trial,
        learned,
        composition.parts,
        air.share if air else 0.0,
        bench,
        joined(
            trial_egg.assumptions,
            egg.assumptions,
            *(a.assumptions for a in additives),
            trial.assumptions,
            learned.assumptions,
            dose_assumptions(additives, asked.strength),
            bench.tool_assumptions,
            composition.assumptions,
            (EGG_PARTS, PASTE_TABLES),
            (air.assumption,) if air else (),
        ),
    )


def _asked_egg(asked: AskedEgg | None, recipe: Recipe) -> Egg | None:
    if asked is None:
        return None
    if asked.each_g is not None:
        return own_egg(asked.each_g, "one egg of this batch, shelled")
    return graded_egg(str(asked.standard), str(asked.grade), Defaults(recipe.assume))
