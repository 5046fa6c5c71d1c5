"""A recipe as the engine needs it: doses, densities, eggs, absorbency and composition."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from eggfold.amounts import Amount, DoseText
from eggfold.engine.learning import trial_sd
from eggfold.engine.powder import (
    BlendEstimate,
    Rates,
    absorbency,
    dry_mix_g,
    sum_rates,
    trial_dry_g,
)
from eggfold.engine.scaling import Dose, Measure, dose_by_mass, dose_of, scale_dose, shelled_egg_g
from eggfold.nearest import fold
from eggfold.recipe.asked import HOUSE_DEFAULTS, Assumed, Assumption, Defaults, joined
from eggfold.recipe.bench import Bench
from eggfold.recipe.composition import additive_parts
from eggfold.records import NamedTuple
from eggfold.reference.defaults import DEFAULT_DRY_G, DEFAULT_LIQUIDS_G, DENSITY_G_ML, Origin
from eggfold.reference.eggs import (
    EU_SOURCE,
    LIQUID_EGG_G,
    LIQUID_EGG_G_ML,
    LIQUID_EGGS,
    US_SOURCE,
    WEIGHED_EGGS,
)
from eggfold.reference.learning import GRADED_EGG_SD, TRIAL_SD
from eggfold.reference.measures import KITCHEN_UNITS, ToolKind, kitchen_measure
from eggfold.units import amount_in, egg_mass_g

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from eggfold.load.additives import Form
    from eggfold.load.recipe import Mix, Recipe, Strength
    from eggfold.load.register import FullAdditive
    from eggfold.reference.properties import Parts

LARGE_EGG_WET_G = shelled_egg_g("eu", "large", 0.11) + DEFAULT_LIQUIDS_G
"""One EU large egg with the usual liquids [g]."""
WRITTEN_WITH: dict[str, ToolKind] = {"drop": "dropper", "tsp": "spoon", "tbsp": "spoon"}
"""Units that name their tool; other volumes are drawn up, masses weighed."""
MOST_SHARED = 3
"""Shared ingredients that are named; house limit."""
DEFAULT_ABSORBENCY = DEFAULT_DRY_G / LARGE_EGG_WET_G
ABSORBENCY = "dry mix per gram of wet"
USUAL_ABSORBENCY = Assumption(
    ABSORBENCY,
    f"{DEFAULT_ABSORBENCY:.3f} g/g: {DEFAULT_DRY_G:g} g for one EU large egg and 4 g of liquids",
    "common practice",
)

WATER_DROPS = Assumption("drops of water in 1 ml", "20, within 10 %", "published", "USP 32, 1101")
EGG_BY_VOLUME = Assumption("shelled, beaten egg", f"{LIQUID_EGG_G_ML:g} g/ml", "house default")
EGG_WETTING = Assumption("liquids and oils wet the mix like egg", "1 g as 1 g", "house default")


class Egg(NamedTuple):
    """One egg: its grade and standard, or None for an own weight, and its shelled mass.

    ``liquid`` where egg is taken by mass or volume: then it is what counts as one.
    """

    grade: str | None
    standard: str | None
    each_g: float
    assumptions: tuple[Assumption, ...] = ()
    liquid: bool = False
    boxes: tuple[EggBox, ...] = ()
    """How many of which, where eggs of several boxes are beaten together; the mass is their mean."""

    @property
    def label(self) -> str:
        """How a page and a shopping list call these eggs."""
        if self.liquid:
            return LIQUID_EGGS
        if self.boxes:
            return "mixed eggs"
        if self.grade is None:
            return WEIGHED_EGGS.format(self.each_g)
        return f"{str(self.standard).upper()} {self.grade} eggs"


class EggBox(NamedTuple):
    """So many eggs out of one box."""

    number: int
    egg: Egg


class Additive(NamedTuple):
    """An additive with its doses and its density as numbers."""

    name: str
    form: Form
    carrier: str | None
    density_g_ml: float | None
    density_is_own: bool
    wetting: float
    hookbait: Dose | None
    freebie: Dose | None
    ceiling: Dose | None
    ceiling_text: str | None
    contains: tuple[str, ...] | None
    parts: Parts | None
    freebie_is_worked_out: bool = False
    """Whether the freebie dose is a share of the hookbait dose."""
    written: Mapping[Strength, ToolKind] = MappingProxyType({})
    """The kind of tool that the dose of each strength was written for."""
    assumptions: tuple[Assumption, ...] = ()

    def dose(self, strength: Strength) -> Dose | None:
        """Return the dose of a strength, None where it is left out or not stated."""
        return self.hookbait if strength == "hookbait" else self.freebie

    def of_egg(self, egg_g: float) -> Additive:
        """Return the additive where one egg weighs so much: its doses by the gram of egg are known then."""
        doses = (self.hookbait, self.freebie, self.ceiling)
        if not any(dose and dose.per_egg_g for dose in doses):
            return self
        hookbait, freebie, ceiling = (dose and dose.of_egg(egg_g) for dose in doses)
        return self._replace(hookbait=hookbait, freebie=freebie, ceiling=ceiling)

    def amount(self, strength: Strength, eggs: float, dry_g: float) -> Measure | None:
        """Return what a batch takes, by mass and volume."""
        dose = self.dose(strength)
        if dose is None:
            return None
        return scale_dose(dose, eggs, dry_g, self.density_g_ml)

    def rates(self, strength: Strength) -> Rates:
        """Return what the dose brings per egg and per gram of dry mix."""
        dose = self.dose(strength)
        if dose is None:
            return Rates()
        mass = dose_by_mass(dose, self.density_g_ml)
        per_egg_g, per_dry = mass.per_egg, mass.per_kg / 1000
        if self.form == "powder":
            return Rates(powder_per_egg_g=per_egg_g, powder_per_dry=per_dry)
        return Rates(wet_per_egg_g=per_egg_g * self.wetting, wet_per_dry=per_dry * self.wetting)

    def over_ceiling(self, amount: Measure, eggs: float, dry_g: float) -> bool:
        """Tell whether an amount is more than the ceiling allows."""
        if self.ceiling is None:
            return False
        most = scale_dose(self.ceiling, eggs, dry_g, self.density_g_ml)
        return amount.g > most.g * (1 + 1e-9)


class PredictedBlend(NamedTuple):
    """What a blend takes before its first bowl, and what that was learned from."""

    estimate: BlendEstimate
    shared: tuple[str, ...]
    """Its ingredients that a weighed mix holds too."""
    files: tuple[str, ...] = ()
    """The recipes read beside it."""
    broken: tuple[str, ...] = ()
    """Those with errors, which say nothing."""

    @property
    def source(self) -> str:
        """How many mixes say it, and what they share."""
        number = sum(1 for n in self.estimate.neighbours if n.shared)
        mixes = "1 mix that shares" if number == 1 else f"{number} mixes that share"
        names = [*self.shared[:MOST_SHARED]]
        if more := len(self.shared) - len(names):
            names.append(f"{more} more")
        listed = f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]
        return f"{mixes} {listed}"


class Trial(NamedTuple):
    """The trial that gave the absorbency: its eggs, strength and dry mix."""

    absorbency: float
    sd_share: float
    strength: Strength
    eggs: float
    egg_g: float
    dry_g: float
    amount_g: float | None
    rates: Rates
    own: bool
    """Whether the bag that was weighed is this strength's own mix."""
    additives: tuple[Additive, ...]
    assumptions: tuple[Assumption, ...] = ()
    predicted: PredictedBlend | None = None
    """What other mixes say of the blend, where it was not weighed itself."""
    liquid: bool = False
    """Whether its egg was taken by mass or volume."""

    @property
    def shelled_g(self) -> float:
        """What its eggs weighed without their shells [g]."""
        return self.eggs * self.egg_g

    @property
    def from_blend(self) -> bool:
        """Whether the absorbency is that of the prediction."""
        return self.predicted is not None and self.predicted.estimate.learned


def build_egg(recipe: Recipe) -> Egg:
    """Return the egg that a recipe states, or one EU large egg."""
    eggs, defaults = recipe.eggs, Defaults(recipe.assume)
    if eggs is not None and eggs.liquid_egg:
        return liquid_egg(*told_by_volume(eggs.liquid_egg.dimension == "volume"))
    if eggs is not None and eggs.liquid:
        return own_egg(amount_in(eggs.liquid, "g"))
    if eggs is not None and eggs.in_shell:
        shell = defaults.value("shell")
        egg = own_egg(amount_in(eggs.in_shell, "g") * (1 - shell.share))
        return egg._replace(assumptions=(shell.assumption, *egg.assumptions))
    if eggs is not None and eggs.grade is not None:
        return graded_egg(str(eggs.standard), eggs.grade, defaults)
    egg = graded_egg("eu", "large", defaults)
    which = Assumption("the trial's eggs", "EU large", "house default")
    return egg._replace(assumptions=(which, *egg.assumptions))


def own_egg(each_g: float, what: str = "one egg, shelled") -> Egg:
    """Return an egg that the user weighed."""
    return Egg(None, None, each_g, (Assumption(what, f"{each_g:.4g} g", "yours"),))


def liquid_egg(*assumptions: Assumption, each_g: float = LIQUID_EGG_G) -> Egg:
    """Return what counts as one egg where it is taken by mass or volume."""
    counts = Assumption("what counts as one egg", f"{each_g:.4g} g of liquid egg", "house default")
    return Egg(None, None, each_g, (counts, *assumptions), liquid=True)


def told_by_volume(by_volume: bool) -> tuple[Assumption, ...]:
    """Return what weighs liquid egg that was measured by volume."""
    return (EGG_BY_VOLUME,) if by_volume else ()


def mixed_eggs(boxes: tuple[EggBox, ...]) -> Egg:
    """Return the mean of eggs that are beaten together; those of one box stay what they are."""
    if len(boxes) == 1:
        return boxes[0].egg
    mean_g = sum(box.number * box.egg.each_g for box in boxes) / sum(box.number for box in boxes)
    told = joined(*(box.egg.assumptions for box in boxes))
    mean = Assumption("one of the mixed eggs, shelled", f"{mean_g:.4g} g, the mean", "yours")
    return Egg(None, None, mean_g, (*told, mean), boxes=boxes)


def trial_eggs(recipe: Recipe) -> float:
    """Return how many eggs a trial had; of liquid egg what counts as so many."""
    eggs = recipe.eggs
    if eggs is None or eggs.liquid_egg is None:
        return eggs.count if eggs else 1
    return egg_mass_g(eggs.liquid_egg, recipe.measures) / LIQUID_EGG_G


def graded_egg(standard: str, grade: str, defaults: Defaults = HOUSE_DEFAULTS) -> Egg:
    """Return an egg by grade, with the assumption about its weight."""
    shell = defaults.value("shell") if standard == "eu" else None
    each = shelled_egg_g(standard, grade, shell.share if shell else 0.0)
    label, text = f"one {standard.upper()} {grade} egg, shelled", f"{each:.4g} g"
    if shell is None:
        return Egg(grade, standard, each, (Assumption(label, text, "published", US_SOURCE),))
    label += " (middle of the class, less the shell)"
    weight = Assumption(label, text, "house default", f"classes: {EU_SOURCE}")
    return Egg(grade, standard, each, (shell.assumption, weight))


def build_additives(
    recipe: Recipe, full: list[FullAdditive], egg: Egg, bench: Bench
) -> list[Additive]:
    """Return a recipe's additives with an egg; freebie_strength fills missing freebie doses."""
    return [build_additive(a, recipe.freebie_strength, egg, bench) for a in full]


def build_additive(
    a: FullAdditive,
    freebie_strength: float | None,
    egg: Egg | None,
    bench: Bench,
) -> Additive:
    """Return one additive, dosed with an egg; what is of no bowl needs none."""
    density = amount_in(a.density, "g/ml") if a.density else DENSITY_G_ML.get(a.form)
    hookbait, of_hookbait = _dose(a.hookbait, bench)
    freebie, of_freebie = _dose(a.freebie, bench)
    ceiling, of_ceiling = _dose(a.ceiling, bench)
    composition = additive_parts(a)
    of_parts = composition.assumptions if composition else ()
    if a.freebie is None and hookbait and freebie_strength:
        freebie = hookbait.share(freebie_strength / 100)
    built = Additive(
        name=a.name,
        form=a.form,
        carrier=a.carrier,
        density_g_ml=density,
        density_is_own=a.density is not None,
        wetting=a.wetting,
        hookbait=hookbait,
        freebie=freebie,
        ceiling=ceiling,
        ceiling_text=str(a.ceiling) if a.ceiling and a.ceiling.amount else None,
        contains=a.contains,
        parts=composition.parts if composition else None,
        freebie_is_worked_out=a.freebie is None and freebie is not None,
        written=_written(a),
        assumptions=joined(of_hookbait, of_freebie, of_ceiling, of_parts),
    )
    return built.of_egg(egg.each_g) if egg else built


def _written(a: FullAdditive) -> dict[Strength, ToolKind]:
    """Return what each dose was measured with; without a dose of their own freebies follow hookbaits."""
    doses: dict[Strength, DoseText | None] = {
        "hookbait": a.hookbait,
        "freebie": a.hookbait if a.freebie is None else a.freebie,
    }
    return {strength: _kind(dose) for strength, dose in doses.items() if dose}


def _kind(dose: DoseText) -> ToolKind:
    if dose.amount is None or not dose.by_volume:
        return "scale"
    return WRITTEN_WITH.get(dose.amount.unit, "syringe")


def _dose(dose: DoseText | None, bench: Bench) -> tuple[Dose | None, tuple[Assumption, ...]]:
    """Return a dose, None where there is none, and the size of the spoon or drop it is counted in."""
    if dose is None or dose.amount is None:
        return None, ()
    unit, measures = dose.amount.unit, dose.measures
    assumptions: tuple[Assumption, ...] = ()
    if unit in KITCHEN_UNITS and (measure := kitchen_measure(unit, measures)):
        ml = amount_in(dose.amount, "ml", measures) / dose.amount.value
        origin: Origin = measure.origin if measures else "house default"
        what = f"1 {unit} ({measures or 'no country named'})"
        assumptions = (Assumption(what, f"{ml:.6g} ml", origin, measure.source),)
    if unit == "drop" and "drops_per_ml" in bench.own:
        assumptions = (Assumption("drops in 1 ml", f"{1 / bench.drop_ml:g}", "yours"),)
        dose = dose._replace(amount=Amount(dose.amount.value * bench.drop_ml, "ml"))
    elif unit == "drop":
        assumptions = (WATER_DROPS,)
    if dose.of_egg:
        assumptions += told_by_volume(dose.of_egg.dimension == "volume")
    return dose_of(dose), assumptions


def dose_assumptions(additives: Iterable[Additive], strength: Strength) -> Iterator[Assumption]:
    """Yield the wetting, and the density that nobody stated, of each additive that is dosed."""
    for a in additives:
        if a.dose(strength) is None:
            continue
        if a.form != "powder":
            yield EGG_WETTING if a.wetting == 1 else _own_wetting(a)
        if not a.density_is_own and a.density_g_ml is not None:
            what = f"density of {a.name} ({a.form})"
            yield Assumption(what, f"{a.density_g_ml:.2f} g/ml", "house default")


def _own_wetting(a: Additive) -> Assumption:
    return Assumption(f"1 g of {a.name} wets like", f"{a.wetting:g} g of egg", "yours")


def rates_of(additives: list[Additive], strength: Strength) -> Rates:
    """Return what all additives bring per egg and per gram of dry mix."""
    return sum_rates(a.rates(strength) for a in additives)


def build_trial(
    recipe: Recipe,
    additives: list[Additive],
    strength: Strength,
    egg: Egg,
    predicted: PredictedBlend | None = None,
) -> Trial:
    """Return the trial that gives a strength's mix its absorbency, or what was ``predicted`` of it."""
    weighed, own = weighed_mix(recipe, strength)
    at: Strength = weighed or "hookbait"
    if at == "hookbait" and not any(a.hookbait is not None for a in additives):
        at = "freebie" if any(a.freebie is not None for a in additives) else at
    eggs = trial_eggs(recipe)
    additives = [a.of_egg(egg.each_g) for a in additives]
    rates = rates_of(additives, at)
    mix = recipe.mix(weighed) if weighed else None
    amount = amount_in(mix.amount, "g") if mix and mix.amount else None
    dry = None if amount is None else trial_dry_g(amount, eggs, rates)
    seen = None if dry is None else absorbency(dry, eggs, egg.each_g, rates)
    doubt = (
        _weighed_once(egg, round(eggs)) if own else Defaults(recipe.assume).value("absorbency_sd")
    )
    a, doubt, absorbs = _level(seen, doubt, predicted)
    if dry is None:
        dry = dry_mix_g(a, eggs, egg.each_g, rates)
    rests_on = (doubt.assumption, absorbs)
    return Trial(
        a,
        doubt.share,
        at,
        eggs,
        egg.each_g,
        dry,
        amount,
        rates,
        own,
        tuple(additives),
        rests_on,
        predicted,
        egg.liquid,
    )


def _level(
    seen: float | None, doubt: Assumed, predicted: PredictedBlend | None
) -> tuple[float, Assumed, Assumption]:
    """Return an absorbency and its doubt: of the blend if mixes tell, of a bag, or the usual one."""
    if predicted and predicted.estimate.learned:
        a = predicted.estimate.absorbency
        text = f"{a:.4g} g/g, predicted from {predicted.source}"
        return a, _of_the_blend(predicted), Assumption(ABSORBENCY, text, "yours")
    if seen is not None:
        absorbs = Assumption(ABSORBENCY, f"{seen:.4g} g/g, from the trial's bag", "yours")
        return seen, doubt, absorbs
    doubt = _of_the_blend(predicted) if predicted else doubt
    return DEFAULT_ABSORBENCY, doubt, USUAL_ABSORBENCY


def _of_the_blend(predicted: PredictedBlend) -> Assumed:
    """Return the doubt [%] about a blend that was never weighed."""
    sd = 100 * predicted.estimate.taken.sd
    what = "uncertainty of powder uptake, blend never weighed, 1 sd"
    return Assumed(sd, Assumption(what, f"{sd:.3g} %", "house default"))


def _weighed_once(egg: Egg, eggs: int) -> Assumed:
    """Return the doubt [%] about the absorbency of a mix that one trial weighed."""
    sd = 100 * trial_sd(eggs if egg.grade is not None else None)
    text = f"{100 * TRIAL_SD:g} %"
    if egg.grade is not None:
        text = f"{sd:.3g} %: {text} of the bowl, {100 * GRADED_EGG_SD:g} % of one egg of its class"
    what = "uncertainty of powder uptake, mix weighed once, 1 sd"
    return Assumed(sd, Assumption(what, text, "house default"))


def weighed_mix(recipe: Recipe, strength: Strength) -> tuple[Strength | None, bool]:
    """Return which mix's bag weight counts for a strength, and whether it is that mix's own.

    One mix for both strengths was weighed with the hookbait doses.
    """
    mix = recipe.mix(strength)
    if recipe.one_mix:
        return ("hookbait", True) if mix and mix.amount else (None, False)
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
