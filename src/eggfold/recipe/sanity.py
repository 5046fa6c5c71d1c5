"""A trial or doses so far from what is usual that a slip of the pen is likelier."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from eggfold.amounts import mass_in_words
from eggfold.engine.powder import dry_mix_g
from eggfold.errors import NoAnswerError
from eggfold.load.recipe import STRENGTHS
from eggfold.plural import counted
from eggfold.recipe.bench import build_bench
from eggfold.recipe.trial import (
    DEFAULT_ABSORBENCY,
    LARGE_EGG_WET_G,
    Additive,
    Trial,
    build_additives,
    build_egg,
    build_trial,
    rates_of,
)
from eggfold.reference.defaults import ODD_DRY_G, USUAL_DRY_G

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from eggfold.errors import Problem
    from eggfold.load.load_recipe import OpenRecipe
    from eggfold.load.recipe import Strength

MOST_JUDGED = 200
"""Additives of a recipe up to which ``check`` weighs its doses against the egg; house limit."""


class Odd(NamedTuple):
    """What is odd: a code for scripts, a sentence, and what to try."""

    code: str
    text: str
    hint: str


def odd_trial(trial: Trial) -> Odd | None:
    """Return what is odd about the bag weight of a trial, None where nothing is, or where its doses are."""
    dry_g = trial.absorbency * LARGE_EGG_WET_G
    low, high = ODD_DRY_G
    if trial.amount_g is None or low <= dry_g <= high:
        return None
    if odd_doses(trial, trial.additives, trial.strength):
        return None
    usual = f"{USUAL_DRY_G[0]:g} to {USUAL_DRY_G[1]:g} g"
    text = (
        f"The trial took {mass_in_words(trial.amount_g)} of base mix for {counted(trial.eggs, 'egg')}: "
        f"{mass_in_words(dry_g)} of dry mix for each large egg, where {usual} are usual"
    )
    return Odd("odd-trial", text, "see where the point and the unit stand, and the number of eggs")


def odd_doses(trial: Trial, additives: Sequence[Additive], strength: Strength) -> Odd | None:
    """Return what is odd about the doses of a strength, None where they weigh less than the egg.

    Doses per kg are those of the usual dry mix, whatever the bag of the trial.
    """
    try:
        rates = rates_of(list(additives), strength)
        dry_g = dry_mix_g(DEFAULT_ABSORBENCY, 1, trial.egg_g, rates)
    except NoAnswerError:
        return None
    amounts = {a.name: m.g for a in additives if (m := a.amount(strength, 1, dry_g))}
    total_g = sum(amounts.values())
    if total_g <= trial.egg_g:
        return None
    most = max(amounts, key=amounts.__getitem__)
    text = (
        f"The {strength} doses for one egg weigh {mass_in_words(total_g)}, more than the egg, "
        f"{mass_in_words(trial.egg_g)}; most of it is {most}"
    )
    return Odd("odd-doses", text, "see where the point and the unit of each dose stand")


def odd_problems(opened: OpenRecipe) -> Iterator[Problem]:
    """Yield a warning for each thing that is odd about a recipe, at its place."""
    strengths = [s for s in STRENGTHS if not opened.answerable(s)]
    if not strengths or len(opened.additives) > MOST_JUDGED:
        return
    bench = build_bench(opened.companions.bench)
    additives = build_additives(opened.recipe, opened.additives, bench)
    egg = build_egg(opened.recipe)
    trials: dict[tuple[str, ...], Odd] = {}
    for strength in strengths:
        try:
            trial = build_trial(opened.recipe, additives, strength, egg)
        except NoAnswerError:
            continue
        if trial.own and (odd := odd_trial(trial)):
            mix = () if opened.recipe.one_mix else (strength,)
            trials["base_mix", *mix, "amount"] = odd
        if odd := odd_doses(trial, additives, strength):
            yield _warning(opened, ("additives",), odd, key=True)
    for path, odd in trials.items():
        yield _warning(opened, path, odd)


def _warning(opened: OpenRecipe, path: tuple[str, ...], odd: Odd, *, key: bool = False) -> Problem:
    return opened.placed.problem(path, odd.code, odd.text, odd.hint, key=key, severity="warning")
