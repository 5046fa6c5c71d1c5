"""A recipe as the engine needs it: doses, densities, eggs, absorbency and composition."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING, Literal, NamedTuple

from eggfold.amounts import Amount
from eggfold.engine.eggs import shelled_egg_g
from eggfold.engine.powder import (
    Rates,
    absorbency,
    dry_mix_g,
    sum_rates,
    trial_dry_g,
)
from eggfold.engine.scaling import Measure, dose_rates, measure_of, scale_dose
from eggfold.nearest import fold
from eggfold.recipe.assumptions import Assumed
from eggfold.recipe.bench import BUILT_IN_BENCH, Bench
from eggfold.recipe.composition import additive_parts
from eggfold.reference.defaults import (
    AMOUNT_SD_PERCENT,
    DEFAULT_DRY_G,
    DEFAULT_LIQUIDS_G,
    DENSITY_G_ML,
)
from eggfold.reference.eggs import EU_SOURCE, US_SOURCE, WEIGHED_EGGS
from eggfold.reference.measures import KITCHEN_UNITS, kitchen_measure
from eggfold.units import Quantity, amount_in, dose_quantity

if TYPE_CHECKING:
    from collections.abc import Mapping

    from eggfold.amounts import DoseText
    from eggfold.files.eggs import Eggs
    from eggfold.files.full import FullAdditive
    from eggfold.files.recipe import Mix, Recipe, Strength
    from eggfold.reference.bench import ToolKind
    from eggfold.reference.parts import Parts

LARGE_EGG_WET_G = shelled_egg_g("eu", "large", 0.11) + DEFAULT_LIQUIDS_G
"""One EU large egg with the usual liquids [g]."""
WRITTEN_WITH: dict[str, ToolKind] = {"drop": "dropper", "tsp": "spoon", "tbsp": "spoon"}
"""Units that name their tool; other volumes are drawn up, masses weighed."""
DEFAULT_ABSORBENCY = DEFAULT_DRY_G / LARGE_EGG_WET_G


class Egg(NamedTuple):
    """One egg: its grade and standard, or None for an own weight, and its shelled mass."""

    grade: str | None
    standard: str | None
    each_g: float

    @property
    def label(self) -> str:
        """How a page and a shopping list call these eggs."""
        if self.grade is None:
            return WEIGHED_EGGS.format(self.each_g)
        return f"{str(self.standard).upper()} {self.grade} eggs"


class Additive(NamedTuple):
    """An additive with its doses as Quantities and its density as a number."""

    name: str
    form: Literal["liquid", "oil", "powder"]
    carrier: str | None
    density_g_ml: float | None
    density_is_own: bool
    wetting: float
    hookbait: Quantity | None
    freebie: Quantity | None
    ceiling: Quantity | None
    ceiling_text: str | None
    contains: tuple[str, ...] | None
    parts: Parts | None
    written: Mapping[Strength, ToolKind] = MappingProxyType({})
    """The kind of tool that the dose of each strength was written for."""

    def dose(self, strength: Strength) -> Quantity | None:
        """Return the dose of a strength, None where it is left out or not stated."""
        return self.hookbait if strength == "hookbait" else self.freebie

    def amount(self, strength: Strength, eggs: float, dry_g: float) -> Measure | None:
        """Return what a batch takes, by mass and volume."""
        dose = self.dose(strength)
        if dose is None:
            return None
        return measure_of(scale_dose(dose, eggs, dry_g), self.density_g_ml)

    def rates(self, strength: Strength) -> Rates:
        """Return what the dose brings per egg and per gram of dry mix."""
        dose = self.dose(strength)
        if dose is None:
            return Rates()
        r = dose_rates(dose, self.density_g_ml)
        if self.form == "powder":
            return Rates(powder_per_egg_g=r.per_egg_g, powder_per_dry=r.per_dry)
        return Rates(wet_per_egg_g=r.per_egg_g * self.wetting, wet_per_dry=r.per_dry * self.wetting)


class Trial(NamedTuple):
    """The trial that gave the absorbency: its eggs, strength and dry mix."""

    absorbency: float
    sd_share: float
    strength: Strength
    eggs: int
    egg_g: float
    dry_g: float
    amount_g: float | None
    rates: Rates
    own: bool
    """Whether the bag that was weighed is this strength's own mix."""
    additives: tuple[Additive, ...]


def build_egg(eggs: Eggs | None, assumed: Assumed) -> Egg:
    """Return the egg that a recipe states, or one EU large egg."""
    if eggs is not None and eggs.liquid:
        return own_egg(amount_in(eggs.liquid, "g"), assumed)
    if eggs is not None and eggs.in_shell:
        in_shell_g = amount_in(eggs.in_shell, "g")
        return own_egg(in_shell_g * (1 - assumed.share("shell")), assumed)
    stated = eggs is not None and eggs.grade is not None
    grade, standard = (eggs.grade, eggs.standard) if eggs and stated else ("large", "eu")
    if not stated:
        assumed.note("the trial's eggs", "EU large", "house default")
    return graded_egg(str(standard), str(grade), assumed)


def own_egg(each_g: float, assumed: Assumed, what: str = "one egg, shelled") -> Egg:
    """Return an egg that the user weighed."""
    assumed.note(what, f"{each_g:.4g} g", "yours")
    return Egg(None, None, each_g)


def graded_egg(standard: str, grade: str, assumed: Assumed) -> Egg:
    """Return an egg by grade, with the assumption about its weight."""
    shell = assumed.share("shell") if standard == "eu" else 0.0
    each = shelled_egg_g(standard, grade, shell)
    source = EU_SOURCE if standard == "eu" else US_SOURCE
    how = " (middle of the class, less the shell)" if standard == "eu" else ""
    label = f"one {standard.upper()} {grade} egg, shelled{how}"
    assumed.note(label, f"{each:.4g} g", "published", source)
    return Egg(grade, standard, each)


def build_additives(
    recipe: Recipe, full: list[FullAdditive], assumed: Assumed, bench: Bench = BUILT_IN_BENCH
) -> list[Additive]:
    """Return a recipe's additives with Quantities; freebie_strength fills missing freebie doses."""
    return [build_additive(a, recipe.freebie_strength, assumed, bench) for a in full]


def build_additive(
    a: FullAdditive,
    freebie_strength: float | None,
    assumed: Assumed,
    bench: Bench = BUILT_IN_BENCH,
) -> Additive:
    """Return one additive with Quantities."""
    density = amount_in(a.density, "g/ml") if a.density else DENSITY_G_ML.get(a.form)
    hookbait = _dose(a, "hookbait", assumed, bench)
    freebie = _dose(a, "freebie", assumed, bench)
    if a.freebie is None and hookbait is not None and freebie_strength:
        freebie = hookbait * (freebie_strength / 100)
    return Additive(
        name=a.name,
        form=a.form,
        carrier=a.carrier,
        density_g_ml=density,
        density_is_own=a.density is not None,
        wetting=a.wetting,
        hookbait=hookbait,
        freebie=freebie,
        ceiling=_dose(a, "ceiling", assumed, bench),
        ceiling_text=str(a.ceiling) if a.ceiling and a.ceiling.amount else None,
        contains=a.contains,
        parts=additive_parts(a, assumed),
        written=_written(a),
    )


def _written(a: FullAdditive) -> dict[Strength, ToolKind]:
    """Return what each dose was measured with; without a dose of their own freebies follow hookbaits."""
    doses: dict[Strength, DoseText | None] = {
        "hookbait": a.hookbait,
        "freebie": a.hookbait if a.freebie is None else a.freebie,
    }
    return {strength: _kind(dose) for strength, dose in doses.items() if dose}


def _kind(dose: DoseText) -> ToolKind:
    if dose.amount is None or dose.basis == "share" or dose.amount.dimension == "mass":
        return "scale"
    return WRITTEN_WITH.get(dose.amount.unit, "syringe")


def _dose(a: FullAdditive, key: str, assumed: Assumed, bench: Bench) -> Quantity | None:
    dose: DoseText | None = getattr(a, key)
    if dose is None or dose.amount is None:
        return None
    measures = a.measures[key]
    unit = dose.amount.unit
    if unit in KITCHEN_UNITS and (measure := kitchen_measure(unit, measures)):
        ml = amount_in(dose.amount, "ml", measures) / dose.amount.value
        origin: Literal["published", "house default"] = "published" if measures else "house default"
        whose = measures or "no country named"
        assumed.note(f"1 {unit} ({whose})", f"{ml:.6g} ml", origin, measure.source)
    if unit == "drop" and "drops_per_ml" in bench.own:
        assumed.note("drops in 1 ml", f"{1 / bench.drop_ml:g}", "yours")
        dose = dose._replace(amount=Amount(dose.amount.value * bench.drop_ml, "ml"))
    elif unit == "drop":
        assumed.note("drops of water in 1 ml", "20, within 10 %", "published", "USP 32, 1101")
    return dose_quantity(dose, measures)


def note_densities(additives: list[Additive], strength: Strength, assumed: Assumed) -> None:
    """Remember the densities that nobody stated, and the wetting, of the additives that are dosed."""
    for a in additives:
        if a.dose(strength) is not None and a.form != "powder":
            if a.wetting == 1:
                assumed.note("liquids and oils wet the mix like egg", "1 g as 1 g", "house default")
            else:
                assumed.note(f"1 g of {a.name} wets like", f"{a.wetting:g} g of egg", "yours")
        if a.dose(strength) is not None and not a.density_is_own and a.density_g_ml is not None:
            assumed.note(
                f"density of {a.name} ({a.form})", f"{a.density_g_ml:.2f} g/ml", "house default"
            )


def rates_of(additives: list[Additive], strength: Strength) -> Rates:
    """Return what all additives bring per egg and per gram of dry mix."""
    return sum_rates(a.rates(strength) for a in additives)


def build_trial(
    recipe: Recipe, additives: list[Additive], strength: Strength, egg: Egg, assumed: Assumed
) -> Trial:
    """Return the trial that gives a strength's mix its absorbency."""
    weighed, own = _weighed_mix(recipe, strength)
    at: Strength = "freebie" if weighed == "freebie" else "hookbait"
    if at == "hookbait" and not any(a.hookbait is not None for a in additives):
        at = "freebie" if any(a.freebie is not None for a in additives) else at
    eggs = recipe.eggs.count if recipe.eggs else 1
    rates = rates_of(additives, at)
    if not own:
        sd = assumed.share("absorbency_sd")
    else:
        sd = AMOUNT_SD_PERCENT / 100
        what = "doubt about the absorbency of a mix weighed once, 1 sd"
        assumed.note(what, f"{AMOUNT_SD_PERCENT:g} %", "house default")
    mix = recipe.mix("hookbait" if weighed == "both" else weighed) if weighed else None
    if mix is None or mix.amount is None:
        a, dry, amount = DEFAULT_ABSORBENCY, 0.0, None
        text = f"{a:.3f} g/g: {DEFAULT_DRY_G:g} g for one EU large egg and 4 g of liquids"
        assumed.note("dry mix per gram of wet", text, "common practice")
        dry = dry_mix_g(a, eggs, egg.each_g, rates)
    else:
        amount = amount_in(mix.amount, "g")
        dry = trial_dry_g(amount, eggs, rates)
        a = absorbency(dry, eggs, egg.each_g, rates)
        assumed.note("dry mix per gram of wet", f"{a:.4g} g/g, from the trial's bag", "yours")
    return Trial(a, sd, at, eggs, egg.each_g, dry, amount, rates, own, tuple(additives))


def _weighed_mix(
    recipe: Recipe, strength: Strength
) -> tuple[Literal["both", "hookbait", "freebie"] | None, bool]:
    """Return which mix's bag weight counts for a strength, and whether it is that mix's own."""
    mix = recipe.mix(strength)
    if recipe.one_mix:
        return ("both", True) if mix and mix.amount else (None, False)
    if mix and mix.amount:
        return strength, True
    other: Strength = "freebie" if strength == "hookbait" else "hookbait"
    second = recipe.mix(other)
    if second and second.amount:
        return other, bool(mix and fold(mix.name) == fold(second.name))
    return None, False


def mix_of(recipe: Recipe, strength: Strength) -> Mix:
    """Return the base mix of a strength that was checked to be there."""
    mix = recipe.mix(strength)
    if mix is None:
        raise LookupError(strength)
    return mix
