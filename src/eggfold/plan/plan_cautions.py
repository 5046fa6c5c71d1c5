"""What both plans warn of and rest on, gathered from their bowls."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from eggfold.recipe.asked import Assumption
from eggfold.recipe.cautions import IN_BULK, Caution, bulk_caution
from eggfold.reference.slips import SLIPS

if TYPE_CHECKING:
    from eggfold.plan.plan_bowls import PlanBowl

OF_A_RECIPE = ("allergens", *SLIPS)
"""Cautions that a plan tells with the recipe's name."""
FREEZING = Caution(
    "freezing",
    "Bag, label and freeze as soon as it is dry. Thaw once, in the cool; never freeze it again.",
)


def bulk_cautions(wants: Iterable[tuple[str, str, int]]) -> Iterator[Caution]:
    """Yield a warning for each want (recipe, strength, eggs) of hookbait in bulk."""
    for recipe, strength, eggs in wants:
        yield from bulk_caution(strength, eggs, f" of {recipe}; freebies have their own.")


def plan_cautions(bowls: Sequence[PlanBowl]) -> tuple[Caution, ...]:
    """Return the cautions of all bowls, each once, and that of the freezer."""
    found: dict[str, Caution] = {}
    for bowl in bowls:
        for caution in bowl.batch.cautions:
            text = caution.text
            if caution.code in OF_A_RECIPE:
                text = f"{bowl.batch.recipe}, {bowl.batch.strength}. {text}"
            if caution.code != IN_BULK:
                found.setdefault(text, Caution(caution.code, text))
    return (*found.values(), FREEZING)


def plan_assumptions(
    own: tuple[Assumption, ...], bowls: Sequence[PlanBowl]
) -> tuple[Assumption, ...]:
    """Return what a plan assumes of its ``own``, and then what its recipes do, each thing once.

    Where two differ, or what is the user's own holds for some alone, with the recipes' names.
    """
    by_what: dict[str, dict[Assumption, dict[str, None]]] = {}
    recipes: set[str] = set()
    for bowl in bowls:
        name = f"{bowl.batch.recipe}, {bowl.batch.strength}"
        recipes.add(name)
        for a in bowl.batch.assumptions:
            by_what.setdefault(a.what, {}).setdefault(a, {})[name] = None
    listed = list(own)
    told = {a.what for a in own}
    for what, values in by_what.items():
        if what in told:
            continue
        for a, names in values.items():
            of_some = len(values) > 1 or (a.origin == "yours" and len(names) < len(recipes))
            listed.append(a._replace(what=f"{what} ({'; '.join(names)})") if of_some else a)
    return tuple(listed)
