"""Figures of a recipe that are likelier a slip of the pen than meant, judged by how they go together."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from eggfold.amounts import counted, mass_in_words
from eggfold.recipe.cautions import Caution
from eggfold.recipe.trial import DEFAULT_ABSORBENCY, LARGE_EGG_WET_G, Additive, Trial
from eggfold.records import NamedTuple
from eggfold.reference.defaults import DEFAULT_LIQUIDS_G, USUAL_DRY_G
from eggfold.reference.slips import FLAVOUR_CARRIERS, LONG_BOIL_S, SLIPS, STRONG_EGG_G, STRONG_ML
from eggfold.units import amount_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from eggfold.load.reading import NodePath
    from eggfold.load.recipe import Recipe, Strength
    from eggfold.recipe.boil_times import Boil

SAME_TIME_S = 0.001
MOST_JUDGED = 200
"""Additives of a recipe up to which its doses are judged; house limit."""
_SALT = re.compile(r"\bsalt\b", re.IGNORECASE)
_CLOSE = 1 + 1e-9
_EXPLAIN_THE_BAG = ("strong-dose", "wet-mix", "powder-heavy")
"""Doses from which the powder for a gram of wet comes out wrong, whatever the bag."""


class Doubt(NamedTuple):
    """A doubtful figure: its code, where it stands in the recipe, a sentence, and what to look at."""

    code: str
    path: NodePath
    text: str
    hint: str

    @property
    def caution(self) -> Caution:
        """It as a card says it, in one sentence."""
        return Caution(self.code, f"{self.text}: {self.hint}.".replace("?.", "?"))


def recipe_doubts(recipe: Recipe, trial: Trial, strengths: Iterable[Strength]) -> list[Doubt]:
    """Return what is doubtful about a trial and the doses of some strengths, without what is ``ok``."""
    found: list[Doubt] = []
    if len(trial.additives) <= MOST_JUDGED:
        dry_g = _usual_dry_g(trial)
        for strength in dict.fromkeys(strengths):
            found += _dose_doubts(recipe, trial, strength, dry_g)
        found += _slips_between(recipe, trial.additives, dry_g)
    found = [doubt for doubt in found if doubt.code not in recipe.ok]
    explained = any(doubt.code in _EXPLAIN_THE_BAG for doubt in found)
    if (
        not explained
        and "trial-powder" not in recipe.ok
        and (doubt := _powder_doubt(recipe, trial))
    ):
        found.insert(0, doubt)
    return found


def boil_doubts(recipe: Recipe, strength: Strength, boils: Sequence[Boil | None]) -> list[Doubt]:
    """Return what is doubtful about own times in the pan, without what is ``ok``."""
    found = [
        doubt
        for boil in boils
        if boil is not None and boil.own and boil.seconds
        for doubt in _boil_doubt(boil, _path_of_time(recipe, strength, boil.seconds))
    ]
    return [doubt for doubt in found if doubt.code not in recipe.ok]


def _usual_dry_g(trial: Trial) -> float:
    """Return the dry mix [g] of one egg with the usual liquids, by the trial unless that is doubtful."""
    slip = SLIPS["trial-powder"]
    sound = trial.amount_g is None or slip.low <= trial.absorbency <= slip.high
    taken = trial.absorbency if sound else DEFAULT_ABSORBENCY
    large_g = LARGE_EGG_WET_G - DEFAULT_LIQUIDS_G
    return taken * trial.egg_g * LARGE_EGG_WET_G / large_g


def _powder_doubt(recipe: Recipe, trial: Trial) -> Doubt | None:
    slip = SLIPS["trial-powder"]
    if trial.amount_g is None or slip.low <= trial.absorbency <= slip.high:
        return None
    dry_g = trial.absorbency * LARGE_EGG_WET_G
    low, high = USUAL_DRY_G
    egg = counted(round(trial.eggs), "egg")
    if trial.liquid:
        egg = f"{mass_in_words(trial.shelled_g)} of egg"
    text = (
        f"The trial took {mass_in_words(trial.amount_g)} of base mix for {egg}: "
        f"{mass_in_words(dry_g)} of dry mix for each large egg, where {low:g} to {high:g} g is usual"
    )
    hint = "check the decimal point, the unit and the number of eggs"
    if trial.eggs > 1 and low <= dry_g * trial.eggs <= high:
        hint = f"that is what one egg takes: was it weighed for all {trial.eggs:.3g}?"
    elif trial.eggs == 1 and dry_g > high:
        hint = f"that is what {dry_g / ((low + high) / 2):.0f} eggs take: check eggs, the decimal point and the unit"
    path: NodePath = ("base_mix", "amount")
    if not recipe.one_mix:
        mixes = [s for s in (trial.strength, "hookbait", "freebie") if _has_amount(recipe, s)]
        path = ("base_mix", *mixes[:1], "amount")
    return Doubt("trial-powder", path, text, hint)


def _has_amount(recipe: Recipe, strength: Strength) -> bool:
    mix = recipe.mix(strength)
    return bool(mix and mix.amount)


def _dose_doubts(recipe: Recipe, trial: Trial, strength: Strength, dry_g: float) -> Iterator[Doubt]:
    at = {entry.name: i for i, entry in enumerate(recipe.additives)}
    for a in trial.additives:
        path: NodePath = ("additives", at.get(a.name, 0), strength)
        if strong := _strong_dose(a, strength, trial.egg_g):
            yield Doubt("strong-dose", path, *strong)
        g = _amount_g(a, strength, dry_g)
        most = SLIPS["salty"].high
        if a.form == "powder" and _SALT.search(a.name) and g / dry_g * 1000 > most * _CLOSE:
            text = (
                f"{a.name}: the {strength} dose is {g / dry_g * 1000:.3g} g for a kilo of dry mix, "
                f"where 5 to 30 g is usual and over {most:g} g is rarely meant"
            )
            yield Doubt(
                "salty", path, text, "check the decimal point, the unit, and whether it is per egg"
            )
    yield from _sum_doubts(trial, strength, dry_g)


def _strong_dose(a: Additive, strength: Strength, egg_g: float) -> tuple[str, str] | None:
    """Return the sentence and hint of a liquid that is dosed far above what bottles ask for."""
    dose = a.dose(strength)
    if dose is None or a.form == "powder" or not a.density_g_ml:
        return None
    flavour = a.form == "liquid" and a.carrier in FLAVOUR_CARRIERS
    kind = "flavour" if flavour else a.form
    per_ml = 1 if dose.by_volume else 1 / a.density_g_ml
    per_egg, per_kg = dose.per_egg * per_ml * STRONG_EGG_G / egg_g, dose.per_kg * per_ml
    for ml, most, of in zip(
        (per_egg, per_kg), STRONG_ML[kind], ("60 g of egg", "a kilo of dry mix"), strict=True
    ):
        if ml > most * _CLOSE:
            word = "an oil" if kind == "oil" else f"a {kind}"
            text = f"{a.name}: the {strength} dose is {ml:.3g} ml for {of}, more than {most:g} ml of {word}"
            return (
                text,
                "check the bottle's dose, the decimal point and the unit; per kg means per kg of dry mix",
            )
    return None


def _sum_doubts(trial: Trial, strength: Strength, dry_g: float) -> Iterator[Doubt]:
    wet = {a.name: _amount_g(a, strength, dry_g) for a in trial.additives if a.form != "powder"}
    dry = {a.name: _amount_g(a, strength, dry_g) for a in trial.additives if a.form == "powder"}
    if sum(wet.values()) > trial.egg_g * SLIPS["wet-mix"].high * _CLOSE:
        text = (
            f"The {strength} liquids for one egg weigh {mass_in_words(sum(wet.values()))}, more than "
            f"the egg, {mass_in_words(trial.egg_g)}; most of it is {max(wet, key=wet.__getitem__)}"
        )
        hint = "check the decimal point and the unit of each dose"
        yield Doubt("wet-mix", ("additives",), text, hint)
    if sum(dry.values()) > dry_g * SLIPS["powder-heavy"].high * _CLOSE:
        text = (
            f"The {strength} powders for one egg weigh {mass_in_words(sum(dry.values()))}, over half of "
            f"the {mass_in_words(dry_g)} of dry mix it takes; most of it is {max(dry, key=dry.__getitem__)}"
        )
        hint = "check the decimal point and the unit; the mix itself belongs in base_mix"
        yield Doubt("powder-heavy", ("additives",), text, hint)


def _amount_g(a: Additive, strength: Strength, dry_g: float) -> float:
    amount = a.amount(strength, 1, dry_g)
    return amount.g if amount else 0.0


def _slips_between(recipe: Recipe, additives: Sequence[Additive], dry_g: float) -> Iterator[Doubt]:
    """Yield the additives whose two doses are too far apart to be for the same bottle."""
    slip, at = SLIPS["per-kilo-slip"], {entry.name: i for i, entry in enumerate(recipe.additives)}
    for a in additives:
        hookbait, freebie = (_amount_g(a, s, dry_g) for s in ("hookbait", "freebie"))
        if not (hookbait and freebie) or a.freebie_is_worked_out:
            continue
        times = hookbait / freebie
        if slip.low / _CLOSE <= times <= slip.high * _CLOSE:
            continue
        ratio = f"{times:.2g} times" if times > 1 else f"{times * 100:.2g} % of"
        text = (
            f"{a.name}: the hookbait dose is {hookbait / dry_g * 1000:.3g} g for a kilo of dry mix, "
            f"{ratio} the freebie dose of {freebie / dry_g * 1000:.3g} g"
        )
        wrong, right = ("per egg", "per kg mix") if times > 1 else ("per kg mix", "per egg")
        hint = f"was a hookbait dose {right} written {wrong}, or is a decimal point in the wrong place?"
        yield Doubt("per-kilo-slip", ("additives", at.get(a.name, 0), "hookbait"), text, hint)


def _path_of_time(recipe: Recipe, strength: Strength, seconds: float) -> NodePath:
    """Return where an own time stands: with its bait, else for all baits of the strength."""
    for i, bait in enumerate(recipe.baits_of(strength)):
        if bait.boil is not None and abs(amount_in(bait.boil, "s") - seconds) < SAME_TIME_S:
            return ("baits", strength, i, "boil")
    return ("boil", strength)


def _boil_doubt(boil: Boil, path: NodePath) -> Iterator[Doubt]:
    size, seconds = f"{boil.diameter_mm:g} mm", boil.seconds or 0.0
    asks = f"; heat alone needs {boil.worked_s:.0f} s" if boil.worked_s else ""
    short, long = SLIPS["short-boil"], SLIPS["long-boil"]
    if boil.peak_c is not None and boil.peak_c < short.low:
        text = (
            f"{size} after {seconds:g} s in the pan: the centre reaches {boil.peak_c:.0f} °C at its "
            f"hottest, and egg does not set under {short.low:g} °C{asks}"
        )
        yield Doubt(
            "short-boil", path, text, "a longer time, or leave it out: then it is worked out"
        )
    elif boil.worked_s and seconds > LONG_BOIL_S and seconds > long.high * boil.worked_s:
        text = f"{size} boiled for {seconds:g} s, over {long.high:g} times what heat asks{asks}"
        yield Doubt("long-boil", path, text, "check whether you meant s or min")
